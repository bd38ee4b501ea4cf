"""Ways round the interlock that an attacker found open once; each is shut now."""

import pytest

from benchapp.sequences import AskGiven, EntryKind, FaultStatus, StepStatus, Supply, WorkGiven
from tests.sequences.bench import Refused, Unit, plan_of


@pytest.fixture
def unit():
    return Unit(plan=plan_of())


def rewire(unit):
    unit.answer("plug-rewire.inside", AskGiven(answer="rewire it"))
    unit.answer("plug-rewire.rewire", WorkGiven(done=unit.plan.step("plug-rewire.rewire").model.do))


def status(unit, address):
    return unit.state.steps[address].status


def test_a_charge_the_other_way_round_is_not_low(unit):
    unit.go_to("make-safe.low")
    unit.reads("make-safe.low", "-170 V")
    assert unit.state.energised
    unit.go_to("make-safe.low")
    unit.reads("make-safe.low", "-3 V")
    assert not unit.state.energised


def test_rewiring_the_plug_after_the_dead_tests_makes_them_stale(unit):
    unit.go_to("first-power.plug-in")
    rewire(unit)
    assert status(unit, "continuity.earth") is StepStatus.stale
    assert status(unit, "continuity.primary") is StepStatus.stale
    assert status(unit, "insulation.live-to-case") is StepStatus.stale
    assert status(unit, "plug-rewire.close") is StepStatus.stale
    with pytest.raises(Refused, match="Mains stays away"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


def test_rewiring_in_its_place_in_the_route_costs_no_step_twice(unit):
    unit.go_to("plug-rewire.inside")
    rewire(unit)
    assert [a for a, s in unit.state.steps.items() if s.status is StepStatus.stale] == []


def test_a_plug_that_was_not_put_together_keeps_mains_away(unit):
    unit.go_to("first-power.plug-in")
    closed = next(e for e in unit.entries if e.address == "plug-rewire.close")
    unit.withdraw(closed)
    with pytest.raises(Refused, match="the plug was inspected or rewired"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


def test_mains_does_not_come_on_before_its_meters_are_in_hand(unit):
    unit.go_to("first-power.plug-in")
    unit.entries = [e for e in unit.entries if e.content.get("meter") != "tb-pm1"]
    with pytest.raises(Refused, match="Take the meters in hand before mains comes on"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


def test_what_is_due_before_mains_comes_on_is_the_meter(unit):
    unit.go_to("first-power.plug-in")
    assert "tb-pm1" in unit.state.meters


def test_after_an_insulation_test_the_joined_pins_never_meet_a_socket(unit):
    unit.go_to("first-power.plug-in")
    step = unit.plan.step("insulation.live-to-case")
    unit.record(EntryKind.set_up, step.address, items=[*step.set_up, "tester at 500 V"])
    unit.reads(step.address, "5 Mohm")
    with pytest.raises(Refused, match="way back first"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


@pytest.mark.parametrize(
    ("part", "stale"),
    [
        ("plug-fuse", ("plug-rewire.fuse", "plug-rewire.fuse-rating", "visual-inspection.outside")),
        ("cord-neutral", ("visual-inspection.outside", "continuity.earth", "plug-rewire.plug-outside")),
        ("high", ("visual-inspection.outside", "continuity.earth", "insulation.live-to-case")),
    ],
)
def test_a_repair_opens_what_it_cannot_do_without(unit, part, stale):
    unit.go_to("first-power.plug-in")
    unit.record(EntryKind.repair, part=part, done="mended", opened=[], fault=None)
    assert {a: status(unit, a) for a in stale} == dict.fromkeys(stale, StepStatus.stale)


def test_after_a_hazard_the_whole_retest_comes_after_the_repair(unit):
    unit.go_to("first-power.current")
    hazard = unit.record(EntryKind.hazard, hazard="smoke", note="")
    for address in ("make-safe.unplug", "make-safe.discharge", "make-safe.low-to-case", "make-safe.low"):
        unit.answer(address, unit.good(unit.plan.step(address)))
    unit.answer("visual-inspection.outside", unit.good(unit.plan.step("visual-inspection.outside")))
    unit.record(EntryKind.repair, part="high-b", done="mended", opened=[], fault=hazard.number)
    assert status(unit, "visual-inspection.outside") is StepStatus.stale
    assert status(unit, "plug-rewire.fuse-rating") is StepStatus.stale
    rows = {row.id: row.holds for row in unit.state.interlock[Supply.limited]}
    assert not rows["retest"]


def test_smoke_answered_on_the_page_is_not_made_unseen(unit):
    unit.go_to("first-power.signs")
    seen = unit.answer("first-power.signs", AskGiven(answer="yes, off at the wall"))
    unit.withdraw(seen)
    assert [fault.status for fault in unit.state.faults] == [FaultStatus.open]
    with pytest.raises(Refused):
        unit.answer("first-power.signs", AskGiven(answer="none"))


def test_a_repair_under_another_parts_name_still_stales_what_the_fault_touched(unit):
    unit.go_to("first-power.plug-in")
    fault = unit.record(EntryKind.fault, "plug-rewire.plug-inside", part="plug", mode="crossed", words="crossed")
    unit.record(EntryKind.repair, part="high-b", done="mended", opened=[], fault=fault.number)
    assert status(unit, "plug-rewire.plug-outside") is StepStatus.stale
    assert status(unit, "continuity.fuse-out") is StepStatus.stale


def test_a_set_up_cannot_be_two_things_at_once(unit):
    unit.go(lambda due: due.address == "continuity.fuse-out")
    with pytest.raises(Refused, match="not set up with fuse in"):
        unit.record(EntryKind.set_up, "continuity.fuse-out", items=["switch on", "fuse out", "fuse in"])


def test_first_power_ages_like_the_dead_tests(unit):
    unit.go_to("live-voltage.plug-in")
    unit.wait(days=200)
    rows = {row.id: row.holds for row in unit.state.interlock[Supply.full]}
    assert not rows["limited power"]


def test_a_proof_of_a_meter_at_no_time_is_refused_in_a_sentence(unit):
    with pytest.raises(Refused, match="is no time at which tb-m1 was proved"):
        unit.record(EntryKind.meter, meter="tb-m1", proved="yesterday", overdue_accepted=False, lead_resistance=0.0)


def test_a_unit_that_may_be_live_is_not_scrapped(unit):
    unit.go_to("first-power.current")
    with pytest.raises(Refused, match="way back was not gone"):
        unit.record(EntryKind.disposition, disposition="scrap")
