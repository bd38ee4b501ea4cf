"""What a unit has of its own moves its bands, its retest scope, and what a judgement taken again finds."""

import pytest

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import StepStatus
from benchapp.sequences.planning.terminals import circuit_now
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.live import expected_voltage
from tests.sequences.bench import Refused, Unit, plan_of

PRIMARY = "continuity.primary"


def band_at(unit: Unit, address: str):
    given = ReadingAnswer(typed="480 ohm", meter="tb-m1")
    return evaluate(unit.plan, unit.state, address, given, at=unit.now.isoformat()).band


def test_the_band_of_a_dead_reading_follows_the_units_own_cord_and_fuse():
    design, own = Unit(plan=plan_of()), Unit(plan=plan_of())
    own.record(EntryKind.fact, facts={"cord length": "20 m", "cord area": "0.5 mm²", "plug fuse rating": "1 A"})
    before, after = band_at(design, PRIMARY), band_at(own, PRIMARY)
    assert before == design.plan.step(PRIMARY).band
    circuit = circuit_now(own.plan, own.state.facts)
    assert after == expected_resistance(circuit, "plug.L", "plug.N", state=own.plan.step(PRIMARY).circuit_state)
    # two cores of 20 m × 0.5 mm² against 1.8 m × 0.75 mm² at 58 MS/m (IEC 60028), and 0.1 V across a cold link
    expected = 2 * (20 / (58e6 * 0.5e-6) - 1.8 / (58e6 * 0.75e-6)) + 0.1 - 0.1 / 3
    assert after.expected - before.expected == pytest.approx(expected, rel=1e-6)
    assert any(line.source == "this unit's own facts" for line in after.derivation)


def test_another_unit_of_the_same_plan_keeps_the_designs_band():
    plan = plan_of()
    own = Unit(plan=plan)
    own.record(EntryKind.fact, facts={"cord length": "20 m"})
    assert band_at(own, PRIMARY) != plan.step(PRIMARY).band
    assert band_at(Unit(plan=plan), PRIMARY) == plan.step(PRIMARY).band


@pytest.mark.parametrize(("length", "primary_too"), [("4 m", False), ("25 m", True)])
def test_a_cord_recorded_later_asks_anew_for_the_readings_that_it_shifts(length, primary_too):
    unit = Unit(plan=plan_of())
    unit.go_to("first-power.plug-in")
    unit.record(EntryKind.fact, facts={"cord area": "0.5 mm²"})
    unit.record(EntryKind.fact, facts={"cord length": length})
    stale = {address for address, state in unit.state.steps.items() if state.status is StepStatus.stale}
    assert "continuity.earth" in stale
    assert (PRIMARY in stale) is primary_too
    assert not stale & {"continuity.outputs/outlet.1-outlet.2", "continuity.fuse-out"}


def test_a_selector_setting_moves_live_bands_and_stales_the_primary():
    unit = Unit(plan=plan_of(route="recorder", equipment="tb-rec1"))
    unit.record(EntryKind.fact, facts={"selector setting": "220"})
    circuit = circuit_now(unit.plan, unit.state.facts)
    mains = KnownQuantity(value_si=240.0, what="mains", source="made up")
    pair = ("plug.L", "plug.N")
    assert expected_voltage(circuit, *pair, mains=mains).expected == pytest.approx(240.0, rel=1e-3)
    ohms = [expected_resistance(c, *pair).expected for c in (unit.plan.circuit, circuit)]
    assert ohms[0] - ohms[1] == pytest.approx(52 * (1 - 220 / 240), rel=1e-3)


def test_a_selector_setting_that_the_design_does_not_have_is_refused():
    unit = Unit(plan=plan_of(route="recorder", equipment="tb-rec1"))
    with pytest.raises(Refused, match="no position of this design's voltage selector: 240 V, 220 V"):
        unit.record(EntryKind.fact, facts={"selector setting": "110 V"})
    with pytest.raises(Refused, match="it has none"):
        Unit(plan=plan_of()).record(EntryKind.fact, facts={"selector setting": "110 V"})
