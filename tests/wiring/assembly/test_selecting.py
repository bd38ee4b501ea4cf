"""A unit for two voltages of mains: its selector says at which it stands."""

from collections.abc import Callable

import pytest

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.wiring.assembly.selecting import supply_selected, volts_of_position
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem

TWO_PRIMARIES = """
- {{winding: first, between: [in.1, first.end], rated: 120 V supply, resistance: 60 ohm}}
- {{winding: second, between: [second.start, in.2], rated: 120 V supply, resistance: 64 ohm}}
- {{switch: selector, selector: true, usual: 240 V, positions: {{240 V: [[first.end, second.start]], 120 V: {low}}}}}
- {{winding: secondary, between: [out.1, out.2], rated: 15 V off load, resistance: 1 ohm}}
"""
PARALLEL = "[[in.1, second.start], [first.end, in.2]]"


def mains(volts: float) -> KnownQuantity:
    return KnownQuantity(value_si=volts, standard_uncertainty=0.0, what="mains", source="plug-in meter")


@pytest.mark.parametrize(("position", "volts"), [("120 V", 120.0), ("240", 240.0), ("low", None)])
def test_a_position_named_after_a_voltage_is_that_voltage(position: str, volts: float | None) -> None:
    assert volts_of_position(position) == volts


def test_halves_in_series_at_240_and_in_parallel_at_120_give_the_same_output(written: Callable[..., Circuit]) -> None:
    # two equal primaries in series on twice the voltage carry the same flux as in parallel; elementary
    circuit = written(TWO_PRIMARIES.format(low=PARALLEL))
    low = State(selector="120 V")
    assert (supply_selected(circuit, State()), supply_selected(circuit, low)) == ((240.0, 240.0), (120.0, 120.0))
    at_240 = expected_voltage(circuit, "out.1", "out.2", mains=mains(240.0))
    at_120 = expected_voltage(circuit, "out.1", "out.2", mains=mains(120.0), state=low)
    assert at_120.expected == pytest.approx(at_240.expected)
    assert not at_120.cautions


def test_mains_far_above_what_the_selector_stands_at_is_cautioned_first(written: Callable[..., Circuit]) -> None:
    circuit = written(TWO_PRIMARIES.format(low=PARALLEL))
    band = expected_voltage(circuit, "out.1", "out.2", mains=mains(243.0), state=State(selector="120 V"))
    assert band.cautions[0].startswith("The voltage selector stands at 120 V")


def test_a_position_that_puts_its_mains_on_too_few_turns_is_complained_about(written: Callable[..., Circuit]) -> None:
    with pytest.raises(WiringProblem, match="with the selector at 120 V, on 120 V, 60 V lie across it"):
        written(TWO_PRIMARIES.format(low="[[first.end, second.start]]"))
