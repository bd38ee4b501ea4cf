"""A fault found through the search by keys alone, mended, and taken again: an open joint, and a crossed pair."""

import pytest

from tests.desktop.windows import window_on
from tests.journeys.shift import Shift

OPEN = {"part": "low-a-twin", "mode": "open"}
CROSSED = {"part": "outlet.2, outlet.3", "mode": "crossed"}


@pytest.mark.parametrize("defect", [OPEN, CROSSED], ids=["open joint", "crossed pair"])
def test_what_is_wrong_is_found_mended_and_tested_again(look, bench, defect):
    mended = {"part": defect["part"], "done": "put right", "parts": "", "opened": "enclosure"}
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001", defect=defect, repair=mended)
        shift.take_in(count=1)
        shift.work_until_page("repair")
        fault = technician.view.state.faults[0]
        assert (fault.part, fault.mode) == (defect["part"], defect["mode"])
        assert technician.page.scope.rows()
        assert technician.page._opened() == (("enclosure",) if defect is OPEN else ())

        shift.work_until_page("outcome")
        assert str(technician.view.state.faults[0].status) == "closed"
        assert shift.stage("Continuity") == "done"
        assert shift.stage("Live voltages") == "done"


def test_a_fault_seen_with_mains_on_is_searched_only_after_the_way_back(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until(lambda: technician.address.startswith("live-voltage.outputs") and technician.due == "step")
        technician.type("55 V")
        technician.strike("Enter")
        assert technician.page.name == "fault"
        assert technician.view.state.energised
        for _ in range(12):
            technician.strike("F10")
            if technician.page.name == "search":
                break
            assert technician.view.state.energised
            shift.do_what_is_due()
        assert technician.page.name == "search"
        assert not technician.view.state.energised
