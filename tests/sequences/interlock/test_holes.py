"""Ways round the interlock that an attacker found open once; each is shut now."""

import math
from dataclasses import replace

import pytest

from benchapp.files.locations import FileProblems
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.kinds.wait import WaitAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.people import ListedPerson, Right
from benchapp.sequences.planning.state import DueKind, FaultStatus, StepStatus
from tests.people import staffed
from tests.sequences.bench import BACK, Refused, Unit, plan_of
from tests.sequences.weakened import plan_with


@pytest.fixture
def unit():
    return Unit(plan=plan_of())


def rewire(unit):
    unit.answer("plug-rewire.inside", AskAnswer(answer="rewire it"))
    unit.answer("plug-rewire.rewire", WorkAnswer(done=unit.plan.step("plug-rewire.rewire").model.do))


def status(unit, address):
    return unit.state.steps[address].status


def test_a_charge_the_other_way_round_is_not_low(unit):
    unit.go_to("make-safe.low")
    unit.reads("make-safe.low", "-170 V")
    assert unit.state.energised
    unit.go_to("make-safe.low")
    unit.reads("make-safe.low", "-3 V")
    unit.go_to("make-safe.prove-again")
    assert unit.state.energised
    unit.answer("make-safe.prove-again", unit.good(unit.plan.step("make-safe.prove-again")))
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
    unit.entries = [e for e in unit.entries if getattr(e.content, "meter", "") != "tb-pm1"]
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
    for address in BACK:
        unit.do(address)
    for caution in unit.plan.stage("visual-inspection").cautions:
        unit.record(EntryKind.caution, caution=caution)
    unit.answer("visual-inspection.outside", unit.good(unit.plan.step("visual-inspection.outside")))
    unit.record(EntryKind.repair, part="high-b", done="mended", opened=[], fault=hazard.number)
    assert status(unit, "visual-inspection.outside") is StepStatus.stale
    assert status(unit, "plug-rewire.fuse-rating") is StepStatus.stale
    rows = {row.id: row.holds for row in unit.state.interlock[Supply.limited]}
    assert not rows["retest"]


def test_smoke_answered_on_the_page_is_not_made_unseen(unit):
    unit.go_to("first-power.signs")
    seen = unit.answer("first-power.signs", AskAnswer(answer="yes, and it is off"))
    unit.withdraw(seen)
    assert [fault.status for fault in unit.state.faults] == [FaultStatus.open]
    with pytest.raises(Refused):
        unit.answer("first-power.signs", AskAnswer(answer="none"))


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
    with pytest.raises(Refused, match="is no time at which “Hand meter, true RMS” was proved"):
        unit.record(EntryKind.meter, meter="tb-m1", proved="yesterday", overdue_accepted=False, lead_resistance=0.0)


def test_a_unit_that_may_be_live_is_not_scrapped(unit):
    unit.go_to("first-power.current")
    with pytest.raises(Refused, match="way back was not gone"):
        unit.record(EntryKind.disposition, disposition="scrap")


# The insulation tester's voltage --------------------------------------------------------------------------------------

TESTED = "insulation.live-to-case"


def test_the_testers_voltage_is_confirmed_with_the_set_up_and_kept_with_the_reading(unit):
    due = unit.go(lambda due: due.kind is DueKind.set_up and due.address == TESTED)
    assert due.items == ("switch on", "fuse in", "L and N joined", "tester at 500 V")
    unit.settle(due)
    assert unit.reads(TESTED, ">200 Mohm").content.test_voltage == 500.0


def test_an_insulation_reading_without_a_confirmed_voltage_is_refused(unit):
    unit.go_to(TESTED)
    content = evaluate(unit.plan, unit.state, TESTED, unit.good(unit.plan.step(TESTED)), at=unit.at).content
    for volts in (None, 250.0, 1000.0):
        with pytest.raises(Refused, match="insulation is tested at 500 V"):
            unit.record_content(EntryKind.answer, replace(content, test_voltage=volts), TESTED)


