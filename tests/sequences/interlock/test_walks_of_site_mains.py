"""Mains out of range is the site's, not the unit's: no fault, the live work waits, and goes on when it is back."""

import pytest

from benchapp.sequences.planning.state import DueKind, StageStatus, StepStatus
from tests.sequences.bench import Refused
from tests.sequences.interlock.walking import CLASS_ONE, FULL, against, go_back, make_ready, ready, take
from tests.sequences.interlock.watched import EntryKind, Watched

MAINS, OUTPUT = "live-voltage.mains", "live-voltage.outputs/outlet.1-2"


@pytest.fixture
def out_of_range() -> Watched:
    unit = ready(CLASS_ONE, FULL)
    take(unit, FULL)
    take(unit, MAINS, "255.0 V")
    return unit


def test_it_is_no_fault_of_the_unit_and_the_page_says_whose_it_is(out_of_range):
    state = out_of_range.state
    assert state.faults == ()
    assert state.steps[MAINS].status is StepStatus.open
    assert (state.due.kind, state.due.address) == (DueKind.step, MAINS)
    assert "255" in state.due.words
    assert "no fault of this unit: the live work waits" in state.due.words
    assert {stage.id: stage.status for stage in state.stages}["live-voltage"] is not StageStatus.failed
    assert not state.held


def test_no_output_is_read_meanwhile(out_of_range):
    assert against(out_of_range, OUTPUT) == [
        "mains here: out of range",
        "set-up: the meter was not turned to volts with its leads off",
    ]
    with pytest.raises(Refused, match="no fault of this unit"):
        take(out_of_range, OUTPUT)


@pytest.mark.parametrize("goes_back", [False, True], ids=["left on", "made safe meanwhile"])
def test_when_it_is_back_the_unit_goes_on_to_its_sale(out_of_range, goes_back):
    if goes_back:
        go_back(out_of_range)
        out_of_range.wait(hours=1)
        make_ready(out_of_range)
    take(out_of_range, MAINS, "240.0 V")
    take(out_of_range, OUTPUT)
    out_of_range.finish()
    assert out_of_range.state.complete
    out_of_range.record(EntryKind.disposition, disposition="for sale")
    assert out_of_range.state.disposition == "for sale"


def test_a_unit_left_so_is_not_for_sale(out_of_range):
    go_back(out_of_range)
    with pytest.raises(Refused, match="cannot be marked “for sale”"):
        out_of_range.record(EntryKind.disposition, disposition="for sale")
