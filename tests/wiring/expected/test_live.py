"""Live readings: mains, regulation, phases, loads, and what is not judged."""

import math
from collections.abc import Callable, Mapping
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.actions.standalone.circuits import read_circuit
from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.limits.own_figures import with_own_sources
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.first_power import expected_current
from benchapp.wiring.expected.limiters import Lamp
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Circuit, Load, State, WiringProblem

TWO = """
- {{winding: primary, between: [in.1, in.2], rated: 240 V supply, resistance: 400 ohm}}
- {{winding: first, between: [out.1, out.2], rated: 9 V off load, resistance: 1 ohm}}
- {{winding: second, between: {second}, rated: {rated} off load, resistance: 1 ohm}}
"""


def mains(volts: float, uncertainty: float = 0.0) -> KnownQuantity:
    return KnownQuantity(value_si=volts, standard_uncertainty=uncertainty, what="mains", source="plug-in meter")


def volts(circuit: Circuit, a: str, b: str, at: float = 240.0) -> float | None:
    return expected_voltage(circuit, a, b, mains=mains(at)).expected


def test_the_rule_of_regulation_and_mains(shipped: Mapping[str, Circuit]) -> None:
    # rated × (measured mains / rated mains) × (1 + regulation), transformer makers' definition; confirmed
    assert volts(shipped["tb-mu1"], "outlet.1", "outlet.2", 243.0) == pytest.approx(9 * 243 / 240 * 1.14, rel=1e-6)


