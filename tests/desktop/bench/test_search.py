"""Finding the fault from a failed reading, by keys: suspects, the next probe, the part that goes to the fault page."""

import pytest

from benchapp.wiring import expected_resistance
from demo.scenario import Hidden
from tests.desktop.bench.test_place import unit_of, work_until


def search(technician, part):
    """TB-001 with that part open, its first failed reading, and the search called up."""
    technician.take_unit("TB-001")
    wrong = Hidden(defect={"part": part, "mode": "open"})
    work_until(technician, unit_of(hidden=wrong), lambda: technician.page.name == "fault")
    technician.strike("F10")
    return technician


@pytest.fixture
def searching(technician):
    """The joint at pin 1 is open: nothing to the other pins of the 9 V winding tells it from pin 2 yet."""
    return search(technician, "low-a")


def words(technician):
    return [row.words for row in technician.page.suspects.rows()]


def probe(technician):
    """Read what the unit with the open joint gives at the two pins that are lit, through leads of 0.12 ohm."""
    assert technician.at_keyboard().objectName() == "search-field"
    following = technician.page._findings.next_probe
    broken = unit_of(hidden=Hidden(defect={"part": "low-a", "mode": "open"})).circuit(technician.view.plan)
    band = expected_resistance(broken, following.a, following.b)
    technician.type("OL" if band.expected is None else f"{band.expected + 0.12:.2f}")
    technician.strike("Enter")


def test_the_readings_of_the_record_name_the_suspects(technician):
    search(technician, "low-a-twin")
    assert technician.page.name == "search"
    assert "pin 4 is open" in words(technician)[0]
    assert "OL between pin 1 of the outlet and pin 4 of the outlet" in technician.page.suspects.rows()[0].detail


def test_the_joint_is_found_and_goes_to_the_fault_page(searching):
    assert len(words(searching)) > 1
    probe(searching)
    for _ in range(5):
        if searching.page._findings.next_probe is None:
            break
        probe(searching)
    assert "pin 1 is open" in words(searching)[0]
    searching.strike("Ctrl+Enter")
    assert searching.page.name == "fault"
    searching.tab_to("fault-words")
    searching.strike("Enter")
    fault = searching.view.state.faults[0]
    assert (fault.part, fault.mode) == ("low-a", "open")
    assert "Found by" in fault.words
    assert searching.page.name == "repair"


def test_a_reading_that_is_no_resistance_is_refused_and_changes_nothing(searching):
    before = words(searching)
    searching.type("9 V")
    searching.strike("Enter")
    assert "9 V" in searching.complaint
    assert words(searching) == before


def test_escape_leaves_the_search_and_what_was_probed_is_there_again(searching):
    before = words(searching)
    probe(searching)
    after = words(searching)
    assert after != before
    searching.strike("Esc")
    assert searching.page.name == "fault"
    searching.strike("F10")
    assert words(searching) == after


def test_the_search_records_nothing(searching):
    before = len(searching.window.desk.bench.entries("TB-001"))
    probe(searching)
    assert len(searching.window.desk.bench.entries("TB-001")) == before


def test_another_meter_may_be_taken_for_a_reading(technician):
    technician.take_unit("TB-001")
    work_until(technician, unit_of(), lambda: technician.address == "continuity.primary")
    technician.strike("Ctrl+M")
    assert technician.page.name == "meter"
    technician.strike("1")
    assert technician.window.desk.bench.entries("TB-001")[-1].kind == "meter"
    assert technician.page.name == "reading"
    technician.strike("Ctrl+M", "Esc")
    assert technician.page.name == "reading"
