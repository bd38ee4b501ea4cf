"""The search page with a meter on a wire: a probe is taken as a touch, for the pair in sight and no other."""

import pytest

from benchapp.sequences.language.vocabulary import ReadingSource
from tests.desktop.wires.test_reading_page import PRIMARY, at_step, entries, meter, probes, until, wait

__all__ = ["at_step", "meter", "probes"]


@pytest.fixture
def searching(at_step):
    """The primary has just read far too little; the search asks for its first pair."""
    technician = at_step(PRIMARY)
    technician.type("12")
    technician.strike("Enter")
    assert technician.page.name == "fault"
    technician.strike("F10")
    until(technician, lambda: technician.page.name == "search" and technician.page.asked() is not None)
    return technician


def of_search(technician):
    return [one.content.probed for one in entries(technician) if getattr(one.content, "probed", None)]


def strip_of(technician):
    return technician.page.wire.strip


def test_a_probe_that_stands_still_is_taken_once_for_the_pair_in_sight(searching, probes):
    until(searching, lambda: "Touch the two points" in strip_of(searching).says.text())
    asked = searching.page.asked()
    probes.gives = lambda _function, _a, _b: 479.3
    probes.touch(asked.a, asked.b)
    until(searching, lambda: of_search(searching))
    (probed,) = of_search(searching)
    assert ({probed.a, probed.b}, probed.source) == ({asked.a, asked.b}, ReadingSource.steady)
    assert float(probed.sent) == pytest.approx(probed.value, rel=0.01)
    wait(searching, 1.5)
    assert len(of_search(searching)) == 1, "the probes were not lifted since"


def test_over_range_is_taken_by_its_key_and_says_that_it_came_by_wire(searching):
    until(searching, lambda: "Touch the two points" in strip_of(searching).says.text())
    wait(searching, 1.5)
    assert of_search(searching) == []
    searching.strike("+")
    (probed,) = of_search(searching)
    assert (probed.typed, probed.source) == ("OL", ReadingSource.wire)


def test_over_range_by_its_key_waits_for_enter_where_no_band_judges_it(searching):
    searching.strike("*")
    assert (searching.page.field.text(), of_search(searching)) == ("OL", [])
    searching.strike("Enter")
    assert of_search(searching)[0].source is ReadingSource.keys


def test_a_page_that_is_left_reads_nothing_for_the_search(searching, probes):
    page = searching.page
    searching.strike("Ctrl+L")
    assert not page.wire.strip.watches
    probes.touch("plug.L", "plug.N")
    wait(searching, 1.5)
    assert of_search(searching) == []
