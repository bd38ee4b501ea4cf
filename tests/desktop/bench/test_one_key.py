"""One key is one answer: nothing is struck only to turn a page, and what has to be looked at waits for Enter."""

import pytest

from tests.desktop.walks import Place

FUSE_OUT, LIVE_EARTH, PRIMARY = "continuity.fuse-out", "continuity.live-earth", "continuity.primary"


@pytest.fixture
def at(walked_to):
    return lambda address, page="reading": walked_to(Place(at=address, page=page))


def recorded(technician):
    return technician.window.context.bench.entries("TB-001")


def test_over_range_that_is_good_is_recorded_by_its_one_key(at):
    technician = at(FUSE_OUT)
    technician.strike("*")
    assert (recorded(technician)[-1].address, recorded(technician)[-1].content.typed) == (FUSE_OUT, "OL")


def test_over_range_where_a_value_is_due_waits_for_enter(at):
    technician = at(PRIMARY)
    before = len(recorded(technician))
    technician.strike("*")
    assert (technician.page.field.text(), len(recorded(technician))) == ("OL", before)


def test_over_range_behind_digits_waits_for_enter(at):
    technician = at(FUSE_OUT)
    before = len(recorded(technician))
    technician.type("4")
    technician.strike("*")
    assert (technician.page.field.text(), len(recorded(technician))) == ("OL", before)


def test_what_holds_from_the_step_before_is_ticked_and_only_the_change_is_asked(at):
    technician = at(LIVE_EARTH, "set-up")
    assert technician.page.marks == {"switch on": "done"}
    assert technician.page.list.rows()[0].words == "the item's own switch on"
    technician.strike("Enter")
    assert recorded(technician)[-1].content.items == ("switch on", "fuse in")
