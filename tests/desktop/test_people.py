"""The list of people on the screen: who begins a workbook, the page of people, initials that are not on the list."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.workshop_dialogs import ask_first_person
from benchapp.sequences.planning.people import ListedPerson, Right
from tests.desktop.test_access import called, controls
from tests.desktop.windows import Clock, window_on


def dialog_of(technician, name):
    found = technician.window.findChild(QWidget, f"{name}-dialog")
    assert found is not None, f"no {name} dialog"
    return found


def child(dialog, name):
    return dialog.findChild(QWidget, name)


@pytest.fixture
def supervisor(technician):
    technician.give_initials("SV")
    technician.strike("Ctrl+Shift+P")
    return technician


def listed(technician):
    return {row.initials: row for row in technician.window.context.bench.workshop.people}


def test_a_supervisor_adds_a_person_by_keys(supervisor, qtbot):
    dialog = dialog_of(supervisor, "people")
    QTest.keyClick(dialog.rows, Qt.Key.Key_End)
    for field, text in ((dialog.name, "Rhea Poll"), (dialog.initials, "RP"), (dialog.reason, "new hand")):
        field.setFocus()
        QTest.keyClicks(field, text, delay=50)
        QTest.qWait(80)
    box = child(dialog, "people-live-work")
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_Space)
    QTest.qWait(80)
    QTest.keyClick(dialog.reason, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "RP" in listed(supervisor))
    assert listed(supervisor)["RP"] == ListedPerson(name="Rhea Poll", initials="RP", rights=(Right.live_work,))
    qtbot.waitUntil(lambda: dialog.said.text() == "Rhea Poll (RP): live work.")
    dialog.reject()


def test_a_supervisor_changes_and_ends_by_mouse(supervisor, qtbot):
    dialog = dialog_of(supervisor, "people")
    dialog.rows.setCurrentRow(0)
    assert dialog.initials.isReadOnly()
    qtbot.mouseClick(child(dialog, "people-end"), Qt.MouseButton.LeftButton)
    dialog.reason.setText("moved away")
    save = dialog.buttons.button(dialog.buttons.StandardButton.Save)
    qtbot.mouseClick(save, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: listed(supervisor)["AB"].until != "")
    dialog.reject()


def test_a_new_person_never_takes_the_row_of_somebody_with_the_same_initials(supervisor, qtbot):
    dialog = dialog_of(supervisor, "people")
    before = listed(supervisor)
    QTest.keyClick(dialog.rows, Qt.Key.Key_End)
    for field, text in ((dialog.name, "Abel Ross"), (dialog.initials, "a.b."), (dialog.reason, "new hand")):
        field.setFocus()
        QTest.keyClicks(field, text, delay=50)
        QTest.qWait(80)
    QTest.keyClick(dialog.reason, Qt.Key.Key_Return)
    words = "AB are Ada Brook's initials already, with all that is recorded under them."
    qtbot.waitUntil(lambda: words in dialog.complaint.text())
    assert listed(supervisor) == before
    dialog.reject()


def test_whoever_is_no_supervisor_is_told_so_in_the_dialog(technician, qtbot):
    technician.strike("Ctrl+Shift+P")
    dialog = dialog_of(technician, "people")
    dialog.rows.setCurrentRow(0)
    dialog.name.setText("Ada Brooke")
    dialog.go()
    qtbot.waitUntil(lambda: "may not do what a supervisor does" in dialog.complaint.text())
    assert listed(technician)["AB"].name == "Ada Brook"
    dialog.reject()


@pytest.mark.parametrize("percent", [100, 200])
def test_the_page_of_people_fits_a_small_screen(look, bench, percent):
    look.set_percent(percent)
    with window_on(look, bench, size=(1024, 700)) as technician:
        technician.strike("Ctrl+Shift+P")
        dialog = dialog_of(technician, "people")
        assert dialog.minimumSizeHint().height() <= 700
        assert dialog.minimumSizeHint().width() <= 1024
        assert [one.objectName() for one in controls(dialog) if not called(one)] == []
        dialog.reject()


def test_initials_that_are_not_on_the_list_are_said_at_once(technician):
    technician.give_initials("ZZ")
    assert technician.window.said.text().startswith("ZZ is not on the list of people: dead work only.")
    technician.give_initials("a.b.")
    technician.give_initials("GH")
    assert "not on the list" in technician.window.said.text()  # what was said stays until something else is


def test_the_first_person_of_a_new_workbook_is_its_supervisor(look, tmp_path, qtbot):
    bench = Bench.create(tmp_path / "new.workbook", clock=Clock())
    with window_on(look, bench, initials="") as technician:
        ask_first_person(technician.window.context, technician.window)
        dialog = dialog_of(technician, "first-person")
        dialog.name.setText("Sula Vance")
        dialog.initials.setText("SV")
        dialog.go()
        qtbot.waitUntil(lambda: technician.window.person.initials == "SV")
        assert bench.workshop.people == (ListedPerson(name="Sula Vance", initials="SV", rights=(Right.supervisor,)),)


def test_the_workshop_leads_to_the_people(technician, qtbot):
    technician.strike("Ctrl+,")
    workshop = dialog_of(technician, "workshop")
    qtbot.mouseClick(child(workshop, "workshop-people"), Qt.MouseButton.LeftButton)
    dialog_of(technician, "people").reject()
    workshop.reject()


@pytest.mark.parametrize(("keys", "name"), [("Ctrl+Shift+P", "people"), ("Ctrl+,", "workshop")])
def test_who_has_not_given_initials_is_told_where_they_are_given(technician, keys, name):
    technician.give_initials("")
    technician.strike(keys)
    dialog = dialog_of(technician, name)
    dialog.go()
    assert dialog.complaint.text() == "Your own initials come first: close this, give them with F7, then come back."
    dialog.reject()


def test_an_empty_list_asks_who_begins(look, tmp_path):
    bench = Bench.create(tmp_path / "empty.workbook", clock=Clock())
    with window_on(look, bench, initials="") as technician:
        technician.strike("Ctrl+Shift+P")
        dialog_of(technician, "first-person").reject()
