"""Leads go onto pins that may be live only from a meter that was turned to volts with its leads off."""

import pytest

from benchapp.sequences.interlock.set_up import ON_VOLTS, items_in_force
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind
from tests.sequences.bench import BACK, Refused

LOW = BACK[2]


def at_the_first_low(unit):
    """A unit after full mains, its plug out and its charge gone, before anything is read."""
    unit.go(lambda due: due.kind is DueKind.set_up and due.address == LOW)
    return unit


def test_the_meter_is_turned_before_the_first_volts_of_the_way_back(dead_tested):
    unit = at_the_first_low(dead_tested)
    due = unit.due
    assert (due.kind, due.address, due.items[0]) == (DueKind.set_up, LOW, ON_VOLTS)
    with pytest.raises(Refused, match="leads off every pin"):
        unit.record(EntryKind.set_up, LOW, items=list(due.items[1:]))
    with pytest.raises(Refused, match="Make and confirm the set-up first"):
        unit.reads(LOW, "0.0 V")
    unit.record(EntryKind.set_up, LOW, items=list(due.items))
    unit.reads(LOW, "0.0 V")


def test_volts_after_volts_ask_for_no_turn(dead_tested):
    unit, asked = at_the_first_low(dead_tested), []
    unit.go(lambda due: (due.kind is DueKind.set_up and asked.append(due.items)) or due.address == BACK[-1])
    assert [ON_VOLTS in items for items in asked] == [True] + [False] * (len(asked) - 1)


def test_another_meter_in_hand_is_turned_too(dead_tested):
    unit = at_the_first_low(dead_tested)
    unit.do(LOW)
    unit.hold("tb-it1")
    due = unit.go(lambda due: due.kind is DueKind.set_up)
    assert ON_VOLTS in due.items
    in_force = items_in_force(unit.state.evaluation, unit.plan.step(due.address))
    assert ON_VOLTS not in in_force, "what a person has to do again is never shown as done"
    assert set(in_force) == set(due.items) - {ON_VOLTS}


def test_no_dead_reading_asks_for_it(unit):
    asked = []
    unit.go(lambda due: asked.append(due.items) or due.address == "insulation.live-to-outputs")
    assert not any(ON_VOLTS in items for items in asked)
