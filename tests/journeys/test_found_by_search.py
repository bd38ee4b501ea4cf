"""A fault found through the search by keys alone, mended, and taken again: an open joint, and a crossed pair."""

import pytest

from tests.desktop.windows import window_on
from tests.journeys.shift import Shift

OPEN = {"part": "low-a-twin", "mode": "open"}
CROSSED = {"part": "outlet.2, outlet.3", "mode": "crossed"}


LOW = {"part": "low", "mode": "shorted turns", "size": "10 %"}


@pytest.mark.parametrize("defect", [OPEN, CROSSED], ids=["open joint", "crossed pair"])
def test_what_is_wrong_is_found_mended_and_tested_again(look, bench, defect):
    mended = {"part": defect["part"], "parts": "", "opened": "enclosure"}
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", defect=defect, repair=mended)
        shift.take_in(count=1)
        shift.work_until_page("repair")
        fault = technician.view.state.faults[0]
        assert (fault.part, fault.mode) == (defect["part"], defect["mode"])
        assert technician.page.scope.rows()
        assert technician.page._opened() == ("enclosure",)

        shift.work_until_page("outcome")
        assert str(technician.view.state.faults[0].status) == "closed"
        assert shift.stage("Continuity") == "done"
        assert shift.stage("Live voltages") == "done"


def test_shorted_turns_are_found_with_mains_on_mended_and_the_unit_passes(look, bench):
    """A live reading fails, the search goes on live, and the rest of the day follows from what it found."""
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", defect=LOW)
        shift.take_in(count=1)
        shift.work_until(
            lambda: technician.address.startswith("live-voltage.outputs") and technician.page.name == "reading"
        )
        technician.type(shift.unit.reading(technician.view.plan, technician.view.step))
        assert "F10" in [hint.key for hint in technician.window.bench.hints.hints()]
        technician.strike("F10")
        assert technician.page.name == "search"
        assert technician.view.state.energised

        kinds = []
        while technician.page.asked() is not None:
            kinds.append(probe_once(shift))
        assert "voltage" in kinds
        assert len(kinds) <= 3
        suspects = technician.page._search.diagnosis.suspects
        assert suspects[0].part == "low"
        assert "turns shorted" in suspects[0].words

        technician.strike("Ctrl+Enter")
        assert technician.page.name == "fault"
        technician.strike("Enter")
        shift.work_until_page("repair")
        assert not technician.view.state.energised
        assert (technician.view.state.faults[0].part, technician.view.state.faults[0].mode) == ("low", "shorted turns")

        for _ in technician.page.names:
            technician.strike("Enter")
        assert technician.at_keyboard().objectName() == "repair-record"
        assert "Agreed: record the repair" in technician.reads("repair-record")
        assert {"Visual inspection", "Continuity", "Insulation", "Live voltages"} <= {
            row.words.partition(":")[0] for row in technician.page.scope.rows()
        }
        shift.unit.mended = True
        technician.strike("Enter")
        repair = next(entry for entry in shift.entries() if entry.kind == "repair")
        assert repair.content.opened == ("enclosure",)
        assert len(repair.content.actions) == 7

        shift.work_until_page("outcome")
        assert str(technician.view.state.faults[0].status) == "closed"
        assert shift.stage("Live voltages") == "done"
        technician.strike("1")
        assert bench.unit("TB-001").disposition == "for sale"


def probe_once(shift):
    """Read what the page asks for, going the way back where it must; returns the kind of the reading."""
    technician = shift.technician
    while technician.page.name != "search" or technician.page._waits_for_way_back():
        if technician.page.name == "search":
            technician.strike("Enter")
        else:
            shift.do_what_is_due()
    asked = technician.page.asked()
    technician.type(shift.unit.probe(technician.view.plan, asked, technician.page.set_up()))
    technician.strike("Enter")
    return shift.entries()[-1].content.probed.kind


def test_after_a_live_reading_that_failed_ohms_wait_for_the_way_back(look, bench):
    """Two terminals of one's own choice are refused as ohms; the way back leads to the search again by itself."""
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address.startswith("live-voltage.outputs") and technician.due == "step")
        technician.type("55 V")
        technician.strike("Enter")
        assert technician.page.name == "fault"
        technician.strike("F10")
        assert technician.page.name == "search"
        technician.type("outlet.1,outlet.2=1.3 ohm")
        technician.strike("Enter")
        assert "Go the way back first" in technician.complaint
        assert technician.page.field.text() == "outlet.1,outlet.2=1.3 ohm"


def test_on_limited_supply_the_search_begins_with_the_way_back(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address == "first-power.current" and technician.due == "step")
        technician.type("0 mA")
        technician.strike("Enter")
        assert technician.due == "way-back"
        while technician.address.startswith("make-safe."):
            assert technician.view.state.energised
            shift.do_what_is_due()
        assert not technician.view.state.energised
        assert technician.page.name in ("fault", "repair")
        technician.strike("F10")
        assert technician.page.name == "search"
