"""What a voltmeter loads: the resistance behind two live terminals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.wiring.model.circuit import Load
from benchapp.wiring.network.live import solve_live
from benchapp.wiring.network.meter_load import source_resistance


def behind(circuit, a, b, **more):
    return source_resistance(circuit, a, b, meter=1e6, **more)


def test_behind_a_winding_lies_its_own_resistance_and_what_the_primary_adds(shipped):
    """Two-winding transformer, course text, from memory: R = R_secondary + R_primary × (turns ratio)², no iron loss."""
    circuit = shipped["tb-mu1"]
    found = behind(circuit, "outlet.1", "outlet.2")
    alone = next(b.working or b.resistance for b in circuit.branches if b.part == "low")
    assert found.low < found.nominal < found.high
    assert found.nominal >= alone.nominal


@given(st.floats(10.0, 1e6))
def test_the_resistance_found_foretells_the_voltage_on_any_load(shipped, ohms):
    circuit = shipped["tb-mu1"]
    inner = behind(circuit, "outlet.1", "outlet.3").nominal

    def volts(loads):
        return abs(
            solve_live(circuit, circuit.supply, 240.0, state=_rest(), loads=loads).between("outlet.1", "outlet.3")
        )

    expected = volts(()) * ohms / (ohms + inner)
    assert volts((Load(a="outlet.1", b="outlet.3", ohms=ohms),)) == pytest.approx(expected, rel=1e-4)


def _rest():
    from benchapp.wiring.model.circuit import State

    return State()


def test_nothing_is_known_behind_a_floating_pin_or_without_a_supply(shipped):
    assert behind(shipped["tb-mu1"], "outlet.1", "outlet.5") is None
    assert behind(shipped["tb-ls1"], *shipped["tb-ls1"].terminals[:2]) is None
