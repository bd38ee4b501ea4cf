"""Dead readings: bands from tolerances, temperature, switches, fuses, joined terminals and leads."""

import math
from collections.abc import Callable, Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.model.assumptions import PROBE_CONTACT
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem
from benchapp.wiring.network.solve import Corner, dead_network

WINDING = "- {winding: w, between: [in.1, in.2], resistance: 480 ohm ± 10 %}"


def test_tolerance_and_room_temperature_widen_the_band(written: Callable[..., Circuit]) -> None:
    band = expected_resistance(written(WINDING), "in.1", "in.2")
    assert band.expected == pytest.approx(480)
    # copper 0.00393 per kelvin at 20 °C: IEC 60228 Annex B, confirmed (std text)
    assert band.lower == pytest.approx(432 * (1 - 0.00393 * 5))
    assert band.upper == pytest.approx(528 * (1 + 0.00393 * 15) + PROBE_CONTACT)


def test_a_told_temperature_moves_the_expected_value_itself(written: Callable[..., Circuit]) -> None:
    band = expected_resistance(written(WINDING), "in.1", "in.2", temperature=60.0)
    # 60 °C to 20 °C is a factor 0.862 to 0.864: IEC 60228 Annex B; confirmed (maker)
    assert band.expected == pytest.approx(480 / 0.864, rel=0.003)
    assert any("60 °C" in line.value for line in band.derivation)


def test_leads_that_were_not_nulled_are_added_and_said(written: Callable[..., Circuit]) -> None:
    circuit = written(WINDING)
    plain = expected_resistance(circuit, "in.1", "in.2")
    with_leads = expected_resistance(circuit, "in.1", "in.2", lead_resistance=0.4)
    assert plain.lower is not None
    assert with_leads.lower == pytest.approx(plain.lower + 0.4)
    assert any(line.what == "test leads" for line in with_leads.derivation)


def test_a_fuse_taken_out_opens_the_path(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    assert expected_resistance(circuit, "plug.L", "plug.N").upper is not None
    out = expected_resistance(circuit, "plug.L", "plug.N", state=State(fuses_in=frozenset()))
    assert out.upper is None
    assert out.lower == 1e6


def test_switch_and_selector_decide_what_the_plug_shows(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-rec1"]
    at_240 = expected_resistance(circuit, "plug.L", "plug.N").expected
    at_220 = expected_resistance(circuit, "plug.L", "plug.N", state=State(selector="220 V")).expected
    off = expected_resistance(circuit, "plug.L", "plug.N", state=State(switches=frozenset({("power", "off")})))
    assert at_240 is not None
    assert at_220 is not None
    assert pytest.approx(at_240 - at_220) == 52 * 20 / 240
    assert off.upper is None


def test_joined_terminals_lie_in_parallel(written: Callable[..., Circuit]) -> None:
    parts = "- {resistor: a, between: [in.1, in.2], resistance: 100 ohm}\n"
    parts += "- {resistor: b, between: [in.3, in.4], resistance: 100 ohm}"
    joined = State(joined=(("in.1", "in.3"), ("in.2", "in.4")))
    assert expected_resistance(written(parts), "in.1", "in.2", state=joined).expected == pytest.approx(50, rel=1e-3)


def test_a_barrier_gives_the_isolation_limit_with_its_source(shipped: Mapping[str, Circuit]) -> None:
    band = expected_resistance(shipped["tb-mu1"], "plug.L", "outlet.3")
    assert (band.lower, band.upper) == (2e6, None)
    assert "insulation between mains and outlet" in band.derivation[0].what


def test_an_unused_pin_reads_open(shipped: Mapping[str, Circuit]) -> None:
    band = expected_resistance(shipped["tb-mu1"], "outlet.5", "outlet.2")
    assert (band.lower, band.upper) == (1e6, None)


def test_a_diode_leaves_the_upper_side_open_and_says_why(written: Callable[..., Circuit]) -> None:
    parts = "- {resistor: r, between: [in.1, x], resistance: 100 ohm ± 1 %}\n- {diode: d, between: [x, in.2]}"
    more = "outputs: [{output: dc, between: [in.1, in.2], volts: 1 V, source: made up}]\n"
    band = expected_resistance(written(parts, more=more), "in.1", "in.2")
    assert band.lower == pytest.approx(99 + 1, rel=1e-4)  # a sound diode adds an ohm at the least; common practice
    assert band.upper is None
    assert any("diode" in caution for caution in band.cautions)


def test_a_capacitor_is_no_path_but_is_warned_of(shipped: Mapping[str, Circuit]) -> None:
    band = expected_resistance(shipped["tb-ls1"], "input.red", "input.black")
    assert band.expected == pytest.approx(6.24, abs=0.01)
    assert any("discharge" in caution for caution in band.cautions)


def test_a_terminal_that_does_not_exist_is_refused_with_the_known_ones(shipped: Mapping[str, Circuit]) -> None:
    with pytest.raises(WiringProblem, match=r"no terminal 'outlet\.9'.*outlet\.1"):
        expected_resistance(shipped["tb-mu1"], "outlet.9", "outlet.1")


@given(
    low=st.lists(st.floats(0.5, 1e4), min_size=5, max_size=5),
    width=st.floats(0.0, 0.5),
    inside=st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5),
)
def test_every_circuit_inside_its_tolerances_reads_inside_the_band(
    network: Callable[..., Circuit], low: list[float], width: float, inside: list[float]
) -> None:
    ends = [(0, 1), (1, 2), (2, 0), (1, 3), (2, 3)]

    def reading(values: list[float]) -> float:
        circuit = network([(a, b, ohms) for (a, b), ohms in zip(ends, values, strict=True)])
        return dead_network(circuit, State(), Corner.nominal).resistance("n0", "n3")

    high = [ohms * (1 + width) for ohms in low]
    between = [a + (b - a) * share for a, b, share in zip(low, high, inside, strict=True)]
    assert reading(low) * (1 - 1e-9) <= reading(between) <= reading(high) * (1 + 1e-9)


def test_nothing_joins_means_infinite(written: Callable[..., Circuit]) -> None:
    network = dead_network(written(WINDING), State(), Corner.nominal)
    assert math.isinf(network.resistance("in.1", "in.3"))
    assert network.shares("in.1", "in.3") == {}
