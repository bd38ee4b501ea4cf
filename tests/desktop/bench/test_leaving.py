"""A unit that may be live stays in sight: leaving it asks, one key makes it safe, and silence is reminded of."""

import pytest
from PySide6.QtWidgets import QApplication

from tests.desktop.bench.test_screen import unit_of, work_until

WAYS = {
    "to the lots": lambda t: t.strike("F2"),
    "to the sale table": lambda t: t.strike("F11"),
    "to the backups": lambda t: t.strike("Ctrl+S"),
    "another unit is scanned": lambda t: t.window.bench.page.scanned.emit("TB-002"),
    "another unit is taken": lambda t: t.window.take_unit("TB-002"),
    "a stage is taken": lambda t: t.window.take_stage("Shelf nine", "visual-inspection", "Visual inspection"),
    "the window is closed": lambda t: t.window.close(),
}


@pytest.fixture
def at_live(technician):
    """TB-001 at its first live reading."""
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.view.supply == "limited" and technician.page.name == "reading")
    return technician


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


def test_it_may_be_left_all_the_same_by_a_key_of_its_own(at_live):
    at_live.strike("F2")
    dialog()
    at_live.strike("Alt+L")
    assert shown(at_live) == "lots"
    at_live.window.take_unit("TB-002")
    dialog()
    at_live.strike("Alt+L")
    assert at_live.view.mark == "TB-002"


def test_esc_on_a_live_page_goes_the_way_back_to_its_end(at_live):
    assert at_live.window.bench.stop.isVisible()
    at_live.strike("Esc")
    assert "Then it can be left" in at_live.complaint
    seen = []
    while at_live.view.state.energised:
        seen.append(at_live.address)
        if at_live.page.name == "work":
            at_live.confirm_rows()
        elif at_live.page.name == "meter":
            at_live.strike("1")
        else:
            at_live.type("0.0")
            at_live.strike("Enter")
    assert list(dict.fromkeys(seen)) == [  # the set-up of a reading stands at its address too
        "make-safe.unplug",
        "make-safe.discharge",
        "make-safe.low-to-touched/case",
        "make-safe.low-to-touched/outlet.1",
        "make-safe.low-outputs",
        "make-safe.low",
        "make-safe.prove-again",
    ]
    at_live.strike("F2")
    at_live.strike("Alt+L") if QApplication.activeModalWidget() else None
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
