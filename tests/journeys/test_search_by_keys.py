"""The search as it goes on a bad day: wrong digits, interruptions, four parts that no probe tells apart. Keys alone."""

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from tests.desktop.windows import Clock, window_on
from tests.journeys.shift import Shift
from tests.people import staffed
from tests.templates import Template

JOINT = {"part": "low-a-twin", "mode": "open"}
CORE = {"part": "cord-live", "mode": "open"}


@pytest.fixture(scope="module")
def at_its_fault(qapp, tmp_path_factory):
    """Two units; pin 4's joint of the first is open, and a reading has just shown that something is wrong."""

    def make(path, clock):
        look = Look(qapp, dark=False)
        with window_on(look, Bench.create(path, clock=clock, workshop=staffed()), initials="") as technician:
            shift = Shift(technician, "TB-001", defect=JOINT)
            shift.take_in(count=2)
            shift.work_until_page("fault")
        look.forget()

    return Template(tmp_path_factory.mktemp("fault"), Clock(), make)


@pytest.fixture
def searching(look, at_its_fault, tmp_path):
    """Pin 4's joint is open; the search has just begun."""
    bench = Bench.open(at_its_fault.copied(tmp_path), clock=at_its_fault.clock())
    with window_on(look, bench) as technician:
        technician.take_unit("TB-001")
        assert technician.page.name == "fault"
        technician.strike("F10")
        assert technician.page.name == "search"
        yield Shift(technician, "TB-001", defect=JOINT)


def probe(shift):
    """Read truly what the page asks for."""
    technician = shift.technician
    technician.retype(shift.unit.probe(technician.view.plan, technician.page.asked(), technician.page.set_up()))
    technician.strike("Enter")
    assert technician.complaint == ""


def test_wrong_digits_are_named_taken_again_and_the_fault_is_found(searching):
    technician = searching.technician
    for wrong in ("outlet.1,outlet.3=0.2", "outlet.3,outlet.4=0.3", "outlet.2,outlet.4=OL", "outlet.1,outlet.2=1.4"):
        if technician.page._search.diagnosis.inconsistent:
            break
        technician.type(wrong)
        technician.strike("Enter")
    assert technician.reads("search-say").startswith("Nothing explains all readings. Take these again: ")
    asked = technician.page.asked()
    assert technician.reads("search-probe").startswith("Once more, to be sure: ")
    for _ in range(8):
        if technician.page.asked() is None:
            break
        probe(searching)
    again = [entry.content.probed for entry in searching.entries() if getattr(entry.content, "probed", None)]
    assert sum({one.a, one.b} == {asked.a, asked.b} for one in again) >= 2
    assert technician.reads("search-say").startswith("Found. The joint at pin 4 is open")
    technician.strike("Ctrl+Enter", "Enter")
    fault = technician.view.state.faults[0]
    assert (fault.part, fault.mode) == ("low-a-twin", "open")
    assert technician.page.name == "repair"


def test_a_slip_on_a_sound_unit_is_asked_for_once_more_before_anything_is_mended(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: {"outlet.1", "outlet.4"} <= set(getattr(technician.view.step, "terminals", ())))
        failed = technician.address
        technician.type("OL")
        technician.strike("F10")
        assert technician.reads("search-say").startswith("Found. The joint at pin 4 is open")
        assert "rests on one reading" in technician.reads("search-say")
        assert technician.reads("search-probe").startswith("Once more, to be sure: ")
        assert {touch.spot for part in technician.page.face.parts() for touch in part.touches} == {"1", "4"}
        probe(shift)
        assert technician.reads("search-say").startswith("No fault stands out yet")
        assert technician.reads("search-say").endswith("Ctrl+Enter: take the step that failed again.")
        technician.strike("Ctrl+Enter")
        assert (technician.page.name, technician.address) == ("reading", failed)
        assert not technician.view.state.faults


