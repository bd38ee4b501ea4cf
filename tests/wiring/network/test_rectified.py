"""Voltages that a diode decides on are stated by somebody, or not judged; a winding that feeds a rectifier is."""

from collections.abc import Callable

import pytest

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem
from benchapp.wiring.network.rectified import Rectified
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.observations import Observation

MAINS = KnownQuantity(value_si=240.0, standard_uncertainty=0.0, what="mains", source="made up")
WOUND = """\
- {winding: primary, between: [in.1, in.2], resistance: 400 ohm}
- {winding: low, between: [out.1, out.2], rated: 9 V off load, resistance: 1.5 ohm}
"""
HALF = f"""\
{WOUND}
- {{diode: one-way, between: [out.1, rail]}}
- {{capacitor: reservoir, between: [rail, out.2], capacitance: 1000 µF}}
- {{resistor: bleeder, between: [rail, out.2], resistance: 1 kohm}}
- {{link: to-3, between: [rail, out.3]}}
"""
BRIDGE = f"""\
{WOUND}
- {{diode: d1, between: [out.1, rail]}}
- {{diode: d2, between: [out.2, rail]}}
- {{diode: d3, between: [out.4, out.1]}}
- {{diode: d4, between: [out.4, out.2]}}
- {{resistor: bleeder, between: [rail, out.4], resistance: 1 kohm}}
- {{link: to-3, between: [rail, out.3]}}
"""
HALF_OUT = "outputs:\n- {output: dc, between: [out.3, out.2], volts: 12 V ± 10 %, source: made up plate}\n"
BRIDGE_OUT = "outputs:\n- {output: dc, between: [out.3, out.4], volts: 12 V ± 10 %, source: made up plate}\n"


@pytest.mark.parametrize(("parts", "more"), [(HALF, HALF_OUT), (BRIDGE, BRIDGE_OUT)], ids=["half wave", "bridge"])
def test_what_a_rectifier_gives_is_stated_or_not_judged(written: Callable[..., Circuit], parts: str, more: str) -> None:
    circuit = written(parts, more=more)
    stated = circuit.outputs[0]
    assert expected_voltage(circuit, stated.a, stated.b, mains=MAINS).expected == pytest.approx(12.0)
    mixed = expected_voltage(circuit, "out.3", "out.1", mains=MAINS)
    assert (mixed.lower, mixed.expected, mixed.upper) == (None, None, None)
    assert "not judged" in mixed.cautions[0]


@pytest.mark.parametrize(("parts", "more"), [(HALF, HALF_OUT), (BRIDGE, BRIDGE_OUT)], ids=["half wave", "bridge"])
def test_the_winding_that_feeds_it_is_judged_by_its_turns(
    written: Callable[..., Circuit], parts: str, more: str
) -> None:
    circuit = written(parts, more=more)
    assert not Rectified(circuit, State()).between("out.1", "out.2")
    assert expected_voltage(circuit, "out.1", "out.2", mains=MAINS).expected == pytest.approx(9.0, rel=1e-3)


def test_a_rail_with_a_bleeder_wants_its_voltage_stated_too(written: Callable[..., Circuit]) -> None:
    with pytest.raises(WiringProblem, match=r"out\.3 is fed through a diode"):
        written(HALF)


def test_a_bridge_on_the_mains_leaves_the_mains_alone(written: Callable[..., Circuit]) -> None:
    parts = "- {diode: d1, between: [in.1, in.3]}\n- {diode: d2, between: [in.2, in.3]}\n"
    parts += "- {resistor: bleeder, between: [in.3, in.2], resistance: 100 kohm}\n"
    circuit = written(parts, more="outputs:\n- {output: dc, between: [in.3, in.2], volts: 300 V, source: made up}\n")
    diodes = Rectified(circuit, State())
    assert not diodes.between("in.1", "in.2")
    assert diodes.between("in.3", "in.1")


def test_a_stated_voltage_that_is_right_is_held_against_no_part(written: Callable[..., Circuit]) -> None:
    circuit = written(HALF, more=HALF_OUT)
    diagnoser = Diagnoser(circuit, shipped_fault_weights())
    right = Observation(a="out.3", b="out.2", kind=Kind.voltage, value=12.1, uncertainty=0.1, mains=240.0)
    before, after = diagnoser.diagnosis([]).suspects[0], diagnoser.diagnosis([right]).suspects[0]
    assert (after.part, after.share) == (before.part, pytest.approx(before.share, rel=1e-6))
