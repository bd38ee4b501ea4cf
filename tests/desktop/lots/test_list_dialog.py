"""A lot from a list, in the window: tried first, every line's complaint shown, taken in when the person says so."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from benchapp.actions.papers.print_jobs import Paper
from tests.actions.exchange.test_lot_files import HEAD, ROWS, write_csv, write_xlsx
from tests.desktop.windows import window_on


@pytest.fixture
def empty(look, bench):
    with window_on(look, bench) as before_it:
        yield before_it


def look_at(technician, qtbot, path):
    dialog = technician.window.lots.open_list()
    qtbot.waitExposed(dialog)
    dialog.path.setText(str(path))
    qtbot.mouseClick(dialog.take_in, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(dialog.summary.text() or dialog.complaint.text()))
    return dialog


def test_a_list_that_is_right_is_taken_in_by_two_clicks(empty, qtbot, tmp_path):
    bench = empty.window.context.bench
    dialog = look_at(empty, qtbot, write_xlsx(tmp_path / "van.xlsx", [HEAD, *ROWS[:2]]))
    assert dialog.summary.text() == "2 units are right. 0 lines are not. Nothing is taken in yet."
    assert bench.lots() == ()
    assert dialog.name.text() == "van"
    with qtbot.waitSignal(dialog.finished):
        qtbot.mouseClick(dialog.take_in, Qt.MouseButton.LeftButton)
    assert [unit.mark for unit in bench.units("van")] == ["TB-001", "TB-002"]
    assert empty.window.lots.lot() == "van"


def test_a_wrong_line_keeps_everything_out_until_the_person_leaves_it_out(empty, qtbot, tmp_path):
    bench = empty.window.context.bench
    dialog = look_at(empty, qtbot, write_csv(tmp_path / "van.csv", [HEAD, ROWS[0], ["TB-002", "tb-ls9"]]))
    assert dialog.lines.text() == "Line 3: There is no design “tb-ls9”. Did you mean tb-ls1?"
    assert not dialog.take_in.isEnabled()
    dialog.right_only.setChecked(True)
    with qtbot.waitSignal(dialog.finished):
        qtbot.mouseClick(dialog.take_in, Qt.MouseButton.LeftButton)
    assert [unit.mark for unit in bench.units()] == ["TB-001"]


def test_another_file_is_looked_at_before_anything_of_it_is_taken_in(empty, qtbot, tmp_path):
    dialog = look_at(empty, qtbot, write_csv(tmp_path / "van.csv", [HEAD, *ROWS]))
    dialog.path.setText(str(write_csv(tmp_path / "other.csv", [HEAD, ["TB-007", "nothing"]])))
    assert dialog.take_in.text() == "Look at the list"
    qtbot.mouseClick(dialog.take_in, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(dialog.summary.text()))
    assert empty.window.context.bench.lots() == ()
    dialog.reject()


def test_a_file_that_is_no_list_is_complained_of_in_the_dialog(empty, qtbot, tmp_path):
    (tmp_path / "van.ods").write_bytes(b"none")
    dialog = look_at(empty, qtbot, tmp_path / "van.ods")
    assert dialog.complaint.text().startswith("van.ods is no spreadsheet that can be read.")
    dialog.reject()


def test_a_list_is_taken_in_and_its_stickers_offered_to_the_printer_by_one_key(empty, qtbot, tmp_path):
    dialog = look_at(empty, qtbot, write_csv(tmp_path / "van.csv", [HEAD, ROWS[0], ["TB-002", "tb-ls9"]]))
    assert not dialog.and_print.isEnabled()
    empty.strike("Alt+P")
    assert empty.window.context.bench.lots() == ()
    dialog.right_only.setChecked(True)
    empty.strike("Alt+P")
    printing = empty.window.findChild(QWidget, "print-dialog")
    assert printing.choices.wish().units == ("TB-001",)
    assert printing.choices.chosen_paper() is Paper.STICKERS
    printing.reject()


def test_the_new_lot_dialog_leads_to_the_list(empty, qtbot):
    dialog = empty.window.lots.open_new_lot()
    qtbot.waitUntil(lambda: dialog.take_in.isEnabled())
    qtbot.mouseClick(dialog.from_list, Qt.MouseButton.LeftButton)
    found = empty.window.findChild(type(dialog).__mro__[1], "lot-list-dialog")
    assert found is not None
    assert found.isVisible()
    found.reject()


def test_what_all_of_a_lot_have_in_common_is_kept_with_each_unit(empty, qtbot):
    dialog = empty.window.lots.open_new_lot()
    qtbot.waitUntil(lambda: dialog.take_in.isEnabled())
    for field, text in ((dialog.name, "Van"), (dialog.first, "TB-001"), (dialog.given_by, "the old school")):
        field.setText(text)
    with qtbot.waitSignal(dialog.finished):
        qtbot.mouseClick(dialog.take_in, Qt.MouseButton.LeftButton)
    beginning = empty.window.context.bench.workbook.entries("TB-001", after=-1)[0].content
    assert dict(beginning.known) == {"given by": "the old school"}
