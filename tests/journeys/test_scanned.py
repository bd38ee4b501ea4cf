"""A day with a scanner: it leads from unit to unit, and answers nothing, wherever the keyboard is."""

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from benchapp.desktop.scanning.key_gate import AFTER_BURST
from tests.desktop.windows import prove_meters, take_in, window_on
from tests.journeys.shift import Shift

OF_TB_002, STRAY = "TB-002 1A2B3C4D", "5012345678900"


def test_a_scanner_leads_through_the_day_and_answers_nothing(look, bench):
    take_in(bench)
    prove_meters(bench)
    with window_on(look, bench) as technician:
        shift = Shift(technician, "TB-001")
        technician.scan("TB-001")
        assert (technician.view.mark, technician.page.name) == ("TB-001", "caution")
        seen, came = set(), 0
        while technician.page.name != "outcome":
            if technician.page.name == "change":  # it was scanned while TB-001 may have been live
                came += 1
                assert technician.reads("change-say") == "Put TB-001 away, take TB-002."
                technician.strike("Esc")
                assert technician.view.mark == "TB-001"
                continue
            if technician.page.name not in seen:
                seen.add(technician.page.name)
                _scan_stray(technician, shift)
            if technician.view.may_be_live:
                _scan_another_while_live(technician, shift)
            QTest.qWait(AFTER_BURST)  # until then an Enter is still the scanner's
            shift.do_what_is_due()
        assert came, "the unit that was scanned comes after the way back"
        assert {"caution", "inspect", "work", "ask", "reading", "set-up"} <= seen
        _scan_stray(technician, shift)
        technician.scan("TB-001")
        technician.scan("666")
        assert bench.unit("TB-001").disposition == "quarantine"
        assert not [entry for entry in shift.entries() if entry.kind == "disposition"]
        technician.scan(OF_TB_002)
        assert technician.view.mark == "TB-002"


def _scan_stray(technician, shift):
    before, page = len(shift.entries()), technician.page.name
    technician.scan(STRAY)
    assert (len(shift.entries()), technician.page.name) == (before, page)
    assert f"“{STRAY}” came all at once" in technician.complaint
    assert QApplication.activeModalWidget() is None


def _scan_another_while_live(technician, shift):
    before, page = len(shift.entries()), technician.page.name
    technician.scan(OF_TB_002)
    assert (technician.view.mark, len(shift.entries()), technician.page.name) == ("TB-001", before, page)
    assert "TB-001 may be live: a scan never leaves it" in technician.complaint
