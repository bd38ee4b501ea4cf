"""Pages worked by mouse: what a key does has a button or a row to click, and one click alone confirms nothing."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from tests.desktop.bench.test_pages import go_to, last


def press(technician, name, kind=QTest.mouseClick):
    """Press a button of the page."""
    found = technician.page.findChild(QPushButton, name)
    kind(found, Qt.MouseButton.LeftButton)
    technician.settle()


def click(technician, row):
    """Click on the words of a row."""
    rows = technician.page.list
    room = rows.visualRect(rows.model().index(row, 0))
    QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(room.right() - 30, room.center().y()))
    technician.settle()


def count(technician):
    return len(technician.window.context.bench.entries(technician.view.mark))


def test_a_caution_is_understood_by_its_button(every_step):
    press(every_step, "caution-understood")
    assert every_step.page.name != "caution"
    assert str(last(every_step).kind) == "caution"


def test_the_second_press_of_a_double_click_on_a_button_gives_nothing(every_step):
    before = count(every_step)
    press(every_step, "caution-understood", QTest.mouseDClick)
    assert count(every_step) <= before + 1


def test_one_click_on_an_answer_records_nothing_and_the_second_answers(every_step):
    go_to(every_step, "ask")
    before, address = count(every_step), every_step.address
    click(every_step, 0)
    assert (count(every_step), every_step.address) == (before, address)
    assert every_step.page.list.row_at_hand() == 0
    click(every_step, 0)
    assert count(every_step) == before + 1


def test_a_typed_answer_is_recorded_by_its_button(every_step):
    go_to(every_step, "ask")
    while every_step.page.list.isVisible():
        every_step.strike("1")
        go_to(every_step, "ask")
    before = count(every_step)
    every_step.type("1.8")
    press(every_step, "ask-record")
    assert count(every_step) == before + 1


def test_one_click_marks_no_action_as_done(every_step):
    go_to(every_step, "work")
    click(every_step, 0)
    assert every_step.page.marks == {}
    click(every_step, 0)
    assert list(every_step.page.marks.values()) == ["done"]


def test_clicks_on_a_checkpoint_never_record_the_inspection(every_step):
    go_to(every_step, "inspect")
    every_step.strike("2", *["1" for _ in every_step.page.names[1:]])  # what is bad waits to be recorded
    before = count(every_step)
    for _ in range(4):
        click(every_step, 0)
    assert count(every_step) == before
    press(every_step, "inspect-finish")
    assert count(every_step) == before + 1


def test_a_meter_is_taken_at_the_second_click(every_step):
    go_to(every_step, "meter")
    click(every_step, 0)
    assert every_step.page.name == "meter"
    click(every_step, 0)
    assert every_step.page.name != "meter"


def test_why_the_plug_was_opened_is_recorded_by_its_button(every_step):
    every_step.strike("F9", "4")
    assert every_step.page.name == "opened"
    click(every_step, 0)
    click(every_step, 0)
    every_step.tab_to("opened-why")
    every_step.type("a rattle")
    press(every_step, "opened-record")
    assert str(last(every_step).kind) == "opened"
