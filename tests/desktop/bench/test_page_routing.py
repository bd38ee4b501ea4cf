"""Each kind of step is shown on a page that is found by its name."""

from benchapp.desktop.bench.page_book import page_classes
from benchapp.desktop.bench.page_routing import DUE_PAGES, SHARED_PAGES
from benchapp.sequences.language.step_kind import known_kinds
from benchapp.sequences.planning.state import DueKind

NAMES = [page.name for page in page_classes()]


def test_every_kind_of_step_has_a_page():
    assert {SHARED_PAGES.get(name, name) for name in known_kinds()} <= set(NAMES)


def test_all_else_that_can_be_due_has_a_page():
    assert set(DUE_PAGES) == {str(due) for due in DueKind} - {"step", "way-back"}
    assert set(DUE_PAGES.values()) <= set(NAMES)


def test_no_two_pages_have_one_name():
    assert len(NAMES) == len(set(NAMES)) > 0
