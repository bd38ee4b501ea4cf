"""Power that no step of the route put on the unit: under power before it came, and left while it is live."""

import pytest

from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind, StepStatus
from tests.sequences.bench import Refused, Unit, plan_of

ASKED = "visual-inspection.charge"
LEFT = {"event": "left, may be live", "note": "The fire alarm went.", "with_it": "Gwen Hale"}


@pytest.fixture
def fresh() -> Unit:
    """A recorder of which nobody knows whether it was plugged in yesterday."""
    unit = Unit(plan_of("recorder", "tb-rec1"))
    unit.go_to(ASKED)
    unit.answer(ASKED, AskAnswer(answer="yes, or nobody knows"))
    return unit


def test_the_first_thing_asked_of_what_may_hold_charge_is_whether_it_was_under_power():
    unit = Unit(plan_of("recorder", "tb-rec1"))
    assert unit.go(lambda due: due.kind is DueKind.step).address == ASKED


def test_what_holds_no_charge_is_not_asked():
    unit = Unit(plan_of("mains-unit", "tb-mu1"))
    assert unit.state.steps[ASKED].status is StepStatus.skipped


def test_a_design_with_capacitors_is_not_talked_out_of_its_charge():
    unit = Unit(plan_of("recorder", "tb-rec1"))
    with pytest.raises(Refused, match="would ask for less"):
        unit.record(EntryKind.fact, facts={"holds charge": "no"})


def test_hands_wait_for_the_way_back(fresh):
    assert fresh.state.energised
    assert not fresh.state.on_mains
    assert fresh.due.kind is not DueKind.step
    with pytest.raises(Refused, match="Go the way back first"):
        fresh.answer("visual-inspection.plug", AskAnswer(answer="rewirable"))
    with pytest.raises(Refused):
        fresh.record(EntryKind.opened, opened=["enclosure"], why="to look")


def test_taking_the_answer_back_lets_no_charge_go(fresh):
    fresh.withdraw(fresh.state.history[ASKED][-1])
    assert fresh.state.energised


def test_after_the_way_back_it_is_a_unit_like_any_other(fresh):
    fresh.finish()
    fresh.record(EntryKind.disposition, disposition="for sale")
    assert fresh.state.disposition == "for sale"


def test_one_that_lay_unplugged_goes_on_at_once():
    unit = Unit(plan_of("recorder", "tb-rec1"))
    unit.go_to(ASKED)
    unit.answer(ASKED, AskAnswer(answer="no, it has lain unplugged for a week or more"))
    assert not unit.state.energised


def test_a_unit_that_is_left_is_live_until_the_way_back_and_its_dead_tests_stand(dead_tested):
    dead_tested.record(EntryKind.event, **LEFT)
    state = dead_tested.state
    assert state.energised
    assert state.on_mains
    assert state.steps["continuity.earth"].status is StepStatus.done
    for address in ("make-safe.unplug", "make-safe.discharge"):
        dead_tested.go_to(address)
        dead_tested.settle(dead_tested.due)
    assert dead_tested.state.energised
    assert not dead_tested.state.on_mains


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"note": " "}, "with a reason and with the name"),
        ({"with_it": ""}, "with a reason and with the name"),
        ({"with_it": "a.b."}, "Somebody else is meant"),
        ({"event": "put away"}, "is none of"),
    ],
)
def test_nobody_leaves_it_without_a_reason_and_without_somebody_beside_it(dead_tested, said, words):
    with pytest.raises(Refused, match=words):
        dead_tested.record(EntryKind.event, "", "AB", **{**LEFT, **said})
