"""How often a part fails before anything is read: where it sits counts, not its kind alone."""

from collections.abc import Mapping

from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.modes import Mode

WEIGHTS = shipped_fault_weights()


def one(circuit: Circuit, part: str, mode: Mode) -> FaultMode:
    return next(fault for fault in fault_modes_of(circuit, {}) if (fault.part, fault.mode) == (part, mode))


def test_a_core_of_the_cord_fails_more_often_than_a_joint_inside(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    core, joint = (WEIGHTS.weight(circuit, one(circuit, part, Mode.open)) for part in ("cord-live", "low-a"))
    assert core > joint


def test_wires_in_a_plug_are_crossed_more_often_than_at_an_outlet(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    pins = ("plug.L, plug.N", "outlet.1, outlet.2")
    plug, outlet = (WEIGHTS.weight(circuit, one(circuit, part, Mode.crossed)) for part in pins)
    assert plug == WEIGHTS.mains_pins[Mode.crossed]
    assert outlet == WEIGHTS.pins[Mode.crossed]
    assert plug > outlet


def test_switches_and_cords_come_before_anything_inside(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-rec1"]
    parts = ("power", "inside-fuse", "lead-live", "primary")
    weights = [WEIGHTS.weight(circuit, one(circuit, part, Mode.open)) for part in parts]
    assert weights == sorted(weights, reverse=True)
