""" "OL" is what good insulation reads, and a broken lead too: it counts between two good checks of the leads alone."""

import pytest

from benchapp.judgement.statements.statements import Judgement
from benchapp.sequences.answering.meter_choice import meters_at_hand
from benchapp.sequences.history.unit_history import UnitHistory
from benchapp.sequences.interlock.fold import answering_state, look
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind, StepStatus
from tests.sequences.bench import Refused, Unit

HAND, OTHER = "“Hand meter, true RMS”", "“Hand meter, average responding”"

OPEN = "continuity.live-earth"


@pytest.fixture
def measuring(unit: Unit) -> Unit:
    """Leads proved once; the first "OL" is due."""
    unit.go_to("continuity.fuse-out")
    return unit


def held(unit: Unit, address: str) -> bool:
    return unit.state.steps[address].holds


def test_open_reading_is_refused_before_the_leads_were_proved(unit):
    unit.go_to("continuity.leads-before")
    unit.record(EntryKind.set_up, OPEN, items=["switch on", "fuse in"])
    with pytest.raises(Refused, match=f"Prove the leads of {HAND} first"):
        unit.reads(OPEN, "OL")


def test_open_reading_counts_only_once_the_leads_are_proved_again(measuring):
    measuring.go_to("continuity.leads-after")
    assert measuring.state.steps[OPEN].status is StepStatus.done
    assert not held(measuring, OPEN)
    measuring.reads("continuity.leads-after", "0.1 ohm")
    assert held(measuring, OPEN)


def test_leads_that_fail_afterwards_take_every_open_reading_with_them(measuring):
    measuring.go_to("continuity.leads-after")
    measuring.reads("continuity.leads-after", "OL")
    state = measuring.state
    assert state.steps[OPEN].status is StepStatus.stale
    assert state.steps["continuity.fuse-out"].status is StepStatus.stale
    assert state.steps["continuity.primary"].status is StepStatus.done
    assert state.due.address == "continuity.leads-before"
    assert state.due.kind is DueKind.step


def test_withdrawing_a_failed_check_of_the_leads_does_not_help(measuring):
    measuring.go_to("continuity.leads-after")
    measuring.withdraw(measuring.reads("continuity.leads-after", "OL"))
    assert not held(measuring, OPEN)
    measuring.reads("continuity.leads-after", "0.1 ohm")
    assert not held(measuring, OPEN)


def test_withdrawing_a_good_check_of_the_leads_takes_its_good(measuring):
    measuring.go_to("continuity.leads-after")
    entry = measuring.reads("continuity.leads-after", "0.1 ohm")
    assert held(measuring, OPEN)
    measuring.withdraw(entry)
    assert not held(measuring, OPEN)


def test_check_with_another_meter_proves_nothing(measuring):
    measuring.go_to("continuity.leads-after")
    measuring.hold("tb-m2")
    measuring.reads("continuity.leads-after", "0.1 ohm", "tb-m2")
    assert not held(measuring, OPEN)


def test_check_of_another_day_proves_nothing(measuring):
    measuring.go_to("continuity.leads-after")
    measuring.wait(days=1)
    measuring.record(EntryKind.caution, caution="unplugged-work")
    measuring.hold("tb-m1")
    measuring.reads("continuity.leads-after", "0.1 ohm")
    assert measuring.state.steps[OPEN].status is StepStatus.stale


def test_leads_are_proved_again_before_measuring_on_another_day(measuring):
    measuring.go_to("continuity.primary")
    measuring.wait(days=1)
    due = measuring.go(lambda due: due.kind is DueKind.step)
    assert due.address == "continuity.leads-before"


def test_finite_readings_need_no_proof_of_the_leads(measuring):
    assert held(measuring, "continuity.earth")


def test_leads_of_the_insulation_tester_are_proved_on_the_tester(unit):
    unit.go_to("insulation.leads-before")
    with pytest.raises(Refused, match=f"{HAND} has no function insulation"):
        unit.reads("insulation.leads-before", "0.1 ohm", "tb-m1")


def test_open_reading_where_a_value_is_expected_fails(measuring):
    measuring.go_to("continuity.primary")
    measuring.reads("continuity.primary", "OL")
    assert measuring.state.steps["continuity.primary"].status is StepStatus.failed


def test_open_reading_taken_again_wants_the_leads_proved_again(measuring):
    measuring.go_to("insulation.dry")
    measuring.record(EntryKind.set_up, OPEN, items=["switch on", "fuse in"])
    measuring.reads(OPEN, "OL")
    assert not held(measuring, OPEN)
    assert measuring.due.address == "continuity.leads-after"


def test_leads_proved_with_another_meter_count_for_that_one_and_the_way_on_is_said(measuring):
    measuring.hold("tb-m2")
    with pytest.raises(Refused, match=f"The leads of {HAND} were proved, which says nothing of {OTHER}'s") as said:
        measuring.reads("continuity.fuse-out", "OL", "tb-m2")
    assert f"Read with {HAND}, or prove the leads of {OTHER} first" in str(said.value)
    measuring.reads("continuity.leads-before", "0.1 ohm", "tb-m2")
    assert measuring.reads("continuity.fuse-out", "OL", "tb-m2").content.meter == "tb-m2"


def test_after_a_check_with_the_wrong_meter_the_right_one_is_named_and_offered(measuring):
    measuring.go_to("continuity.leads-after")
    measuring.hold("tb-m2")
    measuring.reads("continuity.leads-after", "0.1 ohm", "tb-m2")
    state = measuring.state
    assert state.due.address == "continuity.leads-after"
    assert state.steps["continuity.leads-after"].why == f"“OL” was read since: prove the leads of {HAND} again"
    assert state.steps[OPEN].why == f"counts once the leads of {HAND} are proved again"
    step = measuring.plan.step("continuity.leads-after")
    answering = answering_state(look(UnitHistory(measuring.plan, measuring.entries), at=measuring.at))
    assert meters_at_hand(measuring.plan, answering, step, measuring.at)[0] == "tb-m1"
    measuring.reads("continuity.leads-after", "0.1 ohm", "tb-m1")
    assert held(measuring, OPEN)


def test_an_open_earth_is_recorded_without_proof_of_leads_and_says_what_else_reads_so(unit):
    unit.go_to("continuity.earth")
    found = unit.reads("continuity.earth", "OL", "tb-it1").content
    assert found.judgement is Judgement.failed
    assert "prove the leads and read again" in found.faults[0].words
    assert unit.state.steps["continuity.earth"].status is StepStatus.failed


def test_an_open_reading_that_fails_is_recorded_before_the_leads_were_proved(unit):
    unit.go_to("continuity.leads-before")
    unit.record(EntryKind.set_up, "continuity.primary", items=["switch on", "fuse in"])
    assert unit.reads("continuity.primary", "OL").content.judgement is Judgement.failed