def test_a_load_at_the_rated_current_brings_back_the_rated_voltage(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    loads = (Load(a="outlet.1", b="outlet.2", ohms=9 / 0.6), Load(a="outlet.2", b="outlet.3", ohms=18 / 0.12))
    band = expected_voltage(circuit, "outlet.1", "outlet.2", mains=mains(240.0), loads=loads)
    assert band.expected == pytest.approx(9.0, rel=0.015)
    assert any(line.what == "load" for line in band.derivation)


def test_a_load_on_one_output_pulls_the_other_down_through_the_shared_primary(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    alone = volts(circuit, "outlet.2", "outlet.3")
    load = (Load(a="outlet.1", b="outlet.2", ohms=15.0),)
    loaded = expected_voltage(circuit, "outlet.2", "outlet.3", mains=mains(240.0), loads=load).expected
    assert alone is not None
    assert loaded is not None
    assert 0.90 < loaded / alone < 0.98


@pytest.mark.parametrize(
    ("second", "expected"), [("[out.2, out.3]", 15.0), ("[out.3, out.2]", 3.0)], ids=["in phase", "in anti-phase"]
)
def test_windings_in_series_add_or_subtract_by_their_dots(
    written: Callable[..., Circuit], second: str, expected: float
) -> None:
    circuit = written(TWO.format(second=second, rated="6 V"))
    assert volts(circuit, "out.1", "out.3") == pytest.approx(expected, rel=1e-6)


def test_a_centre_tap_reads_half_of_the_whole(written: Callable[..., Circuit]) -> None:
    parts = "- {winding: primary, between: [in.1, in.2], resistance: 400 ohm}\n"
    parts += "- {winding: whole, between: [out.1, out.3], rated: 18 V off load, resistance: 2 ohm, "
    parts += "taps: [{at: out.2, rated: 9 V off load}]}\n"
    circuit = written(parts)
    assert volts(circuit, "out.1", "out.2") == pytest.approx(9.0, rel=1e-6)
    assert volts(circuit, "out.2", "out.3") == pytest.approx(9.0, rel=1e-6)
    assert volts(circuit, "out.1", "out.3") == pytest.approx(18.0, rel=1e-6)


def test_equal_windings_in_parallel_keep_their_voltage(written: Callable[..., Circuit]) -> None:
    parts = TWO.format(second="[out.1, out.2]", rated="9 V")
    assert volts(written(parts), "out.1", "out.2") == pytest.approx(9.0, rel=1e-6)


def test_unequal_windings_in_parallel_meet_by_their_resistances(written: Callable[..., Circuit]) -> None:
    # 9 V and 6 V behind 1 ohm each meet at 7.5 V (Millman's theorem). The 1.5 A that circulate take 9 × 1.5 - 6 × 1.5
    # = 4.5 VA from the core, 18.75 mA through the primary's 400 ohm: 7.5 V of 240 V, or 1/32, is lost before the core.
    parts = TWO.format(second="[out.1, out.2]", rated="6 V")
    assert volts(written(parts), "out.1", "out.2") == pytest.approx(7.5 / (1 + 1 / 32), rel=1e-6)


def test_a_primary_that_is_open_leaves_nothing(shipped: Mapping[str, Circuit]) -> None:
    band = expected_voltage(
        shipped["tb-mu1"], "outlet.1", "outlet.2", mains=mains(240.0), state=State(fuses_in=frozenset())
    )
    assert band.expected == 0.0


def test_the_selector_at_220_raises_the_output(shipped: Mapping[str, Circuit], written: Callable[..., Circuit]) -> None:
    parts = "- {switch: sel, selector: true, positions: {240 V: [[in.1, p.240]], 220 V: [[in.1, p.220]]}}\n"
    parts += "- {winding: primary, between: [in.2, p.240], rated: 240 V supply, resistance: 400 ohm, "
    parts += "taps: [{at: p.220, rated: 220 V supply}]}\n"
    parts += "- {winding: low, between: [out.1, out.2], rated: 9 V off load, resistance: 1 ohm}\n"
    circuit = written(parts)
    at_220 = expected_voltage(circuit, "out.1", "out.2", mains=mains(240.0), state=State(selector="220 V"))
    assert at_220.expected == pytest.approx(9 * 240 / 220, rel=1e-6)


def test_an_unused_pin_is_a_ghost_and_not_judged(shipped: Mapping[str, Circuit]) -> None:
    band = expected_voltage(shipped["tb-mu1"], "outlet.1", "outlet.5", mains=mains(240.0))
    assert (band.lower, band.upper, band.expected) == (None, None, None)
    assert "ghost" in band.cautions[0]


def test_a_stated_output_takes_its_own_band_and_source(shipped: Mapping[str, Circuit]) -> None:
    band = expected_voltage(shipped["tb-rec1"], "line.2", "line.3", mains=mains(240.0))
    assert band.upper == pytest.approx(0.02)
    assert "service data" in band.derivation[0].source


def test_without_a_mains_reading_the_whole_legal_range_counts(shipped: Mapping[str, Circuit]) -> None:
    profile = build_model(read_document(shipped_folder("resources") / "limits" / "gb.yaml"), LimitProfile)
    measured = expected_voltage(shipped["tb-mu2"], "output.inner", "output.outer", mains=mains(234.6))
    legal = expected_voltage(shipped["tb-mu2"], "output.inner", "output.outer", mains=None, profile=profile)
    assert measured.lower is not None
    assert legal.lower is not None
    # 216.2 V to 253.0 V: ESQCR 2002; confirmed (law)
    assert legal.lower / measured.lower == pytest.approx(216.2 / 234.6, rel=1e-6)
    assert "legal range" in legal.cautions[0]


def test_a_mains_range_that_is_partly_a_workshop_s_own_names_both_sources(shipped: Mapping[str, Circuit]) -> None:
    gb = build_model(read_document(shipped_folder("resources") / "limits" / "gb.yaml"), LimitProfile)
    mains = gb.mains.model_copy(update={"below": gb.mains.below.model_copy(update={"value": Decimal(3)})})
    own = with_own_sources(gb.model_copy(update={"mains": mains}), gb, "ours.yaml")
    legal = expected_voltage(shipped["tb-mu2"], "output.inner", "output.outer", mains=None, profile=own)
    (line,) = [line for line in legal.derivation if line.what == "mains, not measured"]
    assert line.source == (
        "ESQCR 2002, S.I. 2002/2665, regulation 27 (number from memory); "
        "10 %: ESQCR 2002, S.I. 2002/2665; 3 %: this workshop's own figure (ours.yaml)"
    )


def test_nothing_tells_the_mains(shipped: Mapping[str, Circuit]) -> None:
    with pytest.raises(WiringProblem, match="nothing tells the mains voltage"):
        expected_voltage(shipped["tb-mu1"], "outlet.1", "outlet.2", mains=None)


def test_a_loudspeaker_has_no_live_reading(shipped: Mapping[str, Circuit]) -> None:
    with pytest.raises(WiringProblem, match="has no supply"):
        expected_voltage(shipped["tb-ls1"], "input.red", "input.black", mains=mains(240.0))


def test_the_mains_readings_uncertainty_widens_the_band(shipped: Mapping[str, Circuit]) -> None:
    sharp = expected_voltage(shipped["tb-mu1"], "outlet.1", "outlet.2", mains=mains(240.0))
    vague = expected_voltage(shipped["tb-mu1"], "outlet.1", "outlet.2", mains=mains(240.0, 2.4))
    assert sharp.upper is not None
    assert vague.upper is not None
    assert vague.upper / sharp.upper == pytest.approx(1.02)


@pytest.mark.parametrize(("rated", "low", "high"), [("9 V on load", 1.05, 1.35), ("9 V", 1.0, 1.35)])
def test_unknown_regulation_takes_a_broad_range_called_common_practice(
    written: Callable[..., Circuit], rated: str, low: float, high: float
) -> None:
    parts = "- {winding: primary, between: [in.1, in.2], resistance: 400 ohm}\n"
    parts += f"- {{winding: low, between: [out.1, out.2], rated: {rated}, resistance: 1 ohm, tolerance: 0 %}}\n"
    band = expected_voltage(written(parts), "out.1", "out.2", mains=mains(240.0))
    assert band.lower == pytest.approx(9 * low, rel=1e-6)
    assert band.upper == pytest.approx(9 * high, rel=1e-6)
    assert any("common practice" in line.source for line in band.derivation)


def test_first_power_current_has_both_ends(shipped: Mapping[str, Circuit]) -> None:
    band = expected_current(shipped["tb-mu1"], Lamp(watts=60, mains=240), mains=240)
    assert band.lower == pytest.approx(0.2322 * 8 / 240, rel=0.01)  # between 5 VA (30 %) and 10 VA (20 %)
    assert band.upper == pytest.approx(0.6644 * 8 / 240, rel=0.01)
    low = expected_current(shipped["tb-mu1"], Lamp(watts=60, mains=216), mains=216)
    assert (low.lower or 0) < (band.lower or 0)  # less mains, less current


@given(volts_in=st.floats(100, 300), ohms=st.floats(5, 1e4))
def test_a_resistive_load_only_ever_pulls_down(shipped: Mapping[str, Circuit], volts_in: float, ohms: float) -> None:
    circuit = shipped["tb-mu2"]
    free = expected_voltage(circuit, "output.inner", "output.outer", mains=mains(volts_in)).expected
    load = (Load(a="output.inner", b="output.outer", ohms=ohms),)
    loaded = expected_voltage(circuit, "output.inner", "output.outer", mains=mains(volts_in), loads=load).expected
    assert free is not None
    assert loaded is not None
    assert 0 < loaded < free


def test_a_winding_rated_off_load_may_be_low_in_voltage_and_high_in_resistance_at_once(
    written: Callable[..., Circuit],
) -> None:
    parts = "- {winding: primary, between: [in.1, in.2], resistance: 1 ohm}\n"
    parts += (
        "- {winding: low, between: [out.1, out.2], rated: 10 V off load, resistance: 1 ohm ± 50 %, tolerance: 5 %}\n"
    )
    load = (Load(a="out.1", b="out.2", ohms=9.0),)
    band = expected_voltage(written(parts), "out.1", "out.2", mains=mains(240.0), loads=load)
    # 10 V through 1 ohm into 9 ohm is 9 V. The corners: 9.5 V behind 1.5 ohm of copper at 35 °C, 10.5 V behind 0.5 ohm
    # at 15 °C (0.00393 per kelvin, IEC 60228); the primary's 1 ohm, 1/576 of it on this side, moves it by a thousandth
    warm, cold = 1.5 * (1 + 0.00393 * 15), 0.5 * (1 - 0.00393 * 5)
    assert band.expected == pytest.approx(9.0, rel=1e-3)
    assert band.lower == pytest.approx(9.5 * 9 / (9 + warm), rel=1e-3)
    assert band.upper == pytest.approx(10.5 * 9 / (9 + cold), rel=1e-3)
    assert any("15 °C to 35 °C" in line.value for line in band.derivation)


@pytest.mark.parametrize("ohms", [15.0, 60.0, 600.0])
def test_the_shared_primary_lowers_every_output_by_its_own_drop(shipped: Mapping[str, Circuit], ohms: float) -> None:
    # closed form: with i = e f / (R + R_load) in the one winding, the primary carries i e / V, and f = 1 - R_p i e / V²
    circuit = shipped["tb-mu1"]
    low = next(branch for branch in circuit.branches if branch.part == "low")
    assert low.emf is not None
    assert low.working is not None
    path = sum(
        max(branch.resistance.nominal, 0.001)
        for branch in circuit.branches
        if branch.part in ("plug-fuse", "cord-live", "cord-neutral", "primary") and branch.resistance is not None
    )
    joints = 2 * 0.02  # the joints at pins 1 and 2 carry the current too
    flux = 1 / (1 + path * low.emf.nominal**2 / 240.0**2 / (ohms + low.working.nominal + joints))
    load = (Load(a="outlet.1", b="outlet.2", ohms=ohms),)
    other = expected_voltage(circuit, "outlet.2", "outlet.3", mains=mains(240.0), loads=load).expected
    alone = volts(circuit, "outlet.2", "outlet.3")
    assert alone is not None
    current = low.emf.nominal * flux / (ohms + low.working.nominal + joints)
    # the return wire at pin 2 is shared as well: its drop adds to the output that is not loaded
    assert other == pytest.approx(alone * flux + 0.02 * current, rel=1e-4)


@pytest.mark.parametrize(("micro", "kilo"), [(3.3, 1.0), (0.47, 4.7), (100.0, 0.1)])
def test_a_capacitor_divides_as_its_reactance_at_mains_frequency(
    written: Callable[..., Circuit], micro: float, kilo: float
) -> None:
    # |V_C| = V X / sqrt((R + R_w)² + X²) with X = 1 / (2 pi 50 Hz C): the textbook divider, recomputed
    circuit = written(
        f"""
        - {{winding: primary, between: [in.1, in.2], resistance: 1 ohm}}
        - {{winding: low, between: [out.1, out.2], rated: 12 V off load, resistance: 0.5 ohm}}
        - {{resistor: series, between: [out.1, out.3], resistance: {kilo} kohm}}
        - {{capacitor: across, between: [out.3, out.2], capacitance: {micro} µF}}
        """
    )
    reactance = 1 / (2 * math.pi * 50 * micro * 1e-6)
    whole = math.hypot(kilo * 1e3 + 0.5, reactance)
    assert volts(circuit, "out.3", "out.2") == pytest.approx(12 * reactance / whole, rel=2e-3)
    assert (
        expected_resistance(circuit, "out.3", "out.2").upper is not None
    )  # an ohmmeter sees winding and resistor only


AUTOTRANSFORMER = """\
equipment: halver
title: Autotransformer
class: II
supply: {voltage: 230 V, frequency: 50 Hz, power: 100 VA}
cord: {length: 2 m, area: 0.75 mm², cores: 2}
plug: rewirable
live chassis: true
connectors: {plug: gb-13a-plug, outlet: din-5-180}
circuit:
  - {fuse: plug-fuse, between: [plug.L, cord.L], rating: 3 A, place: plug}
  - {link: cord-live, between: [cord.L, mains.L], cord core: true}
  - {link: cord-neutral, between: [plug.N, mains.N], cord core: true}
  - winding: only
    between: [mains.N, mains.L]
    rated: 230 V supply
    resistance: 11.5 ohm ± 10 %
    taps: [{at: half, rated: 115 V supply}]
  - {link: to-1, between: [half, outlet.1]}
  - {link: to-2, between: [mains.N, outlet.2]}
  - {link: to-3, between: [mains.L, outlet.3]}
"""


def test_the_tap_of_an_autotransformer_has_the_tolerance_of_its_turns(tmp_path: Path) -> None:
    path = tmp_path / "halver.yaml"
    path.write_text(AUTOTRANSFORMER, encoding="utf-8")
    circuit = read_circuit(str(path))
    tap = expected_voltage(circuit, "outlet.1", "outlet.2", mains=mains(243.0))
    through = expected_voltage(circuit, "outlet.3", "outlet.2", mains=mains(243.0))
    by = assumptions.TURNS_TOLERANCE
    assert (tap.lower, tap.expected, tap.upper) == pytest.approx((121.5 * (1 - by), 121.5, 121.5 * (1 + by)), rel=1e-3)
    assert any(reason.what == "turns up to the tap" for reason in tap.derivation)
    assert (through.lower, through.upper) == pytest.approx((243.0, 243.0), rel=1e-3)
    # a load drops some of it over copper, which takes nothing away from what the turns may be
    load = (Load(a="outlet.1", b="outlet.2", ohms=200.0),)
    loaded = expected_voltage(circuit, "outlet.1", "outlet.2", mains=mains(243.0), loads=load)
    assert loaded.expected is not None
    assert loaded.lower is not None
    assert loaded.upper is not None
    assert loaded.lower < loaded.expected * (1 - by)
    assert loaded.upper > loaded.expected * (1 + by)
    other = expected_voltage(circuit, "outlet.3", "outlet.2", mains=mains(243.0), loads=load)
    assert other.lower == pytest.approx(243.0, rel=0.005)