def test_another_voltage_than_the_region_states_cannot_be_confirmed(unit):
    due = unit.go(lambda due: due.kind is DueKind.set_up and due.address == TESTED)
    with pytest.raises(Refused, match="Still to set up: tester at 500 V"):
        unit.record(EntryKind.set_up, TESTED, items=[*due.items[:3], "tester at 250 V"])


def test_a_design_with_a_surge_suppressor_is_tested_at_the_lower_voltage(tmp_path):
    edit = ("bare metal: true\n", "bare metal: true\nsurge suppressor: true\n")
    unit = Unit(plan=plan_with(tmp_path, "resources/equipment/tb-mu1.yaml", edit))
    due = unit.go(lambda due: due.kind is DueKind.set_up and due.address == TESTED)
    assert due.items[-1] == "tester at 250 V"
    unit.go_to(TESTED)
    assert unit.reads(TESTED, ">200 Mohm").content.test_voltage == 250.0


# Waits ----------------------------------------------------------------------------------------------------------------

WAIT = "  - wait: rest\n    say: Let it rest.\n    time: 2 min\n  - ask: signs\n"
REST = "first-power.rest"


@pytest.fixture
def resting(tmp_path):
    """A unit on limited supply, two minutes to wait since its current was read."""
    unit = Unit(plan=plan_with(tmp_path, "sequences/first-power.yaml", ("  - ask: signs\n", WAIT)))
    unit.go_to(REST)
    return unit


@pytest.mark.parametrize("seconds", [math.nan, -1.0, -math.inf, math.inf])
def test_a_time_that_cannot_be_was_not_waited(resting, seconds):
    with pytest.raises(Refused, match="is no time that can have been waited"):
        resting.answer(REST, WaitAnswer(seconds=seconds))


def test_a_wait_is_not_over_before_its_time_has_passed_since_the_entry_before_it(resting):
    with pytest.raises(Refused, match=r"“First power, limited: lamp” was 30 s ago: 2 min cannot have been waited"):
        resting.answer(REST, WaitAnswer(seconds=120.0))
    resting.wait(seconds=30)
    with pytest.raises(Refused, match="cannot have been waited since"):
        resting.answer(REST, WaitAnswer(seconds=120.0))
    resting.wait(minutes=1)
    resting.answer(REST, WaitAnswer(seconds=120.0))


def test_what_is_only_said_during_a_wait_does_not_start_it_anew(resting):
    resting.wait(seconds=100)
    resting.record(EntryKind.note, words="hums a little")
    resting.answer(REST, WaitAnswer(seconds=120.0))


def test_more_than_has_passed_is_not_waited(resting):
    resting.wait(minutes=3)
    with pytest.raises(Refused, match="cannot have been waited since"):
        resting.answer(REST, WaitAnswer(seconds=3600.0))


def test_a_clock_set_back_has_waited_for_nothing(tmp_path):
    early = WAIT.replace("ask: signs", "inspect: outside")
    unit = Unit(plan=plan_with(tmp_path, "sequences/visual-inspection.yaml", ("  - inspect: outside\n", early)))
    unit.go_to("visual-inspection.rest")
    unit.wait(minutes=-4)
    unit.record(EntryKind.caution, caution="unplugged-work")
    with pytest.raises(Refused, match="was 0 s ago"):
        unit.answer("visual-inspection.rest", WaitAnswer(seconds=120.0))


def test_a_wait_of_no_time_lets_no_charge_go(tmp_path):
    edits = (("    time: from wiring\n", "    time: 1 s\n"),)
    with pytest.raises(FileProblems, match="it has to wait 30 s at least"):
        plan_with(tmp_path, "sequences/make-safe.yaml", *edits)


def test_a_wait_on_the_way_back_is_waited_too(tmp_path):
    edits = (("    time: from wiring\n", "    time: 120 s\n"),)
    unit = Unit(plan=plan_with(tmp_path, "sequences/make-safe.yaml", *edits))
    unit.go_to("make-safe.discharge")
    with pytest.raises(Refused, match="cannot have been waited since"):
        unit.answer("make-safe.discharge", WaitAnswer(seconds=120.0))


# A supervisor's opening -----------------------------------------------------------------------------------------------


