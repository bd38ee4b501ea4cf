"""A new workshop describes what comes in while it takes it in: by keys, with its circuit drawn."""

import pytest
from PySide6.QtWidgets import QWidget

from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import window_on
from tests.people import staffed


@pytest.fixture(params=[100, 200])
def shed(request, look, path, clock):
    look.set_percent(request.param)
    bench = Bench.create(path, clock=clock, workshop=staffed(demo=False))
    with window_on(look, bench, initials="AB", size=(1024, 700)) as technician:
        yield technician


def dialog_of(technician, name):
    technician.settle()
    return technician.window.findChild(QWidget, f"{name}-dialog")


def describing(technician, kind):
    """The design dialog over the intake, that kind of item chosen."""
    technician.strike("F2", "Ctrl+N", "Alt+K")
    dialog = dialog_of(technician, "design")
    dialog.kind.setCurrentIndex(dialog.kind.findData(kind))
    technician.settle()
    return dialog


def fill(technician, **fields):
    for name, text in fields.items():
        technician.tab_to(f"design-{name.replace('_', '-')}")
        technician.type(text)


def test_a_design_is_described_drawn_and_chosen_for_the_units_that_come_in(shed):
    dialog = describing(shed, "fan")
    assert "motor" in dialog.told.text()
    assert dialog.circuit.picture().words.startswith("Circuit of Item driven by an induction motor")
    dialog.inside.setCurrentIndex(1)
    fill(shed, title_of="Desk fan", volts="230", power="40")
    assert dialog.wanting.text() == "All that its route asks for is known."
    shed.strike("Enter")
    intake = dialog_of(shed, "new-lot")
    assert intake.equipment.currentData() == "desk-fan"
    for name, text in (("name", "Van"), ("first", "F-001")):
        shed.tab_to(f"new-lot-{name}")
        shed.retype(text)
    shed.strike("Enter")
    unit = shed.window.context.bench.unit("F-001")
    assert (unit.equipment, unit.route) == ("desk-fan", "mains-item")


def test_what_is_not_known_yet_is_said_and_the_item_is_tested_dead(shed):
    dialog = describing(shed, "heater")
    assert dialog.wanting.text().startswith("Not known yet: inside, supply volts, power.")
    fill(shed, title_of="Old iron")
    shed.strike("Enter")
    intake = dialog_of(shed, "new-lot")
    assert intake.route.currentData() == "unknown-mains-item"


def test_what_cannot_be_read_stays_in_the_dialog_with_a_sentence(shed):
    dialog = describing(shed, "heater")
    fill(shed, title_of="Old iron", volts="many")
    shed.strike("Enter")
    assert dialog.isVisible()
    assert "many" in dialog.complaint.text()


def test_a_loudspeaker_is_asked_for_its_impedance_alone(shed):
    dialog = describing(shed, "loudspeaker")
    shown = {name for name, field in dialog.figures.items() if field.isVisibleTo(dialog)}
    assert shown == {"impedance"}
    assert not dialog.volts.isVisibleTo(dialog)
    fill(shed, title_of="Small box", impedance="8")
    shed.strike("Enter")
    assert dialog_of(shed, "new-lot").route.currentData() == "passive-item"
