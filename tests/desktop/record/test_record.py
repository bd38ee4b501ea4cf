"""The window says at its opening and on its pages when a record does not hold, and checks all of it on the side."""

import shutil

import pytest
from PySide6.QtCore import QLocale, Qt
from PySide6.QtTest import QTest

from benchapp.actions.entries.days import close_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.record import keeper
from benchapp.workbook.model.values import Difference
from tests.desktop.windows import prove_meters, window_on
from tests.forging import without_guards


@pytest.fixture(autouse=True)
def unhurried(monkeypatch):
    """Nothing is looked at but when a test asks for it."""
    monkeypatch.setattr(keeper, "HEADS_AFTER", 600_000)
    monkeypatch.setattr(keeper, "WHOLE_AFTER", 600_000)


@pytest.fixture(autouse=True)
def british():
    """Dates are shown as the system's locale has them."""
    before = QLocale()
    QLocale.setDefault(QLocale("en_GB"))
    yield
    QLocale.setDefault(before)


@pytest.fixture
def record(technician):
    return technician.window.context.record


def spoil(path, sql="UPDATE entries SET sealed = replace(sealed, 'foot', 'hand') WHERE kind = 'note'"):
    without_guards(path, lambda connection: connection.execute(sql))


def test_a_sound_record_worries_nobody_and_the_whole_check_says_when(technician, record):
    record.look()
    technician.settle()
    assert record.worry == ""
    assert not technician.window.lots.record.isVisible()
    technician.strike("Ctrl+Shift+H")
    dialog = technician.window.show_record()
    assert "has not been checked to the end" in dialog.state.text()
    QTest.mouseClick(dialog.check, Qt.MouseButton.LeftButton)
    assert dialog.stop.isEnabled()
    technician.settle()
    assert dialog.state.text().startswith("The record holds, as it was at 04/05/2026 ")
    assert dialog.list.count() == 0
    dialog.reject()


def test_a_chain_cut_at_its_end_is_told_at_the_opening_on_the_board(technician, record, bench, path):
    record_note(bench, "TB-001", "a foot is missing", by="AB")
    spoil(path, "DELETE FROM entries WHERE kind = 'note'")
    record.look()
    technician.settle()
    line = technician.window.lots.record
    assert line.isVisible()
    assert line.words.text() == (
        "The record does not hold: The record of TB-001 does not end as it is said to end. Do not use what it says."
    )


def test_differences_are_listed_and_the_units_own_page_says_it_too(technician, record, bench, path):
    record_note(bench, "TB-001", "a foot is missing", by="AB")
    spoil(path)
    record.check()
    technician.settle()
    dialog = technician.window.show_record()
    assert dialog.list.item(0).text() == "Entry 1 of TB-001 is not as it was recorded: its hash does not fit."
    dialog.reject()
    technician.take_unit("TB-001")
    words = "The record does not hold, do not use: Entry 1 of TB-001 is not as it was recorded: its hash does not fit."
    assert (technician.page.record_fault.text(), technician.page.record_fault.isVisible()) == (words, True)
    technician.take_unit("TB-002")
    assert not technician.page.record_fault.isVisible()


def test_a_check_can_be_stopped_and_keeps_what_was_known(technician, record):
    record.check()
    record.cancel()
    technician.settle()
    assert not record.busy
    assert record.checked in ("", "04/05/2026 09:00")


def test_a_file_set_back_is_told_and_accepted_by_a_button(qapp, look, path, clock, tmp_path, bench):
    bench.close()
    older = shutil.copy(path, tmp_path / "older.workbook")
    with Bench.open(path, clock=clock) as newer:
        prove_meters(newer)
        close_bench(newer, by="AB")
    with window_on(look, Bench.open(older, clock=clock)) as technician:
        record = technician.window.context.record
        record.look()
        technician.settle()
        assert "older.workbook lacks what this computer has seen in it" in technician.window.lots.record.words.text()
        dialog = technician.window.show_record()
        QTest.mouseClick(dialog.accept_older, Qt.MouseButton.LeftButton)
        technician.settle()
        assert record.worry == ""
        assert not technician.window.lots.record.isVisible()
        dialog.reject()


def test_a_long_worry_leaves_the_board_its_room_where_text_is_large(technician, record):
    window = technician.window
    window.resize(1024, 700)
    window.look.set_percent(200)
    record.differences = (
        Difference(unit="TB-001", entry=None, words="What it says of TB-001 is not what was recorded. " * 20),
    )
    record.changed.emit()
    technician.settle()
    words = window.lots.record.words
    assert words.height() < 3 * words.fontMetrics().height()
    assert words.accessibleName().startswith("The record does not hold: What it says")
    assert window.lots.record.way.isVisible()
