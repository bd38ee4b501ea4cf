"""The conditions of a live step, each taken away from a unit that has all the others."""

from dataclasses import replace

import pytest

from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.interlock.set_up import ON_VOLTS
from benchapp.sequences.kinds.inspect import InspectAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import POWERED, EntryKind, Event
from benchapp.sequences.planning.state import StepStatus
from tests.sequences.bench import BACK, Refused, Unit, plan_of


def row(unit: Unit, name: str, supply: Supply = Supply.limited):
    return next(one for one in unit.state.interlock[supply] if one.id == name)


def refused(unit: Unit, address: str) -> str:
    with pytest.raises(Refused) as found:
        unit.answer(address, unit.good(unit.plan.step(address)))
    return str(found.value)


def test_every_condition_holds_when_first_power_is_due(dead_tested):
    assert {one.id for one in dead_tested.state.interlock[Supply.limited] if not one.holds} <= {"meter"}


def test_limited_supply_opens_before_full(dead_tested):
    missing = [one.id for one in dead_tested.state.interlock[Supply.full] if not one.holds]
    assert "limited power" in missing
    assert "limited supply was good" in refused(dead_tested, "live-voltage.plug-in")


@pytest.mark.parametrize(
    ("address", "role"),
    [
        ("visual-inspection.outside", "visual"),
        ("plug-rewire.plug-outside", "plug"),
        ("plug-rewire.plug-inside", "plug"),
        ("plug-rewire.fuse-rating", "plug"),
        ("continuity.earth", "earth continuity"),
        ("continuity.live-earth", "polarity"),
        ("continuity.primary", "primary continuity"),
        ("insulation.live-to-case", "insulation"),
        ("insulation.live-to-outputs", "insulation"),
    ],
)
def test_withdrawing_any_dead_test_shuts_first_power(dead_tested, address, role):
    dead_tested.withdraw(dead_tested.state.history[address][-1])
    assert not row(dead_tested, role).holds
    assert row(dead_tested, role).go_to == address
    assert "Mains stays away" in refused(dead_tested, "first-power.plug-in")


def test_texts_looser_than_what_is_shipped_shut_all_but_the_way_back():
    unit = Unit(plan_of("mains-unit", "tb-mu1"))
    unit.go_to("continuity.earth")
    looser = (
        "The texts by which it is tested ask for less than this program: gb.yaml:66:12. Begin a new run of this unit."
    )
    unit.plan = replace(unit.plan, looser=looser)
    assert row(unit, "texts").why == row(unit, "texts", Supply.full).why == looser
    assert refused(unit, "continuity.earth") == looser
    assert looser.rstrip(".") in refused(unit, "first-power.plug-in")
    assert unit.answer("make-safe.unplug", unit.good(unit.plan.step("make-safe.unplug")))


def test_selector_and_inside_fuse_must_be_confirmed_where_there_are_any():
    unit = Unit(plan_of("recorder", "tb-rec1"))
    unit.go_to("first-power.plug-in")
    for address, name in (("selector", "selector"), ("inside-fuse", "internal fuse")):
        unit.withdraw(unit.state.history[f"visual-inspection.{address}"][-1])
        assert not row(unit, name).holds


def test_conditional_pass_does_not_open_mains(dead_tested):
    """A primary so near its limit that the meter cannot tell: done as a step, not enough for mains."""
    band = dead_tested.plan.step("continuity.primary").band
    dead_tested.record(EntryKind.set_up, "continuity.primary", items=["switch on", "fuse in"])
    entry = dead_tested.reads("continuity.primary", f"{band.upper - 0.3:.1f} ohm")
    assert entry.content.judgement == "conditional pass"
    assert dead_tested.state.steps["continuity.primary"].status is StepStatus.done
    assert not row(dead_tested, "primary continuity").holds
    assert "conditional pass is not enough" in row(dead_tested, "primary continuity").why


def test_insulation_taken_before_the_primary_counts_for_nothing(dead_tested):
    dead_tested.record(EntryKind.set_up, "continuity.primary", items=["switch on", "fuse in"])
    dead_tested.reads("continuity.primary", "485 ohm")
    assert dead_tested.state.steps["insulation.live-to-case"].status is StepStatus.stale
    assert "primary" in row(dead_tested, "insulation").why


def test_open_primary_keeps_the_insulation_test_away(unit):
    unit.go_to("continuity.primary")
    unit.reads("continuity.primary", "OL")
    unit.record(EntryKind.fault, "continuity.primary", part="primary", mode="open", words="open primary")
    for due in iter(lambda: unit.due, None):
        if due.kind.value == "repair":
            break
        unit.settle(due)
    unit.record(EntryKind.caution, caution="insulation-test")
    assert "primary is whole" in refused_insulation(unit)


