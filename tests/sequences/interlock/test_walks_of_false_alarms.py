"""F12 struck by mistake: looked at once and said so, the unit goes on where it was; a real one is not talked away."""

from typing import Any

import pytest

from benchapp.sequences.planning.false_alarms import LOOKS
from benchapp.sequences.planning.state import FaultStatus
from tests.sequences.bench import Refused
from tests.sequences.interlock.walking import (
    CLASS_ONE,
    FULL,
    LIMITED,
    against,
    assert_open,
    assert_shut,
    go_back,
    make_ready,
    ready,
    retake,
    take,
    topics,
)
from tests.sequences.interlock.watched import EntryKind, Watched

MISTAKE = "The key was struck while reaching for F11."


def smoke(unit: Watched) -> int:
    return int(unit.record(EntryKind.hazard, "", "MH", hazard="smoke", note="").number)


def call_it_off(unit: Watched, number: int, **otherwise: Any) -> None:
    said = {"hazard": number, "reason": MISTAKE, "looked": list(LOOKS), **otherwise}
    unit.record(EntryKind.false_alarm, "", "MH", **said)


def holding(unit: Watched) -> dict[str, int | None]:
    """The steps of the route that hold, each with its answer."""
    states = ((step.address, unit.state.steps[step.address]) for step in unit.plan.steps)
    return {address: state.entry for address, state in states if state.holds}


def stays_shut(unit: Watched, topic: str = "faults") -> None:
    """Neither the oracle nor the program lets mains come, with all at hand that it takes."""
    make_ready(unit)
    assert topic in topics(against(unit, LIMITED))
    with pytest.raises(Refused):
        take(unit, LIMITED)


def refused(unit: Watched, number: int, words: str, **otherwise: Any) -> None:
    with pytest.raises(Refused, match=words):
        call_it_off(unit, number, **otherwise)
    stays_shut(unit)


def test_after_a_look_the_unit_goes_on_without_its_dead_tests_again():
    unit = ready(CLASS_ONE, FULL)
    before = holding(unit)
    number = smoke(unit)
    assert unit.state.disposition == "hold"
    go_back(unit)
    call_it_off(unit, number)
    assert holding(unit) == before
    assert unit.state.disposition == "quarantine"
    assert unit.state.faults[-1].status is FaultStatus.closed
    make_ready(unit)
    unit.go_to(FULL)
    assert_open(unit, FULL)


def test_the_caution_is_read_again_and_what_was_set_up_is_set_up_again():
    unit = ready(CLASS_ONE, LIMITED)
    number = smoke(unit)
    go_back(unit)
    call_it_off(unit, number)
    assert_shut(unit, LIMITED, "caution")


def test_before_the_way_back_nobody_has_looked():
    unit = ready(CLASS_ONE, LIMITED)
    refused(unit, smoke(unit), "Go the way back first")


@pytest.mark.parametrize(
    ("otherwise", "words"),
    [
        ({"reason": " "}, "needs its reason"),
        ({"looked": []}, "Look at this too"),
        *(({"looked": [one for one in LOOKS if one != left]}, "Look at this too") for left in LOOKS),
    ],
)
def test_without_a_reason_or_a_look_it_is_none(otherwise, words):
    unit = ready(CLASS_ONE, LIMITED)
    number = smoke(unit)
    go_back(unit)
    refused(unit, number, words, **otherwise)


def test_a_day_later_nobody_can_look_any_more():
    unit = ready(CLASS_ONE, LIMITED)
    number = smoke(unit)
    go_back(unit)
    unit.wait(days=1)
    refused(unit, number, "noticed on another day")


def test_what_was_mended_was_no_false_alarm():
    unit = ready(CLASS_ONE, LIMITED)
    number = smoke(unit)
    go_back(unit)
    unit.record(EntryKind.repair, part="primary", done="new", opened=["enclosure"], fault=number)
    with pytest.raises(Refused, match="it was no false alarm"):
        call_it_off(unit, number)
    retake(unit, but=["visual-inspection.plug"])
    make_ready(unit)
    assert_shut(unit, LIMITED, "retest")


def test_a_live_reading_that_failed_says_it_too():
    unit = ready(CLASS_ONE, LIMITED)
    for address, typed in (("first-power.plug-in", ""), ("first-power.current", "0.5 A")):
        take(unit, address, typed)
    number = smoke(unit)
    go_back(unit)
    refused(unit, number, "that was no false alarm")


def test_a_hazard_is_called_off_once_and_another_one_stands():
    unit = ready(CLASS_ONE, LIMITED)
    first, second = smoke(unit), smoke(unit)
    go_back(unit)
    call_it_off(unit, first)
    with pytest.raises(Refused, match="is no smoke"):
        call_it_off(unit, first)
    stays_shut(unit)
    call_it_off(unit, second)
    make_ready(unit)
    assert_open(unit, LIMITED)


def test_what_has_become_old_beside_it_stays_old():
    unit = ready(CLASS_ONE, LIMITED)
    unit.record(EntryKind.event, "", "MH", event="fall", note="")
    number = smoke(unit)
    go_back(unit)
    call_it_off(unit, number)
    stays_shut(unit, "visual")


def test_a_switch_that_tripped_is_no_slip_of_the_key():
    unit = ready(CLASS_ONE, LIMITED)
    number = int(unit.record(EntryKind.hazard, "", "MH", hazard="RCD or fuse tripped", note="").number)
    go_back(unit)
    refused(unit, number, "is no slip of the key")
