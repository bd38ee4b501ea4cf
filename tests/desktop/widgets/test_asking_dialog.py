"""Dialogs that are filled in stay on the screen, with their buttons and every row in reach, and go on once."""

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.workshop_dialogs import ask_first_person
from tests.desktop.windows import window_on


@pytest.fixture(params=[100, 200])
def supervisor(request, look, bench):
    look.set_percent(request.param)
    with window_on(look, bench, initials="SV", size=(700, 700)) as technician:
        yield technician


def dialog_of(technician, name):
    dialog = technician.window.findChild(QWidget, f"{name}-dialog")
    technician.settle()
    return dialog


def assert_on_screen(dialog):
    room = dialog.screen().availableGeometry()
    assert dialog.size().boundedTo(room.size()) == dialog.size(), dialog.objectName()
    assert room.contains(dialog.geometry()), dialog.objectName()
    assert dialog.rect().contains(dialog.buttons.geometry()), dialog.objectName()
    bar = dialog._area.horizontalScrollBar()
    assert bar.maximum() == 0, dialog.objectName()


@pytest.mark.parametrize(("key", "name"), [("Ctrl+N", "new-lot"), ("Ctrl+,", "workshop"), ("Ctrl+Shift+P", "people")])
def test_a_dialog_stays_on_the_screen(supervisor, key, name):
    supervisor.strike(key)
    dialog = dialog_of(supervisor, name)
    assert_on_screen(dialog)
    dialog.complain("Type the first shelf mark, such as TB-001: the others count up from it. " * 3)
    supervisor.settle()
    assert_on_screen(dialog)
    assert dialog.complaint.height() >= dialog.complaint.heightForWidth(dialog.complaint.width())
    dialog.reject()


def test_who_begins_a_workbook_is_asked_on_the_screen(supervisor):
    ask_first_person(supervisor.window.context, supervisor.window)
    dialog = dialog_of(supervisor, "first-person")
    assert_on_screen(dialog)
    assert dialog._area.verticalScrollBar().maximum() == 0 or supervisor.window.look.percent == 200
    dialog.reject()


def test_a_new_lot_whose_design_asks_for_hazards_stays_on_the_screen_and_each_row_comes_into_sight(supervisor):
    supervisor.strike("Ctrl+N")
    dialog = dialog_of(supervisor, "new-lot")
    for number in range(dialog.equipment.count()):
        dialog.equipment.setCurrentIndex(number)
        supervisor.settle()
        assert_on_screen(dialog)
    supervisor.tab_to("new-lot-hazards")
    seen = dialog._area.viewport()
    supervisor.strike("Home")
    for _ in range(len(dialog.hazards.rows())):
        row = dialog.hazards.visualRect(dialog.hazards.currentIndex())
        top = dialog.hazards.viewport().mapTo(seen, row.topLeft())
        assert seen.rect().contains(top), dialog.hazards.row_at_hand()
        supervisor.strike("Down")
    assert seen.mapTo(dialog, QPoint(0, seen.height())).y() <= dialog.buttons.y()
    supervisor.strike("Esc")


@pytest.mark.parametrize("key", ["Ctrl+N", "Ctrl+,"])
def test_a_dialog_that_is_left_before_its_lists_are_read_is_no_mistake_of_the_program(technician, key):
    QTest.keySequence(technician.at_keyboard(), QKeySequence(key))
    QTest.keyClick(technician.window.findChild(AskingDialog), Qt.Key.Key_Escape)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    technician.settle()  # at the end the technician's window raises what the program would show as its own mistake
    assert not technician.window.findChildren(AskingDialog)


def test_a_second_enter_or_esc_at_once_changes_nothing_of_the_first(technician):
    bench = technician.window.context.bench
    before = len(bench.workshop.people)
    technician.give_initials("SV")
    technician.strike("Ctrl+Shift+P")
    dialog = dialog_of(technician, "people")
    dialog.rows.setCurrentRow(before)
    dialog.name.setText("Rhea Poll")
    dialog.initials.setText("RP")
    dialog.reason.setText("new hand")
    dialog.reason.setFocus()
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Return, Qt.Key.Key_Escape):
        QTest.keyClick(dialog.reason, key)
    technician.settle()
    assert len(bench.workshop.people) == before + 1
    assert dialog.isVisible()
    assert not dialog.complaint.isVisible()
    technician.strike("Esc")


def test_who_begins_a_workbook_enters_twice(look, path, clock):
    bench = Bench.create(path, clock=clock)
    with window_on(look, bench, initials="") as technician:
        ask_first_person(technician.window.context, technician.window)
        dialog = dialog_of(technician, "first-person")
        dialog.name.setText("Ada Boll")
        dialog.initials.setText("AB")
        for _ in range(2):
            QTest.keyClick(dialog.initials, Qt.Key.Key_Return)
        technician.settle()
        assert [row.initials for row in bench.workshop.people] == ["AB"]


def test_enter_in_the_name_of_the_first_person_leads_to_the_initials(look, path, clock):
    bench = Bench.create(path, clock=clock)
    with window_on(look, bench, initials="") as technician:
        ask_first_person(technician.window.context, technician.window)
        dialog = dialog_of(technician, "first-person")
        technician.type("Ada Boll")
        technician.strike("Enter")
        assert dialog.initials.hasFocus()
        assert dialog.complaint.text() == ""
        technician.type("AB")
        technician.strike("Enter")
        assert [row.initials for row in bench.workshop.people] == ["AB"]


def test_the_field_that_a_complaint_is_about_is_in_sight(supervisor):
    supervisor.strike("Ctrl+N")
    dialog = dialog_of(supervisor, "new-lot")
    for field, text in ((dialog.name, "Van"), (dialog.first, "TB-101"), (dialog.initials, "")):
        field.setText(text)
    supervisor.strike("Enter")
    assert dialog.complaint.text().startswith("Type your initials")
    assert dialog.initials.hasFocus()
    assert dialog.initials.visibleRegion().boundingRect() == dialog.initials.rect()
    dialog.reject()
