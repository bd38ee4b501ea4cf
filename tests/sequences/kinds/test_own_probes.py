"""What a unit's own cord asks for are steps of its run; a change makes the right ones stale and loses nothing."""

import pytest

from benchapp.sequences.history.retest import scope_of
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.state import StepStatus
from tests.people import staffed
from tests.sequences.bench import Refused, Unit, catalogue, plan_of

LEAD = ("continuity.lead/plug.L-mains.L", "continuity.lead/plug.N-mains.N", "continuity.lead/plug.E-chassis")
INSULATION = "insulation.live-to-case"
AUTHORED = """\
sequence: pins
title: The plug's own pins
steps:
  - measure: leads-before
    say: Tips together.
    function: resistance
    accept: at most 1 ohm
    shows: [leads proved]
  - probe: plug
    say: At the plug.
    connector: plug
    what: [unused, isolation]
"""
ROUTE = "route: pins-only\ntitle: Pins\nequipment: [tb-mu1]\nsequences: [pins]\n"
LEFT_OVER = "pins.plug/plug.L-plug.E"


def status(unit: Unit, address: str) -> StepStatus:
    return unit.state.steps[address].status


def with_lead(value: str = "yes") -> Unit:
    unit = Unit(plan=plan_of())
    unit.record(EntryKind.fact, facts={"detachable lead": value})
    return unit


def test_a_fixed_cord_is_asked_for_no_lead():
    unit = Unit(plan=plan_of())
    assert {status(unit, address) for address in LEAD} == {StepStatus.skipped}


def test_a_unit_whose_lead_comes_off_reads_it_by_itself_first():
    unit = with_lead()
    assert {status(unit, address) for address in LEAD} == {StepStatus.open}
    positions = [unit.plan.step(address).position for address in (*LEAD, "continuity.earth")]
    assert positions == sorted(positions)
    due = unit.go_to(LEAD[0])
    assert due.address == LEAD[0]
    assert unit.plan.step(LEAD[0]).set_up == ("lead off",)
    assert unit.plan.step(LEAD[0]).say.startswith("Take the lead off and read it by itself")


def test_the_whole_route_can_be_done_with_it():
    unit = with_lead()
    unit.finish()
    assert {status(unit, address) for address in LEAD} == {StepStatus.done}
    assert unit.state.steps["live-voltage.mains"].status is StepStatus.done


def test_a_recorder_s_own_lead_is_read_and_one_with_a_fixed_cord_has_none():
    recorder = Unit(plan=plan_of(route="recorder", equipment="tb-rec1"))
    mine = [address for address in recorder.state.steps if address.startswith("continuity.lead/")]
    assert len(mine) == 3
    assert {status(recorder, address) for address in mine} == {StepStatus.open}
    recorder.record(EntryKind.fact, facts={"detachable lead": "no"})
    assert {status(recorder, address) for address in mine} == {StepStatus.skipped}


def test_a_crossed_or_broken_lead_fails_by_itself():
    unit = with_lead()
    unit.go_to(LEAD[0])
    unit.reads(LEAD[0], "OL")
    assert unit.state.steps[LEAD[0]].status is StepStatus.failed or not unit.state.steps[LEAD[0]].holds


def test_a_lead_said_of_during_the_run_asks_for_its_probes_and_keeps_every_answer():
    unit = Unit(plan=plan_of())
    unit.go_to("first-power.plug-in")
    answers = {one.number: one.content for one in unit.entries if one.kind is EntryKind.answer}
    unit.record(EntryKind.fact, facts={"detachable lead": "yes"})
    assert {status(unit, address) for address in LEAD} == {StepStatus.open}
    assert status(unit, "continuity.earth") is StepStatus.stale
    assert status(unit, "continuity.primary") is StepStatus.stale
    assert status(unit, "continuity.outputs/outlet.1-outlet.2") is StepStatus.done
    kept = {one.number: one.content for one in unit.entries if one.kind is EntryKind.answer}
    assert kept == answers


def test_a_lead_that_proves_to_be_fixed_keeps_the_readings_and_asks_for_them_no_more():
    unit = with_lead()
    unit.go_to("first-power.plug-in")
    before = len(unit.entries)
    unit.record(EntryKind.fact, facts={"detachable lead": "no"})
    assert {status(unit, address) for address in LEAD} == {StepStatus.skipped}
    assert {one.address for one in unit.entries if one.kind is EntryKind.answer} >= set(LEAD)
    assert len(unit.entries) == before + 1
    unit.record(EntryKind.fact, facts={"detachable lead": "yes"})
    assert {status(unit, address) for address in LEAD} == {StepStatus.stale}  # it was another lead, for all we know


def test_taking_the_lead_off_again_asks_for_the_dead_tests_again():
    unit = with_lead()
    unit.go_to("first-power.plug-in")
    assert unit.state.steps[INSULATION].holds
    lead = next(one for one in unit.entries if one.address == LEAD[1])
    unit.withdraw(lead)
    unit.record(EntryKind.set_up, LEAD[1], items=["lead off"])
    unit.reads(LEAD[1], "0.06 ohm")
    for address in (INSULATION, "continuity.earth", "continuity.primary", "continuity.fuse-out"):
        assert status(unit, address) is StepStatus.stale
    with pytest.raises(Refused):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


def test_a_repaired_core_makes_its_own_probe_stale_and_no_other_core_s():
    scope = scope_of(plan_of(), "cord-neutral", ())
    assert LEAD[1] in scope
    assert LEAD[0] not in scope
    assert {"continuity.primary", "continuity.earth", INSULATION} <= set(scope)  # the cord was opened


def test_two_cores_add_the_left_over_pin_and_keep_mains_shut():
    texts = {**catalogue().texts, "pins.yaml": AUTHORED, "pins-only.yaml": ROUTE}
    plan = make_plan(catalogue_from_texts(texts), "pins-only", "tb-mu1", staffed())
    unit = Unit(plan=plan)
    assert status(unit, LEFT_OVER) is StepStatus.skipped
    unit.record(EntryKind.fact, facts={"cord cores": "2"})
    assert status(unit, LEFT_OVER) is StepStatus.open
    whole = Unit(plan=plan_of())
    whole.record(EntryKind.fact, facts={"cord cores": "2"})
    row = next(row for row in whole.state.interlock["full"] if row.id == "cord")
    assert not row.holds
    assert status(whole, "continuity.earth") is StepStatus.open  # asked for all the same, and it fails


@pytest.mark.parametrize("facts", [{"detachable lead": "yes"}, {"cord cores": "2"}, {"detachable lead": "no"}])
@pytest.mark.parametrize("where", [("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1")])
def test_no_cord_of_a_unit_takes_a_condition_or_a_step_that_shows_one_away(where, facts):
    design, own = (Unit(plan=plan_of(route=where[0], equipment=where[1])) for _ in range(2))
    own.record(EntryKind.fact, facts=facts)
    for supply, rows in design.state.interlock.items():
        shut = {row.id for row in rows if not row.holds}
        assert shut <= {row.id for row in own.state.interlock[supply] if not row.holds}
    for step in design.plan.steps:
        if step.shows and status(design, step.address) is not StepStatus.skipped:
            assert status(own, step.address) is not StepStatus.skipped
