"""A unit that may be live stays in sight: leaving it asks, one key makes it safe, and silence is reminded of."""

import pytest
from PySide6.QtWidgets import QApplication, QLabel

from benchapp.actions.workbench.bench import Bench
from tests.desktop.walks import unit_of, work_until
from tests.desktop.windows import window_on
from tests.sequences.bench import BACK

WAYS = {
    "to the lots": lambda t: t.strike("F2"),
    "to the sale table": lambda t: t.strike("F11"),
    "to the backups": lambda t: t.strike("Ctrl+S"),
    "another unit is taken": lambda t: t.window.take_unit("TB-002"),
    "a stage is taken": lambda t: t.window.take_stage("Shelf nine", "visual-inspection", "Visual inspection"),
    "the window is closed": lambda t: t.window.close(),
}


def dialog():
    found = QApplication.activeModalWidget()
    assert found is not None
    assert found.objectName() == "leaving-dialog"
    return found


def shown(technician):
    return technician.window.stack.currentWidget().objectName()


@pytest.mark.parametrize("way", WAYS)
def test_every_way_from_a_live_unit_asks_and_enter_stays(at_live, way):
    WAYS[way](at_live)
    at_live.settle()
    assert "TB-001 may be live" in dialog().windowTitle()
    at_live.strike("Enter")
    assert shown(at_live) == "bench"
    assert at_live.window.isVisible()
    assert at_live.view.mark == "TB-001"
    assert at_live.page.name == "reading"


def test_a_scan_never_leaves_a_live_unit_and_says_the_way(at_live):
    before = len(at_live.window.context.bench.entries("TB-001"))
    at_live.scan("TB-002 1A2B3C4D")
    assert QApplication.activeModalWidget() is None
    assert (at_live.view.mark, at_live.page.name) == ("TB-001", "reading")
    assert "TB-001 may be live: a scan never leaves it. Esc goes the way back" in at_live.complaint
    assert at_live.page.field.text() == ""
    assert len(at_live.window.context.bench.entries("TB-001")) == before


def leave(technician, why="The fire alarm went", with_it="Gwen Hale"):
    asked = dialog()
    asked.why.setText(why)
    asked.with_it.setText(with_it)
    technician.strike("Alt+L")


def test_it_may_be_left_all_the_same_by_a_key_of_its_own(at_live):
    at_live.strike("F2")
    leave(at_live)
    assert shown(at_live) == "lots"
    at_live.window.take_unit("TB-002")
    leave(at_live)
    assert at_live.view.mark == "TB-002"


@pytest.mark.parametrize(
    ("why", "with_it", "words"),
    [
        ("", "Gwen Hale", "Say why it is left"),
        ("The fire alarm went", " ", "who stays beside it"),
        ("The fire alarm went", "ab", "Somebody else is meant"),
    ],
)
def test_nobody_leaves_it_without_a_reason_and_somebody_else_beside_it(at_live, why, with_it, words):
    at_live.strike("F2")
    leave(at_live, why, with_it)
    at_live.settle()
    assert words in dialog().complaint.text()
    assert shown(at_live) == "bench"
    dialog().reject()


def test_what_hangs_on_it_is_said_where_it_is_left(at_live):
    at_live.strike("F2")
    words = dialog().findChild(QLabel, "leaving-words").text()
    assert "may be killed" in words
    assert "LIVE on the board until the way back is gone" in words
    dialog().reject()


def test_a_unit_that_was_left_stands_as_live_on_the_board_whatever_its_page_was(technician):
    """On a page that puts mains on it nobody has recorded anything live yet; leaving it records it."""
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.view.may_be_live and not technician.view.state.energised)
    technician.strike("F2")
    leave(technician)
    bench = technician.window.context.bench
    assert bench.unit("TB-001").live == "mains"
    entry = bench.history("TB-001").entries[-1]
    assert (entry.content.event, entry.content.note, entry.content.with_it) == (
        "left, may be live",
        "The fire alarm went",
        "Gwen Hale",
    )


def test_esc_on_a_live_page_goes_the_way_back_to_its_end(at_live):
    assert at_live.window.bench.stop.isVisible()
    at_live.strike("Ctrl+Z")
    assert at_live.reads("take-back-what") == "take back: the work “Plug in” of TB-001"
    at_live.strike("Esc", "Esc")
    assert at_live.reads("why-here") == "You stop here: plug out, discharged, proved low. Then it can be left."
    seen, drawn = [], []
    while at_live.view.state.energised:
        seen.append(at_live.address)
        if at_live.page.name == "work":
            drawn.append(getattr(at_live.page.picture.picture(), "name", ""))
            at_live.confirm_rows()
        elif at_live.page.name == "meter":
            at_live.strike("1")
        else:
            at_live.type("0.0")
            at_live.strike("Enter")
    assert drawn == ["", "proving"]
    assert list(dict.fromkeys(seen)) == list(BACK)  # the set-up of a reading stands at its address too
    at_live.strike("F2")
    leave(at_live) if QApplication.activeModalWidget() else None
    assert shown(at_live) == "lots"


def test_the_button_does_what_the_key_does(at_live):
    at_live.window.bench.stop.click()
    at_live.settle()
    assert at_live.address == "make-safe.unplug"
    assert not at_live.window.bench.stop.isVisible()


def test_make_it_safe_is_offered_where_leaving_is_asked(at_live):
    at_live.strike("F2")
    dialog()
    at_live.strike("Alt+M")
    assert at_live.address == "make-safe.unplug"


def test_a_live_page_on_which_nothing_happens_reminds(at_live, qtbot):
    reminder = at_live.window.bench.watch._reminder
    assert reminder.isActive()
    reminder.setInterval(20)
    qtbot.waitUntil(lambda: "Is somebody with TB-001?" in at_live.complaint, timeout=3000)
    reminder.stop()


def test_a_dead_unit_is_left_without_a_question(technician):
    technician.take_unit("TB-001")
    technician.strike("F2")
    assert shown(technician) == "lots"
    assert not technician.window.bench.watch._reminder.isActive()


def test_the_dialog_is_no_wider_than_the_screen_where_text_is_large(at_live):
    at_live.window.look.set_percent(200)
    at_live.strike("F2")
    asked = dialog()
    assert asked.width() <= asked.screen().availableSize().width()
    assert asked.height() <= asked.screen().availableSize().height()
    at_live.strike("Enter")


def test_the_bench_without_a_unit_names_the_one_that_was_left_live(at_live, look, clock):
    """A window that was opened anew has no unit at hand, and that one still hangs on mains."""
    with window_on(look, Bench.open(at_live.window.context.bench.path, clock=clock)) as anew:
        anew.strike("F4")
        assert anew.reads("bench-empty").startswith("No unit is at hand.")
        assert anew.reads("bench-left-live") == (
            "LIVE: TB-001 may be under power. Go to it first (F2), and make it safe."
        )
        anew.take_unit("TB-001")
        assert not anew.window.bench.left_live.isVisible()