@pytest.mark.parametrize(
    ("away", "back"),
    [(("Esc",), ("F10",)), (("F2",), ("F4",)), (("F11",), ("F4",)), (("Ctrl+L",), ("Esc", "F10")), (("F5",), ())],
    ids=["escape", "lots", "sale table", "record", "next unit"],
)
def test_what_was_typed_stands_there_when_the_search_is_left_and_returned_to(searching, away, back):
    technician = searching.technician
    technician.type("outlet.2,outlet.3=12.")
    shown = [row.words for row in technician.page.suspects.rows()]
    technician.strike(*away)
    if away == ("F5",):
        assert technician.view.mark == "TB-002"
        technician.take_unit("TB-001")
        technician.strike("F10")
    technician.strike(*back)
    assert technician.page.name == "search"
    assert technician.at_keyboard().objectName() == "search-field"
    assert technician.page.field.text() == "outlet.2,outlet.3=12."
    assert [row.words for row in technician.page.suspects.rows()] == shown
    technician.type("3")
    technician.strike("Enter")
    probed = searching.entries()[-1].content.probed
    assert (probed.typed, probed.value) == ("12.3", pytest.approx(12.18))  # less the leads, of 0.12 ohm


def test_of_parts_that_no_probe_tells_apart_the_one_that_was_seen_is_mended_and_the_unit_passes(look, bench):
    """The live core is broken: probes at the pins cannot tell it from fuse, neutral core and winding; eyes can."""
    with window_on(look, bench, initials="", size=(1024, 700)) as technician:
        look.set_percent(200)
        shift = Shift(technician, "TB-001", defect=CORE)
        shift.take_in(count=1)
        shift.work_until_page("fault")
        technician.strike("F10")
        for _ in range(8):
            if technician.page.asked() is None:
                break
            probe(shift)
        assert technician.reads("search-say").startswith("No probe can tell these apart: ")
        assert technician.page.marked().part != CORE["part"]
        while technician.page.marked().part != CORE["part"]:
            technician.strike("Down")
        technician.strike("Ctrl+Enter")
        assert technician.page.name == "fault"
        assert technician.at_keyboard().objectName() == "fault-record"
        technician.strike("Enter")
        fault = technician.view.state.faults[0]
        assert (fault.part, fault.mode) == (CORE["part"], "open")

        assert technician.page.name == "repair"
        assert technician.at_keyboard().objectName() == "repair-list"
        for _ in technician.page.names:
            technician.strike("Enter")
        assert technician.at_keyboard().objectName() == "repair-record"
        assert technician.page.scope.rows()
        shift.unit.mended = True
        technician.strike("Enter")
        assert technician.view.step.stage == "visual-inspection"
        shift.work_until_page("outcome")
        assert str(technician.view.state.faults[0].status) == "closed"
        technician.strike("1")
        assert bench.unit("TB-001").disposition == "for sale"


def test_leads_that_read_open_are_no_fault_of_the_unit(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address == "continuity.leads-before" and technician.page.name == "reading")
        technician.type("OL")
        technician.strike("F10")
        assert technician.page.name != "search"
        assert "F10" not in [hint.key for hint in technician.window.bench.hints.hints()]


def test_with_the_lead_off_its_far_end_is_said_in_words_and_never_drawn_as_the_inlet(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", equipment="tb-rec1")
        shift.take_in(count=1)
        shift.work_until(
            lambda: (
                technician.address.partition(".")[2].startswith("lead")
                and "leads" not in technician.address
                and technician.page.name == "reading"
            )
        )
        technician.type("OL")
        technician.strike("F10")
        assert technician.page.name == "search"
        asked = technician.page.asked()
        assert any(end.startswith("inlet.") for end in (asked.a, asked.b))
        assert "contact at the far end of the lead" in technician.reads("search-probe")
        assert all("inlet" not in part.title.lower() for part in technician.page.face.parts())
        assert "the far end of the lead" in technician.page.suspects.rows()[0].detail
