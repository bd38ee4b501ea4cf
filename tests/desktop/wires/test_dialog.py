"""The dialog of meters on a wire, in a real window, with a simulated meter on a loopback socket."""

import time

import pytest
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from demo.simulated_meter import SimulatedMeter
from tests.desktop.test_access import called, controls
from tests.meters.test_stored import DESCRIPTION, HEAD

GIVES = {"VOLT:AC": 10.41234, "VOLT:DC": 1.5, "RES": 47.3}


@pytest.fixture
def meter():
    simulated = SimulatedMeter(lambda function: GIVES.get(function, 0.0), takes=0.02)
    simulated.port = simulated.start()
    yield simulated
    simulated.stop()


@pytest.fixture
def dialog(technician):
    technician.strike("Ctrl+Shift+M")
    found = technician.window.findChild(QWidget, "wires-dialog")
    until(technician, lambda: found.meters.count() > 0)
    found.meters.setCurrentIndex(found.meters.findData("tb-m1"))
    yield found
    if isValid(found):
        found.close()
    technician.settle()


def until(technician, true, seconds=8):
    end = time.monotonic() + seconds
    while not true() and time.monotonic() < end:
        technician.settle()
        time.sleep(0.02)
    assert true()


def at(meter):
    return f"TCPIP::127.0.0.1::{meter.port}::SOCKET"


def test_trying_a_meter_shows_who_it_is_and_what_it_reads_now(technician, dialog, meter):
    dialog.address.setText(at(meter))
    dialog.function.setCurrentText("resistance")
    dialog.trial.click()
    until(technician, lambda: dialog.reading.text() == "47.30 ohm")
    assert "Tarnbeck,Bench Meter Six,0007" in dialog.said.text()
    meter.shows = lambda _function: 12.0
    until(technician, lambda: dialog.reading.text() == "12.00 ohm")
    dialog.trial.click()
    assert dialog.reading.text() == ""


def test_a_trial_changes_no_record_and_keeping_does(technician, dialog, meter):
    bench = technician.window.context.bench
    dialog.address.setText(at(meter))
    dialog.trial.click()
    until(technician, lambda: "Tarnbeck" in dialog.said.text())
    assert bench.catalogue.meters["tb-m1"].wire is None
    dialog.go()
    kept = bench.catalogue.meters["tb-m1"].wire
    assert (kept.address.port, kept.identity) == (meter.port, "Tarnbeck,Bench Meter Six,0007")


def test_a_trial_of_nothing_is_a_sentence(technician, dialog, meter):
    meter.stop()
    dialog.address.setText(at(meter))
    dialog.trial.click()
    until(technician, lambda: "refuses port" in dialog.complaint.text())
    assert dialog.trial.text() == "&Try it"


def test_what_is_no_address_is_complained_of_at_once(dialog):
    dialog.address.setText("the one on the shelf")
    dialog.trial.click()
    assert "is no address of a meter" in dialog.complaint.text()
    dialog.go()
    assert "is no address of a meter" in dialog.complaint.text()


def test_a_link_that_drops_in_a_trial_is_a_sentence_and_it_goes_on(technician, dialog, meter):
    dialog.address.setText(at(meter))
    dialog.function.setCurrentText("DC voltage")
    dialog.trial.click()
    until(technician, lambda: dialog.reading.text() == "1.500 V")
    meter.drop()
    until(technician, lambda: "broke while it was read" in dialog.complaint.text())
    until(technician, lambda: not dialog.complaint.isVisibleTo(dialog))


def test_looking_for_meters_ends_with_a_list_or_a_sentence(technician, dialog):
    dialog.look.click()
    assert not dialog.look.isEnabled()
    until(technician, lambda: dialog.look.isEnabled())
    assert dialog.found.count() or "USB" in dialog.said.text()


def test_testers_that_drive_the_unit_are_not_tried_by_wire(dialog):
    dialog.meters.setCurrentIndex(dialog.meters.findData("tb-it1"))
    offered = {dialog.function.itemText(row) for row in range(dialog.function.count())}
    assert "AC voltage" in offered
    assert not offered & {"insulation", "earth continuity"}


def test_closing_in_the_middle_of_a_trial_lets_the_meter_go(technician, dialog, meter):
    dialog.address.setText(at(meter))
    dialog.trial.click()
    until(technician, lambda: dialog.reading.text() not in ("", "…"))
    dialog.close()
    until(technician, lambda: meter._current is None)


def test_what_a_tester_kept_is_imported_and_each_refusal_named(technician, dialog, tmp_path):
    description, table = tmp_path / "memory.yaml", tmp_path / "memory.csv"
    description.write_text(DESCRIPTION, encoding="utf-8")
    table.write_text(f"{HEAD};TB-001;RPE;0.05;ohm\n;TB-777;RPE;0.05;ohm\n", encoding="utf-8")
    dialog.stored.click()
    asked = technician.window.findChild(QWidget, "stored-dialog")
    asked.go()
    assert "There is no file" in asked.complaint.text()
    asked.description.setText(str(description))
    asked.table.setText(str(table))
    asked.go()
    until(technician, lambda: "transcribed" in asked.said.text())
    assert "there is no unit TB-777" in asked.said.text()
    asked.table.setText(str(description))
    asked.go()
    until(technician, lambda: "has no column" in asked.complaint.text())
    asked.close()


def test_every_control_says_what_it_is_and_fits_at_twice_the_size(technician, dialog):
    assert [widget.objectName() for widget in controls(dialog) if not called(widget)] == []
    technician.window.look.set_percent(200)
    dialog.fit()
    technician.settle()
    assert not dialog._area.horizontalScrollBar().isVisible()
    dialog.stored.click()
    asked = technician.window.findChild(QWidget, "stored-dialog")
    assert [widget.objectName() for widget in controls(asked) if not called(widget)] == []
    assert not asked._area.horizontalScrollBar().isVisible()
    asked.close()