def refused_insulation(unit: Unit) -> str:
    for address in ("continuity.outputs/outlet.1-plug.L", "continuity.leads-after"):
        assert address in unit.plan.by_address
    for step in unit.plan.stage("continuity").steps:
        if unit.state.steps[step.address].status is StepStatus.open:
            unit.answer(step.address, unit.good(step))
    unit.answer("insulation.dry", unit.good(unit.plan.step("insulation.dry")))
    unit.hold("tb-it1")
    unit.reads("insulation.leads-before", "0.1 ohm", "tb-it1")
    items = [*unit.plan.step("insulation.live-to-case").set_up, "tester at 500 V"]
    with pytest.raises(Refused) as found:
        unit.record(EntryKind.set_up, "insulation.live-to-case", items=items)
    return str(found.value)


@pytest.mark.parametrize(
    ("facts", "name", "words"),
    [
        ({"class": "unknown"}, "class", "find the mark"),
        ({"class": "0"}, "class", "not for sale"),
        ({"class": "III"}, "class", "never from mains"),
        ({"live chassis": "yes"}, "chassis", "isolating transformer"),
        ({"cord cores": "2"}, "cord", "three-core cord"),
    ],
)
def test_construction_that_is_not_for_this_bench_is_shut_with_what_to_do_instead(dead_tested, facts, name, words):
    dead_tested.record(EntryKind.fact, facts=facts)
    assert not row(dead_tested, name).holds
    assert words in row(dead_tested, name).why
    refused(dead_tested, "first-power.plug-in")


def test_a_mains_unit_is_not_said_to_take_no_mains(dead_tested):
    with pytest.raises(Refused, match="would ask for less"):
        dead_tested.record(EntryKind.fact, facts={"mains fed": "no"})


@pytest.mark.parametrize("event", sorted(set(Event) - POWERED))
def test_event_makes_dead_tests_old(dead_tested, event):
    dead_tested.record(EntryKind.event, event=event.value, note="")
    assert not row(dead_tested, "insulation").holds
    assert not row(dead_tested, "earth continuity").holds
    refused(dead_tested, "first-power.plug-in")


def test_after_damp_it_must_be_dry_before_mains(dead_tested):
    dead_tested.record(EntryKind.event, event="damp", note="")
    assert row(dead_tested, "dry").go_to == "insulation.dry"
    assert not row(dead_tested, "dry").holds


def test_dead_tests_age_by_the_workshops_days(dead_tested):
    dead_tested.wait(days=31)
    state = dead_tested.state
    assert state.steps["continuity.earth"].status is StepStatus.stale
    assert state.due.address == "visual-inspection.plug" or state.due.address.startswith("visual-inspection")
    refused(dead_tested, "first-power.plug-in")


def test_age_says_nothing_about_a_unit_that_is_checked_and_kept(checked):
    checked.record(EntryKind.disposition, disposition="keep")
    checked.wait(days=400)
    assert checked.state.complete


def test_caution_is_read_again_on_another_day(dead_tested):
    dead_tested.settle(dead_tested.due) if dead_tested.due.kind.value == "caution" else None
    dead_tested.wait(days=1)
    assert not row(dead_tested, "caution").holds
    assert "caution" in refused(dead_tested, "first-power.plug-in")


def test_caution_is_read_again_after_a_repair(dead_tested):
    dead_tested.record(EntryKind.repair, part="low", done="resoldered", opened=[], fault=None, parts_used=[])
    assert not row(dead_tested, "caution").holds


def test_live_reading_needs_a_meter_that_was_proved_today(unit):
    unit.proved = False
    unit.go_to("insulation.live-to-outputs")
    unit.answer("insulation.live-to-outputs", unit.good(unit.plan.step("insulation.live-to-outputs")))
    unit.answer("make-safe.unplug", unit.good(unit.plan.step("make-safe.unplug")))
    unit.do("make-safe.discharge")
    unit.record(EntryKind.set_up, BACK[2], items=[ON_VOLTS, "switch on", "fuse in"])
    with pytest.raises(Refused, match="not proved at today's bench opening"):
        unit.reads("make-safe.low-to-touched/case", "0 V")


def test_proof_of_yesterday_is_none_today(dead_tested):
    dead_tested.go_to("first-power.current")
    dead_tested.wait(days=1)
    with pytest.raises(Refused):
        dead_tested.reads("first-power.current", "0.015 A")


def test_current_from_the_mains_is_read_at_a_plug_in_meter_alone(dead_tested):
    dead_tested.go_to("first-power.current")
    dead_tested.hold("tb-m1")
    with pytest.raises(Refused, match="never with probes"):
        dead_tested.reads("first-power.current", "0.015 A", "tb-m1")


def test_overdue_meter_is_refused_unless_knowingly_accepted(unit):
    unit.wait(days=40)
    with pytest.raises(Refused, match="due on 2026-06-10"):
        unit.hold("tb-m2")
    unit.hold("tb-m2", overdue_accepted=True)


