"""A clean unit of the mains-unit route, its meters on a wire: keys counted, and what a wire may not answer."""

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.quantities.quantity import Bound
from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.sequences.planning.answer_content import is_reading
from tests.desktop.windows import window_on
from tests.journeys.counting import CountingTechnician, counted, table, work_to_the_end
from tests.journeys.shift import Shift
from tests.journeys.wired import METER, TESTERS, WiredBench, WiredPlayer
from tests.people import staffed

REACHED = {(): (102, 47), TESTERS: (85, 43)}
"""keys of a clean unit, its own and those that the work against harm added: by what hangs on a wire beside the hand
meter"""
ADDED_BUT_READINGS = 33
"""of the added keys, those that are no reading: the same as where every reading is typed"""
BY_WIRE = (ReadingSource.steady, ReadingSource.wire)


@pytest.fixture(params=REACHED, ids=["hand meter", "every meter"])
def wired(path, request):
    made = WiredBench("tb-mu1")
    made.hang_up(path.parent, testers=request.param)
    yield made
    made.stop()


def test_a_clean_unit_with_its_meters_on_a_wire_takes_no_more_keys_than_were_reached(
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
    on_wire = (METER, *wired.testers)
    counts = "\n".join((*table(pages), *lines))
    record_property(f"keys of a clean unit, on a wire {', '.join(on_wire)}", counts)
    own_reached, added_reached = REACHED[tuple(wired.testers)]
    assert keys - added <= own_reached
    assert added == added_reached
    others = [page for page in pages if page.name != "reading"]
    assert counted(others)[1] == ADDED_BUT_READINGS, "a wire answers no line, no question and no caution"
    assert all((entry.content.source in BY_WIRE) == (entry.content.meter in on_wire) for entry in readings)
    assert all(entry.content.judgement in ("pass", "not judged") for entry in readings)
    taken = [entry for entry in readings if entry.content.source is ReadingSource.steady]
    assert taken
    assert all(entry.content.bound is Bound.exact for entry in taken)
    assert {entry.content.meter for entry in taken} == {METER}
    assert not [entry.address for entry in taken if entry.address.startswith("make-safe.") or "leads" in entry.address]
