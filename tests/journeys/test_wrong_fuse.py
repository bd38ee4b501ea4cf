"""A unit with a wrong fuse: found, repaired, retested, sold."""

from benchapp.sequences.planning.entry_contents import PartUsed
from tests.desktop.windows import window_on
from tests.journeys.shift import Shift

WRONG = {"plug-rewire.fuse-rating": "13 A"}


def at_repair(technician):
    """A shift whose unit stands at the repair of its wrong fuse."""
    shift = Shift(technician, "TB-001", answers=WRONG)
    shift.take_in(count=1)
    shift.work_until_page("repair")
    return shift


def test_a_wrong_fuse_is_found_mended_and_taken_again(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = at_repair(technician)
        assert shift.stage("Mains plug") == "failed"
        assert "the fuse in the plug, wrong rating" in technician.reads("repair-say")
        assert technician.reads("repair-reason") == "The wrong fuse is in the plug."
        assert "Take the wrong fuse out, and away from the bench." in technician.page.names
        assert shift.stage("First power, limited") == "shut"

        technician.tab_to("repair-parts")
        technician.type("3 A fuse 1")
        technician.tab_to("repair-done")
        technician.type("13 A fuse taken out, 3 A fuse fitted")
        technician.tick("repair-opened-plug")
        assert "Visual inspection: 3 steps" in [row.words for row in technician.page.scope.rows()]
        technician.tab_to("repair-done")
        technician.strike("Enter", "Enter")
        shift.unit.mended = True

        shift.work_until_page("outcome")
        fuses = [entry for entry in shift.entries() if entry.address == "plug-rewire.fuse-rating"]
        assert [entry.content.judgement for entry in fuses] == ["fail", "pass"]
        repair = next(entry for entry in shift.entries() if entry.kind == "repair")
        assert repair.content.opened == ("plug",)
        assert repair.content.parts_used == (PartUsed(part="3 A fuse", number=1),)
        assert [str(fault.status) for fault in technician.view.state.faults] == ["closed"]

        technician.strike("1")
        assert bench.unit("TB-001").disposition == "for sale"


def test_what_the_opened_plug_made_stale_is_taken_again_and_the_rest_stands(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = at_repair(technician)
        technician.tab_to("repair-done")
        technician.type("3 A fuse fitted")
        technician.tick("repair-opened-plug")
        technician.strike("Enter", "Enter")
        shift.unit.mended = True
        shift.work_until(lambda: technician.address.startswith("continuity."))
        looks = [entry for entry in shift.entries() if entry.address == "visual-inspection.outside"]
        assert len(looks) == 2, "an opened plug asks for another look"


def test_a_fuse_changed_in_the_plug_closes_it_behind_its_inspection_and_after_the_reading_without_it(look, bench):
    """Once is what is wanted: the reading without its fuse opens it again."""
    with window_on(look, bench, initials="") as technician:
        shift = at_repair(technician)
        technician.tab_to("repair-list")
        technician.strike(*["Enter"] * len(technician.page.names))
        technician.strike("Enter")
        shift.unit.mended = True
        shift.work_until(lambda: technician.address == "continuity.neutral-earth")
        repair = next(entry for entry in shift.entries() if entry.kind == "repair")
        after = [entry for entry in shift.entries() if entry.number > repair.number]
        closed = [
            *(line for line in repair.content.actions if line.startswith("Close the plug")),
            *(entry.address for entry in after if entry.address == "plug-rewire.close" and entry.kind == "answer"),
            *(entry.address for entry in after if "fuse in" in getattr(entry.content, "items", ())),
        ]
        assert closed == ["plug-rewire.close", "continuity.live-earth"]
