"""From power to hands: each step of the way back left out, or taken back, while all else is good."""

from datetime import timedelta

import pytest

from benchapp.sequences.interlock.set_up import ON_VOLTS
from benchapp.sequences.planning.state import DueKind
from tests.sequences.bench import BACK
from tests.sequences.interlock.careless import PROBE
from tests.sequences.interlock.edits import EDITS
from tests.sequences.interlock.slips import Act, at_once, record
from tests.sequences.interlock.walking import (
    CLASS_ONE,
    FULL,
    LIMITED,
    ROUTES,
    SELECTOR,
    against,
    go_back,
    make_ready,
    place_of,
    prepare,
    ready,
    take,
    topics,
    try_to,
    well,
    withdraw,
)
from tests.sequences.interlock.watched import EntryKind, Refused

TOUCHES: dict[str, Act] = {
    "look": lambda unit: take(unit, "visual-inspection.outside"),
    "read ohms": lambda unit: take(unit, "continuity.leads-before"),
    "ask": lambda unit: take(unit, "visual-inspection.plug"),
    "repair": record(EntryKind.repair, part="low", done="resoldered", opened=[], fault=None),
    "open": record(EntryKind.opened, opened=["enclosure"], why="to look"),
    "cut the plug off": record(EntryKind.plug_destroyed, note="worn"),
    "test the insulation": lambda unit: take(unit, "insulation.live-to-case"),
}


@pytest.mark.parametrize("touch", TOUCHES)
@pytest.mark.parametrize("left_out", BACK)
def test_no_hand_comes_near_before_every_step_of_the_way_back(left_out, touch):
    unit = ready(CLASS_ONE, FULL)
    unit.hold("tb-m1")
    for address in BACK:
        if address != left_out:
            try_to(lambda address=address: take(unit, address))
    with pytest.raises(Refused):
        TOUCHES[touch](unit)
    go_back(unit)
    TOUCHES[touch](unit)


def test_a_charge_is_not_said_to_be_gone_before_half_a_minute_has_passed():
    unit = ready(CLASS_ONE, FULL)
    well(unit, "make-safe.unplug")
    for seconds in (0.0, 5.0, 24.0):
        at_once(seconds)(unit)
        assert topics(against(unit, "make-safe.discharge")) == {"wait"}
        with pytest.raises(Refused, match="cannot have been waited since"):
            well(unit, "make-safe.discharge")
    at_once(30.0)(unit)
    well(unit, "make-safe.discharge")


@pytest.mark.parametrize("address", BACK)
def test_a_step_of_the_way_back_that_was_taken_back_was_not_gone(address):
    for target in (LIMITED, FULL):
        unit = ready(CLASS_ONE, target)
        go_back(unit)
        withdraw(unit, address)
        with pytest.raises(Refused):
            take(unit, "visual-inspection.outside")


@pytest.mark.parametrize("address", BACK[2:-1])
@pytest.mark.parametrize("typed", ["25.1 V", "-26 V", "230 V"])
def test_a_voltage_that_is_not_low_sends_back_to_the_plug(address, typed):
    unit = ready(CLASS_ONE, FULL)
    go_back(unit)
    unit.reads(address, typed)
    with pytest.raises(Refused):
        take(unit, "visual-inspection.outside")
    with pytest.raises(Refused):
        well(unit, LIMITED)
    with pytest.raises(Refused):
        unit.reads("make-safe.low", "0 V")
    go_back(unit)
    take(unit, "visual-inspection.outside")


ENERGISERS: dict[str, Act] = {
    "an insulation test": lambda unit: take(unit, "insulation.live-to-outputs"),
    "a live step": lambda unit: well(unit, LIMITED),
    "a hazard": record(EntryKind.hazard, hazard="hum", note=""),
}


@pytest.mark.parametrize("what", ENERGISERS)
def test_after_all_that_may_leave_a_charge_the_way_back_comes_first(what):
    unit = ready(CLASS_ONE)
    ENERGISERS[what](unit)
    with pytest.raises(Refused):
        take(unit, "visual-inspection.outside")
    go_back(unit)
    take(unit, "visual-inspection.outside")


@pytest.mark.parametrize("what", ["an insulation test", "a live step"])
def test_an_answer_taken_back_leaves_its_charge(what):
    unit = ready(CLASS_ONE)
    ENERGISERS[what](unit)
    unit.withdraw(unit.entries[-1])
    with pytest.raises(Refused):
        take(unit, "visual-inspection.outside")


@pytest.mark.parametrize("route", ROUTES)
def test_pins_that_an_insulation_test_joined_never_meet_a_socket(route):
    unit = ready(route)
    take(unit, "insulation.live-to-outputs")
    make_ready(unit)
    assert "way back" in topics(against(unit, LIMITED))
    with pytest.raises(Refused):
        well(unit, LIMITED)


def test_one_insulation_test_may_follow_another():
    unit = ready(CLASS_ONE)
    take(unit, "insulation.live-to-case")
    take(unit, "insulation.live-to-outputs")


def test_low_is_proved_with_a_meter_that_was_proved_today():
    unit = ready(CLASS_ONE, FULL)
    unit.hold("tb-m1", proved=False)
    for address in BACK[:2]:
        take(unit, address)
    unit.hold("tb-m1", proved=False)
    unit.record(EntryKind.set_up, BACK[2], items=[ON_VOLTS, "switch on", "fuse in"])
    with pytest.raises(Refused, match="not proved"):
        unit.reads(BACK[2], "0 V")
    take(unit, BACK[2])


