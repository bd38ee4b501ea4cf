"""A unit with an open joint at pin 4: continuity shows it, and its live step stays shut until it is mended."""

from benchapp.sequences.language.vocabulary import Supply
from tests.desktop.windows import window_on
from tests.journeys.shift import Shift

OPEN = {"part": "low-a-twin", "mode": "open"}


def find_the_joint(shift):
    """Work until the open joint has been recorded as a fault."""
    shift.take_in(count=2)
    shift.work_until_page("fault")
    technician = shift.technician
    assert technician.address == "continuity.outputs/outlet.1-outlet.4"
    technician.tab_to("fault-part")
    technician.retype("low-a-twin")
    technician.tab_to("fault-mode")
    technician.retype("open")
    technician.tab_to("fault-words")
    technician.strike("Enter")
    assert technician.page.name == "repair"


def test_an_open_joint_shows_in_continuity(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", defect=OPEN)
        find_the_joint(shift)
        assert shift.readings_at("continuity.outputs/outlet.1-outlet.4") == ["OL"]
        fault = technician.view.state.faults[0]
        assert (fault.part, fault.mode, str(fault.status)) == ("low-a-twin", "open", "open")
        assert shift.stage("Continuity") == "failed"


def test_its_live_step_stays_shut_and_says_what_is_missing(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", defect=OPEN)
        find_the_joint(shift)
        technician.strike("F2", "Ctrl+Home", "Up", *["Right"] * 4)
        assert technician.window.lots.board.board.stage_at(technician.window.lots.board.heads.at_hand)[1].startswith(
            "First power"
        )
        assert [str(row.cells[4].word) for row in bench.board("Shelf nine").rows] == ["shut", "shut"]
        technician.strike("Enter")
        shut = "No unit of Shelf nine waits for First power, limited: it is shut for TB-001 and TB-002."
        assert technician.said == shut

        technician.take_unit("TB-001")
        technician.strike("F6", "1")
        assert technician.complaint.startswith("It cannot be marked “for sale”: a fault is open")


def test_nothing_that_a_person_does_opens_it(look, bench):
    """Neither a withdrawal, nor another look at the unit, nor the next day."""
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", defect=OPEN)
        find_the_joint(shift)
        for keys in (["Ctrl+Z", "Enter"], ["F9", "1"], ["F6", "4"], ["Esc"], ["F2", "F4"]):
            technician.strike(*keys)
            conditions = technician.view.state.interlock[Supply.limited]
            assert not all(condition.holds for condition in conditions)
            assert shift.stage("Live voltages") == "shut"
        assert "withdrawal" in {entry.kind for entry in shift.entries()}


def test_once_mended_the_unit_goes_on_to_live_and_is_done(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", defect=OPEN)
        find_the_joint(shift)
        technician.tab_to("repair-done")
        technician.type("joint at pin 4 soldered again")
        technician.strike("Enter")
        assert technician.at_keyboard().objectName() == "repair-record"
        technician.strike("Enter")
        shift.unit.mended = True
        shift.work_until_page("outcome")
        assert shift.readings_at("continuity.outputs/outlet.1-outlet.4")[0] == "OL"
        assert shift.readings_at("continuity.outputs/outlet.1-outlet.4")[-1] != "OL"
        assert shift.stage("Live voltages") == "done"
