"""Finding the fault from a failed reading, by keys: suspects, the next probe, the part that goes to the fault page."""

import threading
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from benchapp.actions.entries.faults import record_fault, record_repair
from benchapp.actions.entries.intake import shelf_marks, take_in_lot
from benchapp.desktop.bench.search_words import found_words
from benchapp.quantities.display import show
from benchapp.sequences.history.probes import probe_words
from demo.scenario import Hidden
from tests.desktop.walks import AT_PINS, Place
from tests.paper.making import all_text


def failed(part):
    """TB-001 with that part open, at its first failed reading."""
    return Place(page="fault", hidden=Hidden(defect={"part": part, "mode": "open"}))


def search(walked_to, part):
    """The search called up there."""
    technician = walked_to(failed(part))
    technician.strike("F10")
    return technician


@pytest.fixture
def searching(walked_to):
    """The joint at pin 1 is open: nothing to the other pins of the 9 V winding tells it from pin 2 yet."""
    return search(walked_to, "low-a")


def words(technician):
    return [row.words for row in technician.page.suspects.rows()]


def entries(technician):
    return technician.window.context.bench.entries("TB-001")


def probe(technician):
    """Read what a unit with an open joint at pin 1 gives at the two pins that are lit."""
    assert technician.at_keyboard().objectName() == "search-field"
    pins = {touch.spot for part in technician.page.face.parts() for touch in part.touches}
    technician.type("OL" if "1" in pins else "12.3" if "3" in pins else "1.4")
    technician.strike("Enter")


def test_the_readings_of_the_record_name_the_suspects(walked_to):
    technician = search(walked_to, "low-a-twin")
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
        if searching.page._search.diagnosis.next_probe is None:
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
    probed = entries(searching)[-1].content.probed
    assert (probed.a, probed.b, probed.typed) == ("outlet.2", "outlet.3", "2.1")
    assert probed.value == pytest.approx(2.1 - 0.12)  # the leads of the bench opening, as in the route's readings


def test_every_probe_is_an_entry_with_its_meter_and_uncertainty(searching):
    before = len(entries(searching))
    probe(searching)
    added = entries(searching)[before:]
    assert [str(entry.kind) for entry in added] == ["note"]
    assert added[0].content.probed.meter == "tb-m1"
    assert added[0].content.probed.standard_uncertainty > 0
    assert added[0].content.words in searching.said


def test_escape_leaves_the_search_and_what_was_probed_counts_again(searching):
    before = words(searching)
    probe(searching)
    after = words(searching)
    assert after != before
    searching.strike("Esc")
    assert searching.page.name == "fault"
    searching.strike("F10")
    assert words(searching) == after


def test_another_meter_may_be_taken_for_a_reading(walked_to):
    technician = walked_to(Place(at="continuity.primary"))
    technician.strike("Ctrl+D")
    assert technician.page.name == "meter"
    technician.strike("1")
    assert technician.window.context.bench.entries("TB-001")[-1].kind == "meter"
    assert technician.page.name == "reading"
    technician.strike("Ctrl+D", "Esc")
    assert technician.page.name == "reading"


def test_the_pin_card_of_the_unit_at_hand_is_written(technician, tmp_path):
    technician.take_unit("TB-001")
    technician.strike("Ctrl+K")
    technician.retype(str(tmp_path / "pins.pdf"))
    technician.strike("Enter")
    text = " ".join(all_text((tmp_path / "pins.pdf").read_bytes()).split())
    assert "1 and 4 are one wire" in text
    assert "Bands of TB-001, with what it has of its own." in text
    assert "over the legal range of mains (Great Britain)" in text


def test_with_the_mains_just_measured_the_card_has_the_bands_of_todays_mains(walked_to, tmp_path):
    technician = walked_to(Place(at="live-voltage.outputs"))
    technician.confirm_rows()
    band = technician.page._evaluate.band
    technician.strike("Ctrl+K")
    technician.retype(str(tmp_path / "pins.pdf"))
    technician.strike("Enter")
    text = " ".join(all_text((tmp_path / "pins.pdf").read_bytes()).split())
    assert "Voltages without load, at 243" in text
    assert show(band.expected, band.kind) in text


def retake(technician, typed):
    """Type a reading for the pair that is asked for."""
    technician.type(typed)
    technician.strike("Enter")