def test_low_is_read_with_the_item_switched_on():
    unit = ready(CLASS_ONE, FULL)
    unit.hold("tb-m1")
    for address in BACK[:2]:
        take(unit, address)
    unit.record(EntryKind.caution, caution="stored-charge")
    with pytest.raises(Refused, match="switch on, fuse in"):
        well(unit, BACK[2])
    take(unit, BACK[2])


def test_low_is_read_with_its_caution_read():
    unit = ready(CLASS_ONE, FULL)
    unit.hold("tb-m1")
    unit.wait(hours=15)
    well(unit, BACK[0])
    with pytest.raises(Refused, match="caution"):
        well(unit, BACK[1])


def test_a_wait_for_the_charge_is_waited():
    """By the times of the entries, whatever a page said."""
    unit = ready(CLASS_ONE, FULL)
    unit.move_to(place_of(CLASS_ONE, EDITS["a wait for the charge"]))
    well(unit, "make-safe.unplug")
    unit.record(EntryKind.caution, caution="stored-charge")
    unit.now -= timedelta(seconds=20)
    with pytest.raises(Refused):
        well(unit, "make-safe.discharge")
    unit.wait(seconds=15)
    well(unit, "make-safe.discharge")


@pytest.mark.parametrize("edit", ["a word for the meter proved again", "what can be touched is not read"])
def test_a_way_back_that_leaves_something_out_leads_to_no_hands(edit):
    """A file that was never checked, as one pinned by a stranger."""
    unit = ready(CLASS_ONE, FULL)
    unit.move_to(place_of(CLASS_ONE, EDITS[edit]))
    unit.hold("tb-m1")
    for step in unit.plan.way_back:
        take(unit, step.address)
    with pytest.raises(Refused, match="way back"):
        TOUCHES["look"](unit)


def probed_live(unit):
    probed = {**PROBE, "meter": "tb-m1", "supply": "full", "mains": 240.0}
    return unit.record(EntryKind.note, words="Probed live.", probed=probed)


@pytest.mark.parametrize("later", [timedelta(minutes=8), timedelta(minutes=-11)], ids=["too long", "clock set back"])
def test_a_live_search_ends_after_a_quarter_of_an_hour(later):
    unit = ready(CLASS_ONE, FULL)
    unit.go_to("live-voltage.outputs/outlet.1-2")
    probed_live(unit)
    unit.wait(minutes=8)
    take(unit, "live-voltage.mains")
    probed_live(unit)
    unit.now += later
    take(unit, "live-voltage.mains")
    with pytest.raises(Refused, match="end after 15 minutes"):
        probed_live(unit)


def test_a_plug_out_that_was_taken_back_begins_no_search_anew():
    unit = ready(CLASS_ONE, FULL)
    unit.go_to("live-voltage.outputs/outlet.1-2")
    probed_live(unit)
    unit.wait(minutes=8)
    take(unit, BACK[0])
    withdraw(unit, BACK[0])
    unit.wait(minutes=8)
    take(unit, "live-voltage.mains")
    prepare(unit, "live-voltage.outputs/outlet.1-2")
    with pytest.raises(Refused, match="end after 15 minutes"):
        probed_live(unit)


ACROSS = {
    "make-safe.low-inside/reservoir": "rail to screen",
    "make-safe.low-inside/output-left": "left out to line 3",
    "make-safe.low-inside/output-right": "right out to line 5",
}
"""each reservoir of the receiver, and what it lies across"""
INSIDE = tuple(ACROSS)


def opened(unit):
    return unit.record(EntryKind.opened, opened=["enclosure"], why="to look")


def mend_inside(unit):
    return unit.record(EntryKind.repair, part="rectifier", done="new", opened=["enclosure"], fault=None)


def test_no_hand_goes_in_before_each_reservoir_reads_low():
    unit = ready(SELECTOR, FULL)
    go_back(unit)
    for address, across in ACROSS.items():
        with pytest.raises(Refused, match=f"Before hands go in, read voltage left, {across}:"):
            mend_inside(unit)
        take(unit, address)
    mend_inside(unit)


def test_hands_on_a_part_that_no_drawing_shows_read_the_reservoirs_first():
    """It may sit anywhere: only what is outside of any case is mended with the case closed."""
    unit = ready(SELECTOR, FULL)
    go_back(unit)
    with pytest.raises(Refused, match="Before hands go in, read voltage left, rail to screen:"):
        unit.record(EntryKind.repair, part="works", done="wiped", opened=[], fault=None)
    unit.record(EntryKind.repair, part="knob", done="tightened", opened=[], fault=None)


def test_a_fault_of_a_part_that_no_drawing_shows_leads_to_the_reservoirs():
    unit = ready(SELECTOR, FULL)
    go_back(unit)
    unit.record(EntryKind.fault, part="works", words="It does not play.", severity="mend")
    assert unit.due.address == INSIDE[0]
    for address in INSIDE:
        take(unit, address)
    assert unit.due.kind is DueKind.repair


def test_once_the_case_is_open_its_reservoirs_come_before_every_touch():
    unit = ready(SELECTOR, FULL)
    go_back(unit)
    opened(unit)
    assert unit.due.address == INSIDE[0]
    with pytest.raises(Refused, match="Before hands go in"):
        take(unit, "visual-inspection.outside")
    for address in INSIDE:
        take(unit, address)
    take(unit, "visual-inspection.outside")


def test_a_reservoir_that_is_not_low_sends_back_to_the_plug():
    unit = ready(SELECTOR, FULL)
    go_back(unit)
    opened(unit)
    take(unit, INSIDE[0], "31 V")
    with pytest.raises(Refused):
        mend_inside(unit)
    go_back(unit)
    for address in INSIDE:
        take(unit, address)
    mend_inside(unit)
