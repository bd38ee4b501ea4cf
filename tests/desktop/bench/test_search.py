"""Finding the fault from a failed reading, by keys: suspects, the next probe, the part that goes to the fault page."""

import pytest

from demo.scenario import Hidden
from tests.desktop.bench.test_place import unit_of, work_until
from tests.paper.making import all_text


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


def entries(technician):
    return technician.window.desk.bench.entries("TB-001")


def probe(technician):
    """Read what a unit with an open joint at pin 1 gives at the two pins that are lit."""
    assert technician.at_keyboard().objectName() == "search-field"
    pins = {touch.spot for part in technician.page.face.parts() for touch in part.touches}
    technician.type("OL" if "1" in pins else "12.3" if "3" in pins else "1.4")
    technician.strike("Enter")


def test_the_readings_of_the_record_name_the_suspects(technician):
    search(technician, "low-a-twin")
    assert technician.page.name == "search"
    assert "pin 4 is open" in words(technician)[0]
    assert "OL between pin 1 of the outlet and pin 4 of the outlet" in technician.page.suspects.rows()[0].detail


def test_each_suspect_shows_its_share_as_a_bar_and_in_words(searching):
    for row in searching.page.suspects.rows():
        assert row.words.startswith(f"{max(1, round(100 * row.share))} %")


def test_the_joint_is_found_and_goes_to_the_fault_page(searching):
    assert len(words(searching)) > 1
    probe(searching)
    for _ in range(5):
        if searching.page._search.findings.next_probe is None:
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
    assert searching.page._opened() == ("enclosure",)


def test_a_reading_that_is_no_resistance_is_refused_and_changes_nothing(searching):
    before, kept = words(searching), len(entries(searching))
    searching.type("9 V")
    searching.strike("Enter")
    assert "9 V" in searching.complaint
    assert words(searching) == before
    assert len(entries(searching)) == kept
    assert searching.page.field.text() == "9 V"


def test_an_unknown_terminal_is_refused_by_name(searching):
    searching.type("outlet.9,outlet.1=OL")
    searching.strike("Enter")
    assert "no terminal “outlet.9”" in searching.complaint


def test_two_terminals_of_ones_own_choice_may_be_read(searching):
    searching.type("outlet.2,outlet.3=2.1")
    searching.strike("Enter")
    assert searching.complaint == ""
    probed = entries(searching)[-1].content["probed"]
    assert (probed["a"], probed["b"], probed["value"]) == ("outlet.2", "outlet.3", 2.1)


def test_every_probe_is_an_entry_with_its_meter_and_uncertainty(searching):
    before = len(entries(searching))
    probe(searching)
    added = entries(searching)[before:]
    assert [str(entry.kind) for entry in added] == ["note"]
    assert added[0].content["probed"]["meter"] == "tb-m1"
    assert added[0].content["probed"]["standard_uncertainty"] > 0
    assert added[0].content["words"] in searching.said


def test_escape_leaves_the_search_and_what_was_probed_counts_again(searching):
    before = words(searching)
    probe(searching)
    after = words(searching)
    assert after != before
    searching.strike("Esc")
    assert searching.page.name == "fault"
    searching.strike("F10")
    assert words(searching) == after


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


def test_the_pin_card_of_the_unit_at_hand_is_written(technician, tmp_path):
    technician.take_unit("TB-001")
    technician.strike("Ctrl+K")
    technician.retype(str(tmp_path / "pins.pdf"))
    technician.strike("Enter")
    text = " ".join(all_text((tmp_path / "pins.pdf").read_bytes()).split())
    assert "1 and 4 are one wire" in text
    assert "over the legal range of mains (gb)" in text
