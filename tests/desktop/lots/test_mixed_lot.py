"""A mixed lot by hand: several designs, some not known yet; what holds for all is set once, and changed for one."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QWidget

from benchapp.actions.audit.verifying import verify_workbook
from tests.desktop.windows import window_on


@pytest.fixture
def empty(look, bench):
    with window_on(look, bench, initials="AB") as before_it:
        yield before_it


@pytest.fixture
def dialog(empty):
    return opened(empty, "Ctrl+N")


def opened(technician, *keys, name="new-lot"):
    technician.strike("F2", *keys)
    found = technician.window.findChild(QWidget, f"{name}-dialog")
    technician.settle()
    return found


def fill(technician, **fields):
    for name, text in fields.items():
        technician.tab_to(f"new-lot-{name.replace('_', '-')}")
        technician.retype(text)


def choose(dialog, equipment):
    dialog.equipment.setCurrentIndex(dialog.equipment.findData(equipment))


def known(technician, mark):
    return dict(technician.window.context.bench.workbook.entries(mark, after=-1)[0].content.known)


def test_a_mixed_lot_is_taken_in_group_after_group_with_one_unit_changed(empty, dialog, path):
    fill(empty, name="Van")
    choose(dialog, "tb-ls1")
    fill(empty, count="3", first="TB-001", condition="dusty")
    empty.strike("Alt+A")
    assert dialog.units.rowCount() == 3
    assert dialog.units.isVisibleTo(dialog)
    dialog.units.item(1, dialog.units.columnCount() - 1).setText("dented grille")
    dialog.units.item(1, 0).setText("LS-7")
    choose(dialog, "unknown-mains-item")
    dialog.group.class_of.setCurrentIndex(dialog.group.class_of.findData("II"))
    fill(empty, first="TB-002", plug="moulded", media="one tape")
    fill(empty, where_from="the mill", given_by="M. Hay", right="owner")
    dialog.group.media_done.setCurrentIndex(dialog.group.media_done.findData("returned"))
    empty.tab_to("new-lot-initials")
    empty.strike("Enter")
    bench = empty.window.context.bench
    assert [(unit.mark, unit.equipment) for unit in bench.units("Van")] == [
        ("LS-7", "tb-ls1"),
        ("TB-001", "tb-ls1"),
        ("TB-002", "unknown-mains-item"),
        ("TB-003", "tb-ls1"),
    ]
    assert bench.lot("Van").title == "several designs"
    of_all = {"where from": "the mill", "given by": "M. Hay", "right to give it": "owner"}
    assert known(empty, "TB-001") == {"condition": "dusty", **of_all}
    assert known(empty, "LS-7") == {"condition": "dusty", "note": "dented grille", **of_all}
    media = {"media left inside": "one tape", "what became of them": "returned"}
    assert known(empty, "TB-002") == {"class": "II", "plug": "moulded", **media, **of_all}
    assert bench.state("TB-002").facts["class"] == "II"
    assert empty.window.lots.board.board.rowCount() == 4
    bench.close()
    assert verify_workbook(path) == ()


def test_marks_of_the_table_are_spoken_for(empty, dialog):
    fill(empty, name="Van", first="TB-001", count="2")
    empty.strike("Alt+A")
    empty.tab_to("new-lot-first")
    empty.type("TB-001")
    assert dialog.marks.text() == "TB-003"
    empty.strike("Esc")


def test_what_is_wrong_with_one_unit_is_said_with_its_mark_and_stays(empty, dialog):
    fill(empty, name="Van", first="TB-001", media="one tape", initials="AB")
    empty.strike("Enter")
    assert dialog.complaint.text().startswith("TB-001: Media were left inside: say whether they were recorded")
    dialog.group.media_done.setCurrentIndex(1)
    empty.strike("Alt+A")
    dialog.units.item(0, 0).setText("")
    empty.tab_to("new-lot-initials")
    empty.strike("Enter")
    assert dialog.complaint.text() == "Row 1: It has no shelf mark. Give it one."
    dialog.units.setCurrentCell(0, 0)
    dialog.take_out.click()
    empty.settle()
    assert dialog.units.rowCount() == 0
    empty.strike("Enter")
    assert dialog.complaint.text().startswith("Type the first shelf mark")
    assert empty.window.context.bench.lots() == ()
    empty.strike("Esc")


def test_what_a_design_says_itself_is_not_asked(empty, dialog):
    choose(dialog, "tb-ls1")
    assert not dialog.group.class_of.isVisibleTo(dialog)
    choose(dialog, "unknown-mains-item")
    assert dialog.group.class_of.isVisibleTo(dialog)
    assert dialog.equipment.currentText().startswith("Not known yet")
    assert not dialog.group.media_done.isVisibleTo(dialog)
    dialog.group.media.setText("a disc")
    assert dialog.group.media_done.isVisibleTo(dialog)
    empty.strike("Esc")


def test_the_tags_of_what_came_in_are_printed_at_once_by_mouse(empty, dialog, qtbot):
    fill(empty, name="Van", first="TB-001", count="2", initials="AB")
    qtbot.mouseClick(dialog.findChild(QPushButton, "new-lot-and-print"), Qt.MouseButton.LeftButton)
    empty.settle()
    printing = empty.window.findChild(QWidget, "print-dialog")
    assert printing.isVisible()
    assert printing.choices.wish().units == ("TB-001", "TB-002")
    printing.reject()


def test_more_units_come_into_the_lot_by_keys(technician):
    dialog = opened(technician, "Ctrl+Shift+D", name="lot-units")
    technician.strike("Alt+M")
    more = technician.window.findChild(QWidget, "new-lot-dialog")
    technician.settle()
    assert more.name.text() == "Shelf nine"
    assert more.name.isReadOnly()
    choose(more, "tb-ls1")
    technician.tab_to("new-lot-first")
    technician.type("LS-1")
    technician.strike("Enter")
    bench = technician.window.context.bench
    assert bench.unit("LS-1").lot == "Shelf nine"
    assert len(bench.lots()) == 1
    assert "1 unit of Loudspeaker with two drivers has come into Shelf nine" in technician.said
    assert dialog is not None


def test_ticked_units_go_into_another_lot_and_prove_to_be_of_another_design(technician):
    dialog = opened(technician, "Ctrl+Shift+D", name="lot-units")
    technician.strike("Enter")
    assert dialog.complaint.text().startswith("No unit is chosen")
    technician.strike("Down", "Space", "Down", "Space")
    assert dialog.ticked() == ["TB-002", "TB-003"]
    technician.tab_to("lot-units-to")
    technician.type("Church")
    technician.strike("Enter")
    assert dialog.complaint.text().startswith("Say why")
    technician.tab_to("lot-units-why")
    technician.type("they are the church's")
    technician.strike("Enter")
    bench = technician.window.context.bench
    assert [unit.mark for unit in bench.units("Church")] == ["TB-002", "TB-003"]
    assert dialog.rows.count() == 1
    assert "2 units are in Church now" in dialog.said.text()
    technician.strike("Space")
    dialog.what.setCurrentIndex(dialog.what.findData("retype"))
    dialog.equipment.setCurrentIndex(dialog.equipment.findData("tb-ls1"))
    technician.tab_to("lot-units-why")
    technician.type("no mains lead")
    technician.strike("Enter")
    assert bench.unit("TB-001").equipment == "tb-ls1"
    assert bench.entries("TB-001")[-1].content.why == "no mains lead"
    technician.strike("Esc")


def test_the_tags_of_ticked_units_are_printed_by_mouse(technician, qtbot):
    dialog = opened(technician, "Ctrl+Shift+D", name="lot-units")
    button = dialog.findChild(QPushButton, "lot-units-print")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert dialog.complaint.text().startswith("Tick the units")
    qtbot.mouseClick(dialog.findChild(QPushButton, "lot-units-every"), Qt.MouseButton.LeftButton)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    technician.settle()
    printing = technician.window.findChild(QWidget, "print-dialog")
    assert printing.choices.wish().units == ("TB-001", "TB-002", "TB-003")
    printing.reject()