def test_readings_that_contradict_each_other_are_named_and_taken_again(searching):
    """No one fault makes pin 3 one wire with pins 1 and 4 while pin 2 hangs together with pin 1 and not with pin 4."""
    for pair in ("outlet.1,outlet.2=1.4", "outlet.1,outlet.3=0.2", "outlet.2,outlet.4=OL", "outlet.3,outlet.4=0.3"):
        searching.retype(pair)
        searching.strike("Enter")
        assert searching.complaint == ""
        if searching.page._search.diagnosis.inconsistent:
            break
    diagnosis = searching.page._search.diagnosis
    assert diagnosis.inconsistent
    assert searching.reads("search-say").startswith("Nothing explains all readings. Take these again: ")
    circuit = searching.view.plan.circuit
    for observation in diagnosis.inconsistent:
        assert observation.words(circuit) in searching.reads("search-say")
    asked, odd = searching.page.asked(), diagnosis.inconsistent[0]
    assert {asked.a, asked.b} == {odd.a, odd.b}
    assert searching.reads("search-probe").startswith("Once more, to be sure: black probe on")
    assert {touch.spot for part in searching.page.face.parts() for touch in part.touches} <= {"1", "2", "3", "4", "5"}


def test_a_doubted_step_of_the_route_is_taken_again_with_one_key(searching):
    """Pins 1 and 2 read open at their step, and everything around them reads as it should."""
    for pair in ("outlet.1,outlet.3=13.4", "outlet.2,outlet.3=12.2", "outlet.2,outlet.4=1.4", "outlet.3,outlet.4=13.4"):
        searching.retype(pair)
        searching.strike("Enter")
    doubted = searching.page.doubted
    assert doubted == "continuity.outputs/outlet.1-outlet.2"
    assert "F3" in [hint.key for hint in searching.window.bench.hints.hints()]
    searching.strike("F3")
    assert (searching.page.name, searching.address) == ("reading", doubted)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("outlet.7,outlet.1=OL", "no terminal “outlet.7”"),
        ("outlet.1=OL", "Name two terminals"),
        ("outlet.1,outlet.1=OL", "name two terminals"),
        ("outlet.1,outlet.2=9 furlong", "furlong"),
        ("outlet.1,outlet.2=9.1 V", "Mains stays away from this unit"),
        ("plug.L,plug.N=240 V", "Mains stays away from this unit"),
    ],
)
def test_what_cannot_be_a_reading_is_refused_in_a_sentence_and_stays_as_typed(searching, typed, words):
    before = len(entries(searching))
    searching.type(typed)
    searching.strike("Enter")
    assert words in searching.complaint
    assert searching.page.field.text() == typed
    assert len(entries(searching)) == before


def test_the_page_says_what_is_missing_until_anything_is_read_live(searching):
    assert "Live readings wait until: " in searching.reads("search-more")
    assert "the insulation is good" in searching.reads("search-more")


@pytest.fixture
def long_weighing(searching, qtbot):
    """The reading just recorded is being weighed, on a page that is in sight; called, the weighing ends."""
    read_first, window = threading.Event(), searching.window
    try:
        window.tasks.read(read_first.wait, then=lambda _: None)  # what weighs is read after it
        with qtbot.waitSignal(window.bench.turned):
            QTest.keyClicks(searching.page.field, "1.4", delay=60)
            QTest.qWait(80)
            QTest.keyClick(searching.page.field, Qt.Key.Key_Return)
        qtbot.waitUntil(lambda: not window.keyboard.held_keys._waits)  # the page is in sight
        assert searching.page._weighing
        yield read_first.set
    finally:
        read_first.set()


def test_digits_typed_while_it_weighs_stay_and_wait_for_the_pair_to_be_seen(searching, long_weighing):
    """What is typed before the next pair is in sight is not recorded for it at the first Enter."""
    page, before = searching.page, len(entries(searching))
    QTest.keyClicks(page.field, "2.0", delay=60)
    QTest.qWait(80)
    assert page.field.text() == "2.0"
    long_weighing()
    searching.settle()
    assert page.field.text() == "2.0"
    searching.strike("Enter")
    assert "typed before the pair was shown" in searching.complaint
    assert len(entries(searching)) == before
    searching.strike("Enter")
    assert len(entries(searching)) == before + 1


def test_digits_typed_before_it_even_weighs_are_said_and_never_lost_unsaid(searching):
    """The field still holds the reading under way: they would be wiped with it."""
    searching.type("1.4")
    QTest.keyClick(searching.page.field, Qt.Key.Key_Return)
    QTest.keyClicks(searching.page.field, "20")  # three at once would be a scanner's
    searching.settle()
    assert searching.page.field.text() == ""
    assert searching.complaint.startswith("“20” was typed before this page was in sight.")


