"""A meter is taken in by keys and by mouse, line by line; what cannot be is said and stays in the form."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QWidget

from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import window_on
from tests.people import staffed


@pytest.fixture(params=[100, 200])
def shed(request, look, path, clock):
    look.set_percent(request.param)
    bench = Bench.create(path, clock=clock, workshop=staffed(demo=False))
    with window_on(look, bench, size=(1024, 700)) as technician:
        yield technician


def dialog_of(technician, name):
    dialog = technician.window.findChild(QWidget, f"{name}-dialog")
    technician.settle()
    return dialog


def fill_line(technician, *fields):
    technician.tab_to("meter-smallest")
    for text in fields:
        technician.type(text)
        technician.strike("Tab")


def fill_head(technician):
    technician.tab_to("meter-title")
    technician.type("Hand meter")
    technician.tab_to("meter-category")
    technician.type("CAT III 600 V")
    technician.tab_to("meter-calibrated")
    technician.type("2026-04-14")


def test_enter_in_a_line_adds_it_and_enter_elsewhere_keeps_the_meter(shed):
    shed.strike("Ctrl+Shift+E")
    dialog = dialog_of(shed, "meter")
    fill_head(shed)
    fill_line(shed, "600 ohm", "60 Mohm", "0.1 ohm")
    shed.type("0.5 % + 3 counts")
    shed.strike("Enter")
    assert dialog.shown.count() == 1
    assert "600 ohm, 6 kohm" in dialog.shown.item(0).text()
    assert shed.at_keyboard().objectName() == "meter-function"
    shed.tab_to("meter-title")
    shed.strike("Enter")
    assert set(shed.window.context.bench.catalogue.meters) == {"m1"}
    assert dialog.isVisible()
    assert dialog.shown.count() == 0
    assert dialog.ident.text() == "m2"
    assert "Hand meter (m1)" in dialog.known.text()
    shed.strike("Esc")


def test_the_mouse_adds_lines_takes_them_out_and_keeps_the_meter(shed, qtbot):
    shed.strike("Ctrl+Shift+E")
    dialog = dialog_of(shed, "meter")
    fill_head(shed)

    def press(name):
        qtbot.mouseClick(dialog.findChild(QPushButton, name), Qt.MouseButton.LeftButton)
        shed.settle()

    for largest in ("6 kohm", "60 Mohm"):
        fill_line(shed, "600 ohm", largest, "0.1 ohm", "0.5 % + 3 counts")
        press("meter-add")
    dialog.shown.setCurrentRow(0)
    press("meter-take-out")
    assert dialog.shown.count() == 1
    press("meter-keep")
    (meter,) = shed.window.context.bench.catalogue.meters.values()
    assert len(meter.functions["resistance"].ranges) == 6
    shed.strike("Esc")


def test_what_is_missing_or_cannot_be_is_said_and_what_was_typed_stays(shed):
    shed.strike("Ctrl+Shift+E")
    dialog = dialog_of(shed, "meter")
    dialog.go()
    assert dialog.complaint.text().startswith("Say what the meter is")
    shed.type("Hand meter")
    dialog.go()
    assert "is no day: write it as 2026-04-14 or 14 April 2026" in dialog.complaint.text()
    shed.type("2026-04-14")
    shed.strike("Enter")
    assert "at least one line" in dialog.complaint.text()
    fill_line(shed, "600 V")
    shed.strike("Enter")
    assert dialog.complaint.text()
    assert dialog.smallest.text() == "600 V"
    assert dialog.title_of.text() == "Hand meter"
    shed.strike("Esc")


@pytest.mark.parametrize("typed", ["1 May 2026", "1 may 2026", "01 May 2026"])
def test_a_day_may_be_written_with_its_month_in_words(shed, typed):
    shed.strike("Ctrl+Shift+E")
    dialog = dialog_of(shed, "meter")
    fill_head(shed)
    dialog.calibrated.setText(typed)
    fill_line(shed, "600 ohm", "60 Mohm", "0.1 ohm")
    shed.type("0.5 % + 3 counts")
    shed.strike("Enter")
    shed.tab_to("meter-title")
    shed.strike("Enter")
    (meter,) = shed.window.context.bench.catalogue.meters.values()
    assert str(meter.calibrated) == "2026-05-01"
    shed.strike("Esc")


@pytest.mark.parametrize("typed", ["1/5/2026", "5.1.2026", "31 June 2026"])
def test_a_day_that_could_be_two_or_none_is_refused(shed, typed):
    shed.strike("Ctrl+Shift+E")
    dialog = dialog_of(shed, "meter")
    shed.type("Hand meter")
    dialog.calibrated.setText(typed)
    dialog.go()
    assert f"“{typed}” is no day" in dialog.complaint.text()
    shed.strike("Esc")


def test_the_form_asks_for_what_its_function_has(shed):
    shed.strike("Ctrl+Shift+E")
    dialog = dialog_of(shed, "meter")
    shed.tab_to("meter-function")
    assert not dialog.frequencies.isVisibleTo(dialog)
    assert not dialog.test.isVisibleTo(dialog)
    shed.strike("Down", "Down", "Down")
    assert dialog.function.currentText() == "insulation"
    assert dialog.test.isVisibleTo(dialog)
    assert dialog.smallest.placeholderText() == "20 Mohm"
    shed.strike("Down")
    assert dialog.frequencies.isVisibleTo(dialog)
    shed.strike("Esc")


def test_an_empty_workbook_leads_to_people_place_meters_lot_and_opening_by_mouse(shed, qtbot):
    for name, opened in (
        ("people", "people"),
        ("workshop", "workshop"),
        ("meters", "meter"),
        ("new-lot", "new-lot"),
        ("opening", "opening"),
    ):
        step = shed.window.findChild(QPushButton, f"first-day-{name}")
        qtbot.mouseClick(step, Qt.MouseButton.LeftButton)
        dialog = dialog_of(shed, opened)
        assert dialog is not None, name
        dialog.reject()
        shed.settle()


def test_the_bench_opens_before_there_is_a_lot(shed):
    shed.strike("Ctrl+Shift+E")
    fill_head(shed)
    fill_line(shed, "600 ohm", "60 Mohm", "0.1 ohm", "0.5 % + 3 counts")
    dialog_of(shed, "meter").keep.click()
    shed.settle()
    shed.strike("Esc", "F11", "F8")
    dialog = dialog_of(shed, "opening")
    shed.tab_to("opening-proved-m1")
    shed.strike("Space", "Tab")
    shed.type("0.2")
    shed.strike("Enter")
    assert dialog.complaint.text(), "nothing proved them"
    shed.tab_to("opening-source")
    shed.strike("Down", "Enter")
    opening = shed.window.context.bench.opening()
    assert [(proof.meter, proof.proved, proof.lead_resistance) for proof in opening.meters] == [("m1", True, 0.2)]
    assert shed.said.startswith("The bench is open")


def test_without_a_meter_the_opening_says_where_one_is_taken_in(shed):
    shed.strike("F8")
    dialog = dialog_of(shed, "opening")
    assert "Ctrl+Shift+E takes one in" in dialog.form.none_yet.text()
    assert dialog.form.none_yet.isVisibleTo(dialog)
    dialog.reject()