@pytest.fixture
def waiting():
    """A unit in a workshop without an insulation tester, dead tests done by KT."""
    unit = Unit(plan=plan_of(workshop=staffed(insulation_tester=False)))
    unit.go(lambda due: due.kind is DueKind.shut)
    return unit


def plug_in(unit):
    unit.go(lambda due: due.address == "first-power.plug-in" and due.kind is DueKind.step)
    return unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


def opened_by(unit, by):
    return unit.record(EntryKind.supervisor_opening, "", by, reason="known design")


def why(unit):
    return {row.id: row for row in unit.state.interlock[Supply.limited]}["insulation"].why


@pytest.mark.parametrize("by", ["KT", " kt", "Kt ", "K.T.", "k t"])
def test_nobody_opens_a_unit_that_they_tested_themselves(waiting, by):
    with pytest.raises(Refused, match="another person looks at it and opens it"):
        opened_by(waiting, by)


def test_initials_on_no_list_may_be_anybodys_and_so_the_supervisors_own():
    """Cyrillic letters that look like SV: no other person, and no hand on the list."""
    unit = Unit(plan=plan_of(workshop=staffed(insulation_tester=False)), hand="ЅV")
    unit.go(lambda due: due.kind is DueKind.shut)
    with pytest.raises(Refused, match="is not on the list of people: put them on it, or test it again"):
        opened_by(unit, "SV")


def test_another_person_opens_it(waiting):
    opened_by(waiting, "SV")
    assert plug_in(waiting)


def test_an_opening_is_for_the_bench_day(waiting):
    opened_by(waiting, "SV")
    waiting.wait(hours=15)
    assert why(waiting) == "the supervisor's opening was for another day"
    with pytest.raises(Refused, match="opening was for another day"):
        waiting.answer("first-power.plug-in", waiting.good(waiting.plan.step("first-power.plug-in")))


def test_an_opening_falls_with_a_repair(waiting):
    opened_by(waiting, "SV")
    waiting.record(EntryKind.repair, part="high-b", done="mended", opened=[], fault=None)
    assert why(waiting) == "no insulation tester here: a named supervisor opens it, unit by unit"


def test_an_opening_before_the_dead_tests_opens_nothing():
    unit = Unit(plan=plan_of(workshop=staffed(insulation_tester=False)))
    opened_by(unit, "SV")
    unit.go(lambda due: due.kind is DueKind.shut)
    assert why(unit) == "dead tests were taken since the supervisor opened it"


def test_who_opens_it_first_and_tests_it_then_has_not_opened_it():
    people = (ListedPerson(name="Kit Thorne", initials="KT", rights=(Right.supervisor,)),)
    unit = Unit(plan=plan_of(workshop=staffed(insulation_tester=False, people=people)))
    opened_by(unit, "KT")
    unit.go(lambda due: due.kind is DueKind.shut)
    assert why(unit) == "KT tested this unit: another person opens it"


# Leads ----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"lead_resistance": 0.3, "nulled": True}, "Say one of the two"),
        ({"lead_resistance": -0.1}, "cannot be"),
        ({"lead_resistance": math.nan}, "cannot be"),
        ({"lead_resistance": 1e6}, "take other leads"),
    ],
)
def test_a_meter_with_leads_that_cannot_be_is_not_taken_in_hand(unit, said, words):
    with pytest.raises(Refused, match=words):
        unit.hold("tb-m1", **said)


# Facts that authors made up -------------------------------------------------------------------------------------------


def test_a_fact_of_an_authors_own_stales_the_steps_that_wait_for_it(tmp_path):
    ask = (
        "  - ask: lid\n    say: Which lid?\n    fact: lid\n    answers: [{answer: flat}, {answer: domed}]\n"
        "  - inspect: outside\n    when: {lid: [flat, domed]}\n"
    )
    unit = Unit(plan=plan_with(tmp_path, "sequences/visual-inspection.yaml", ("  - inspect: outside\n", ask)))
    from tests.sequences import bench

    bench.ASKS["visual-inspection.lid"] = "flat"
    unit.go_to("first-power.plug-in")
    unit.record(EntryKind.fact, facts={"lid": "domed"})
    assert status(unit, "visual-inspection.outside") is StepStatus.stale
