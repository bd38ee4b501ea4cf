"""What nobody can do so fast is not recorded: a caution read, lines looked at, on units on which all else is good.

A line takes a second and a caution three (own choice of this project, from held keys that recorded both at once).
"""

import pytest

from tests.sequences.interlock.slips import at_once, record
from tests.sequences.interlock.walking import CLASS_ONE, LIMITED, go_back, place_of, prepare, ready, well
from tests.sequences.interlock.watched import EntryKind, Refused, Watched


@pytest.mark.parametrize("caution", ["unplugged-work", "mains-live", "stored-charge"])
def test_no_caution_is_read_in_less_than_three_seconds(caution):
    unit = Watched.of(place_of(CLASS_ONE))
    unit.hold("tb-m1")
    for seconds in (0.0, 1.0, 2.5):
        at_once(seconds)(unit)
        with pytest.raises(Refused, match="this can be recorded in"):
            record(EntryKind.caution, caution=caution)(unit)
    at_once(3.5)(unit)
    record(EntryKind.caution, caution=caution)(unit)


def test_three_lines_of_plugging_in_are_not_done_in_two_seconds():
    unit = ready(CLASS_ONE, LIMITED)
    prepare(unit, LIMITED)
    for seconds in (0.0, 1.0, 2.0):
        at_once(seconds)(unit)
        with pytest.raises(Refused, match="Take the time to look and do it"):
            well(unit, LIMITED)
    at_once(3.5)(unit)
    well(unit, LIMITED)


def test_a_plug_is_not_out_before_its_lines_were_done():
    unit = ready(CLASS_ONE, LIMITED)
    prepare(unit, LIMITED)
    well(unit, LIMITED)
    at_once(0.5)(unit)
    with pytest.raises(Refused, match="Take the time to look and do it"):
        well(unit, "make-safe.unplug")
    at_once(4.0)(unit)
    go_back(unit)
    assert not unit.state.energised