def test_open_fault_on_the_supply_side_keeps_mains_away(dead_tested):
    dead_tested.record(EntryKind.fault, part="cord-live", mode="open", words="cut core")
    assert not row(dead_tested, "faults").holds
    refused(dead_tested, "first-power.plug-in")


def test_open_fault_on_the_output_side_lets_mains_through(dead_tested):
    dead_tested.record(EntryKind.fault, part="low-a-twin", mode="open", words="joint at pin 4")
    assert row(dead_tested, "faults").holds


def test_fault_that_says_do_not_use_keeps_mains_away_wherever_it_is(dead_tested):
    dead_tested.record(EntryKind.fault, part="low-a-twin", mode="open", words="joint at pin 4", severity="do not use")
    assert not row(dead_tested, "faults").holds


def test_fault_of_an_unknown_part_is_taken_to_touch_the_supply(dead_tested):
    dead_tested.record(EntryKind.fault, part="thingummy", mode="", words="something is loose")
    assert not row(dead_tested, "faults").holds


def test_plug_that_was_destroyed_never_sees_mains_again(dead_tested):
    dead_tested.record(EntryKind.plug_destroyed, note="worn")
    assert not row(dead_tested, "plug there").holds
    refused(dead_tested, "first-power.plug-in")


def test_unit_set_aside_is_not_powered(dead_tested):
    dead_tested.record(EntryKind.disposition, disposition="hold", note="")
    assert not row(dead_tested, "held").holds


def test_hazard_shuts_everything_until_repair_and_a_full_retest(dead_tested):
    dead_tested.go_to("first-power.current")
    dead_tested.record(EntryKind.hazard, hazard="smoke", note="")
    state = dead_tested.state
    assert state.held
    assert state.disposition == "hold"
    assert state.energised
    due = dead_tested.go(lambda due: due.kind.value == "repair")
    dead_tested.record(
        EntryKind.repair, part="primary", done="new transformer", opened=["enclosure"], fault=int(due.subject)
    )
    assert dead_tested.due.address == "visual-inspection.old-hazards"
    assert not row(dead_tested, "retest").holds
    dead_tested.finish()
    assert dead_tested.state.complete


def test_step_shut_by_the_interlock_says_which_conditions_are_missing(unit):
    unit.settle(unit.due)
    with pytest.raises(Refused) as found:
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))
    assert "the visual inspection holds: not done yet" in str(found.value)
    rows = unit.state.interlock[Supply.limited]
    assert {one.id for one in rows if not one.holds} >= {"visual", "plug", "polarity", "earth continuity", "insulation"}
    assert all(one.go_to for one in rows if one.id in ("visual", "plug", "polarity", "earth continuity"))


def test_bad_visual_mark_keeps_mains_away_until_it_is_mended_and_seen_again(unit):
    unit.go_to("visual-inspection.outside")
    step = unit.plan.step("visual-inspection.outside")
    marks = {**unit.good(step).marks, "cord": "bad"}
    unit.answer(step.address, InspectAnswer(marks=marks))
    fault = unit.state.faults[0]
    assert (fault.part, fault.severity, fault.status.value) == ("cord", "do not use", "open")
    assert unit.due.kind.value == "repair"
    unit.record(EntryKind.repair, part="cord", done="new cord", opened=["cord"], fault=fault.entry)
    assert unit.state.faults[0].status.value == "repaired"
    unit.go_to(step.address)
    unit.answer(step.address, unit.good(step))
    assert unit.state.faults[0].status.value == "closed"


def test_fold_at_an_earlier_clock_never_makes_old_tests_fresh(dead_tested):
    """A clock set back proves nothing: the tests count as too old."""
    state = fold(dead_tested.plan, dead_tested.entries, at="2020-01-01T00:00:00+00:00")
    assert not next(one for one in state.interlock[Supply.limited] if one.id == "earth continuity").holds


SAFETY_ROLES = {"visual", "plug", "polarity", "earth continuity", "primary continuity", "insulation", "leads proved"}


@pytest.mark.parametrize(
    ("route", "equipment"), [("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1")]
)
def test_whichever_dead_test_is_taken_back_mains_stays_away(route, equipment):
    """Selector and internal fuse too, where the design has them."""
    ready = Unit(plan=plan_of(route, equipment))
    ready.go_to("first-power.plug-in")
    wanted = SAFETY_ROLES | {"selector", "internal fuse"}
    dead = [one for one in ready.plan.steps if {str(role) for role in one.shows} & wanted]
    taken = [one for one in dead if any(e.address == one.address for e in ready.entries)]
    assert len(taken) >= 12
    for step in taken:
        unit = Unit(plan=ready.plan, entries=list(ready.entries), now=ready.now)
        unit.withdraw([e for e in unit.entries if e.address == step.address and e.kind is EntryKind.answer][-1])
        with pytest.raises(Refused, match="Mains stays away"):
            unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))