def test_the_answer_to_an_older_question_is_dropped(searching):
    page, old = searching.page, searching.page.view
    search = page._search
    probe(searching)
    shown = words(searching)
    page._show(old, search)
    assert words(searching) == shown
    page._refused(old, "too late")
    assert searching.complaint == ""


def test_the_workshops_own_repairs_are_named_on_the_screen(walked_to):
    """Six confirmed repairs of this design, four of them the joint at pin 1."""
    technician = walked_to(failed("low-a"))
    bench = technician.window.context.bench
    take_in_lot(bench, name="Mended", equipment="tb-mu1", route="mains-unit", marks=shelf_marks("TC-001", 6), by="AB")
    for number, mark in enumerate(shelf_marks("TC-001", 6)):
        part = "low-a" if number < 4 else "common-wire"
        record_fault(bench, mark, part=part, mode="open", words="open", by="AB")
        fault = bench.state(mark).faults[0].entry
        record_repair(bench, mark, fault=fault, part=part, done="soldered", by="AB", opened=["enclosure"])
    technician.strike("F10")
    details = {row.words.partition("   ")[2]: row.detail for row in technician.page.suspects.rows()}
    said = details["the joint at pin 1 is open"]
    assert "4 of your last 6 faults on this design were the joint at pin 1" in said
    assert "2 of your last 6" in details["the joint at pin 2 is open"]
    assert "your last" not in details["the 9 V winding is open"]


def test_a_search_that_has_ended_still_takes_a_pair_of_ones_own(searching):
    for _ in range(6):
        if searching.page.asked() is None:
            break
        probe(searching)
    assert searching.page.asked() is None
    assert searching.at_keyboard().objectName() == "search-field"
    searching.strike("Enter")
    assert "Ctrl+Enter takes it over" in searching.complaint
    searching.type("outlet.2,outlet.3=12.3")
    searching.strike("Enter")
    assert entries(searching)[-1].content.probed.a == "outlet.2"


def test_without_a_failed_reading_there_is_nothing_to_search_from(walked_to):
    technician = walked_to(Place(page="reading"))
    technician.strike("F10")
    assert technician.complaint == "No reading of this unit has failed: there is nothing to search from."
    assert technician.page.name == "reading"


def test_a_reading_that_would_fail_offers_the_search_and_is_recorded_first(walked_to):
    technician = walked_to(AT_PINS)
    keys = lambda: [hint.key for hint in technician.window.bench.hints.hints()]  # noqa: E731 - read three times
    assert "F10" not in keys()
    technician.type("OL")
    assert "F10" in keys()
    technician.strike("F10")
    assert technician.page.name == "search"
    assert entries(technician)[-1].content.judgement == "fail"
    technician.strike("Esc")
    assert technician.page.name == "fault"
    assert "F10" in keys()


def test_taking_back_in_a_search_takes_the_probe_and_asks_for_the_pair_again(searching):
    before, pins = words(searching), searching.page.probe.text()
    probe(searching)
    assert searching.page.probe.text() != pins
    given = entries(searching)[-1]
    searching.strike("Ctrl+Z")
    assert searching.reads("take-back-what") == f"take back: the probe {probe_words(given)} of TB-001"
    assert "The search is weighed again without it." in searching.reads("take-back-follows")
    searching.strike("Enter")
    assert (entries(searching)[-1].kind, entries(searching)[-1].content.number) == ("withdrawal", given.number)
    assert (searching.page.name, searching.page.probe.text(), words(searching)) == ("search", pins, before)
    assert "Taken back" in searching.said


def test_what_found_a_fault_names_only_the_readings_that_speak_for_it(searching):
    for _ in range(5):
        if searching.page._search.diagnosis.next_probe is None:
            break
        probe(searching)
    found = searching.page.marked()
    assert found.speaks_for
    said = found_words(found)
    assert said == f"{found.words[:1].upper()}{found.words[1:]}. Found by: {'; '.join(found.speaks_for)}."
    against = replace(found, speaks_for=found.speaks_for[:1], speaks_against=found.speaks_for[1:])
    assert not any(reading in found_words(against) for reading in against.speaks_against)
    assert found_words(replace(found, speaks_for=())).count(".") == 1
    searching.strike("Ctrl+Enter", "Enter")
    assert searching.view.state.faults[0].words == said
