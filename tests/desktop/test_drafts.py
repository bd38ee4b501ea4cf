"""Nothing typed is lost by moving away."""

from benchapp.desktop.drafts import Drafts


def test_a_draft_is_kept_for_its_unit_and_its_step():
    drafts = Drafts()
    drafts.keep("TB-001", "continuity.one", {"typed": "4k7"})
    assert drafts.take("TB-001", "continuity.one") == {"typed": "4k7"}
    assert drafts.take("TB-002", "continuity.one") == {}


def test_an_emptied_field_leaves_no_draft():
    drafts = Drafts()
    drafts.keep("TB-001", "a.b", {"typed": "4"})
    drafts.keep("TB-001", "a.b", {"typed": ""})
    assert drafts.take("TB-001", "a.b") == {}


def test_a_recorded_answer_clears_its_draft():
    drafts = Drafts()
    drafts.keep("TB-001", "a.b", {"typed": "4"})
    drafts.clear("TB-001", "a.b")
    assert drafts.take("TB-001", "a.b") == {}


def test_drafts_outlive_the_window():
    drafts, later = Drafts(), Drafts()
    drafts.keep("TB-001", "a.b", {"marks": {"cord": "good"}, "opened": ("plug",)})
    later.add_text(drafts.to_text())
    assert later.take("TB-001", "a.b") == {"marks": {"cord": "good"}, "opened": ["plug"]}


def test_a_text_that_is_no_draft_is_passed_over():
    drafts = Drafts()
    for text in ("", "nonsense", "[[1]]", "{}", '[["TB-001", "a.b", 3]]'):
        drafts.add_text(text)
    assert drafts.to_text() == ""
