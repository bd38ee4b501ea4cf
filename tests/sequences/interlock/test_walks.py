"""All is good but one condition: the live step stays shut, and with that one mended it opens."""

from datetime import datetime, timedelta

import pytest

from tests.sequences.interlock.slips import SLIPS, Slip, fault, moved, never
from tests.sequences.interlock.walking import (
    CLASS_ONE,
    FULL,
    LIMITED,
    ROUTES,
    against,
    assert_open,
    assert_shut,
    make_ready,
    place_of,
    ready,
    retake,
    take,
    try_to,
)
from tests.sequences.interlock.watched import TICK, EntryKind, Watched


def walk(route: str, slip: Slip) -> None:
    unit = ready(route, slip.target, tester=slip.tester)
    assert against(unit, slip.target) == []
    slip.spoil(unit)
    assert_shut(unit, slip.target, slip.condition)
    if slip.mend is not never:
        slip.mend(unit)
        unit.go_to(slip.target)
        assert_open(unit, slip.target)


@pytest.mark.parametrize(("route", "name"), [(route, name) for name, slip in SLIPS.items() for route in slip.routes])
def test_with_that_slip_alone_mains_stays_shut_until_it_is_mended(route, name):
    walk(route, SLIPS[name])


def test_full_mains_never_opens_without_an_insulation_test():
    unit = ready(CLASS_ONE, LIMITED, tester=False)
    unit.go(lambda due: due.kind.value not in ("step", "caution", "meter", "set-up"))
    make_ready(unit)
    assert_shut(unit, FULL, "insulation")


def test_whoever_tested_it_does_not_open_it():
    unit = ready(CLASS_ONE, LIMITED, tester=False)
    unit.record(EntryKind.event, event="fall", note="")
    retake(unit)
    make_ready(unit)
    try_to(lambda: unit.record(EntryKind.supervisor_opening, "", " kt", reason="known"))
    assert_shut(unit, LIMITED, "insulation")


def test_what_somebody_on_no_list_tested_is_opened_by_nobody():
    """The letters look like MH, and are Cyrillic."""
    unit = ready(CLASS_ONE, LIMITED, tester=False)
    unit.record(EntryKind.event, event="fall", note="")
    unit.hand = "МН"
    retake(unit)
    unit.hand = "KT"
    make_ready(unit)
    try_to(lambda: unit.record(EntryKind.supervisor_opening, "", "MH", reason="known"))
    assert_shut(unit, LIMITED, "insulation")


@pytest.mark.parametrize("route", ROUTES)
def test_a_wholly_good_unit_goes_all_the_way_to_its_sale(route):
    """The oracle hears every step of it: it has nothing against any, and the program refuses none."""
    unit = Watched.of(place_of(route, ordered=True))
    unit.finish()
    unit.record(EntryKind.disposition, "", "MH", disposition="for sale")
    assert unit.live_accepted >= 8


@pytest.mark.parametrize(("late", "opens"), [(0, True), (1, False)])
def test_a_dead_test_serves_to_the_last_second_of_the_workshops_days(late, opens):
    unit = ready(CLASS_ONE)
    oldest = next(one for one in unit.told if one.kind == "answer")
    unit.now = datetime.fromisoformat(oldest.at) + timedelta(days=30, seconds=late) - 3 * TICK
    make_ready(unit)
    if opens:
        assert_open(unit, LIMITED)
    else:
        assert_shut(unit, LIMITED, "visual")


@pytest.mark.parametrize(
    ("address", "typed"),
    [("continuity.earth", "0.146 ohm"), ("insulation.live-to-case", "1 Mohm"), ("make-safe.low", "-25 V")],
)
def test_a_reading_at_its_published_limit_is_good_enough_for_mains(address, typed):
    unit = ready(CLASS_ONE)
    if address == "make-safe.low":
        take(unit, "insulation.live-to-case")
        for step in unit.plan.way_back:
            if step.address == address:
                break
            take(unit, step.address)
    take(unit, address, typed)
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


def test_a_fault_of_an_output_lets_mains_through():
    unit = ready(CLASS_ONE)
    fault("low-a-twin")(unit)
    assert_open(unit, LIMITED)


def test_a_supervisor_opens_limited_supply_where_there_is_no_tester():
    assert_open(ready(CLASS_ONE, tester=False), LIMITED)


def test_an_overdue_meter_that_was_accepted_serves():
    unit = ready(CLASS_ONE)
    moved("a plug-in meter that is overdue")(unit)
    unit.hold("tb-pm1", overdue_accepted=True)
    assert_open(unit, LIMITED)
