"""A danger that was found stays open when its answer is taken back, until somebody has looked again."""

import pytest

from benchapp.sequences.kinds.inspect import InspectAnswer
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import FaultStatus
from tests.sequences.bench import Refused, Unit

OUTSIDE = "visual-inspection.outside"


def looked(unit: Unit, **marks: str):
    good = unit.good(unit.plan.step(OUTSIDE)).marks
    return unit.answer(OUTSIDE, InspectAnswer(marks={**good, **marks}))


def status(unit: Unit) -> list[FaultStatus]:
    return [one.status for one in unit.state.faults]


@pytest.fixture
def scorched(unit: Unit) -> Unit:
    """One whose look found something burnt, and the look was taken back."""
    unit.go_to(OUTSIDE)
    unit.withdraw(looked(unit, heat="bad"))
    return unit


def test_a_found_danger_stays_open_when_its_answer_is_taken_back(scorched):
    assert [one.words for one in scorched.state.faults] == ["There are signs of overheating."]
    assert status(scorched) == [FaultStatus.open]
    assert scorched.state.faults[0].taken_back
    assert scorched.state.held
    with pytest.raises(Refused, match="do not use"):
        scorched.record(EntryKind.disposition, disposition="keep")


def test_looking_again_and_finding_nothing_closes_it(scorched):
    looked(scorched)
    assert status(scorched) == [FaultStatus.closed]
    assert not scorched.state.held
    scorched.go_to("first-power.plug-in")


def test_the_second_look_taken_back_opens_it_again(scorched):
    scorched.withdraw(looked(scorched))
    assert status(scorched) == [FaultStatus.open]


def test_the_second_look_that_finds_it_too_opens_one_more_and_closes_the_first(scorched):
    looked(scorched, heat="bad")
    assert status(scorched) == [FaultStatus.closed, FaultStatus.open]


def test_what_is_only_to_be_mended_goes_with_its_answer(unit):
    unit.go_to(OUTSIDE)
    unit.withdraw(looked(unit, rattle="bad"))
    assert unit.state.faults == ()


def test_a_dead_reading_of_a_danger_taken_back_keeps_mains_away_until_it_is_read_again(dead_tested):
    dead_tested.withdraw(dead_tested.reads("continuity.earth", "7 ohm"))
    rows = [one for supplied in dead_tested.state.interlock.values() for one in supplied if one.id == "faults"]
    assert rows
    assert not any(one.holds for one in rows)
    assert {one.go_to for one in rows} == {"continuity.earth"}
    dead_tested.go_to("first-power.plug-in")


def test_a_live_reading_of_a_danger_taken_back_can_be_read_again(unit):
    unit.go_to("first-power.current")
    unit.withdraw(unit.reads("first-power.current", "0 A"))
    assert status(unit) == [FaultStatus.open]
    unit.do("first-power.current")
    assert status(unit) == [FaultStatus.closed]


def test_the_step_that_is_asked_again_says_what_was_found_there(scorched):
    assert scorched.due.address == OUTSIDE
    assert scorched.due.words.startswith(
        "Found here, and taken back: There are signs of overheating. Look again: it stays open until then."
    )
