"""A clean unit of the mains-unit route, its hand meter on a wire: keys counted, and what a wire may not answer."""

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.quantities.quantity import Bound
from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.sequences.planning.answer_content import is_reading
from tests.desktop.windows import window_on
from tests.journeys.counting import CountingTechnician, counted, table, work_to_the_end
from tests.journeys.shift import Shift
from tests.journeys.wired import METER, WiredBench, WiredPlayer
from tests.people import staffed

OWN, ADDED_KEYS = 103, 47
"""keys of a clean unit: its own, and those that the work against harm added"""
ADDED_BUT_READINGS = 33
"""of the added keys, those that are no reading: the same as where every reading is typed"""


@pytest.fixture
def wired(path):
    made = WiredBench("tb-mu1")
    made.hang_up(path.parent)
    yield made
    made.meter.stop()


def test_a_clean_unit_with_its_meter_on_a_wire_takes_no_more_keys_than_were_reached(
    look, path, clock, wired, record_property
):
    bench = Bench.create(path, clock=clock, workshop=staffed())
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        counting = CountingTechnician(technician)
        pages = list(work_to_the_end(counting, shift.unit, WiredPlayer(counting, bench, wired)))
        readings = [entry for entry in shift.entries() if is_reading(entry)]
    keys, added = counted(pages)
    sources = [entry.content.source for entry in readings]
    lines = [f"  {source}: {sources.count(source)} readings" for source in ReadingSource if source in sources]
    record_property("keys of a clean unit, its meter on a wire", "\n".join((*table(pages), *lines)))
    assert keys - added <= OWN
    assert added == ADDED_KEYS
    others = [page for page in pages if page.name != "reading"]
    assert counted(others)[1] == ADDED_BUT_READINGS, "a wire answers no line, no question and no caution"
    by_wire = (ReadingSource.steady, ReadingSource.wire)
    assert all((entry.content.source in by_wire) == (entry.content.meter == METER) for entry in readings)
    assert all(entry.content.judgement in ("pass", "not judged") for entry in readings)
    taken = [entry for entry in readings if entry.content.source is ReadingSource.steady]
    assert taken
    assert all(entry.content.bound is Bound.exact for entry in taken)
    assert not [entry.address for entry in taken if entry.address.startswith("make-safe.") or "leads" in entry.address]
