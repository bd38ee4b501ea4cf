"""Mains is on one unit of a bench at a time, and the board says on which."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.workbook.model.problems import Overtaken
from benchapp.workbook.model.values import UnitSummary
from tests.actions.driving import do_what_is_due, good_answer
from tests.forging import Forger
from tests.people import OPENED, staffed

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
PLUG_IN, UNPLUG = "first-power.plug-in", "make-safe.unplug"


@pytest.fixture
def two(path, clock):
    """Two mains units at one bench, both with their dead tests done."""
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = [MeterProof(meter=meter, proved=True, nulled=True) for meter in METERS]
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    take_in_lot(bench, name="Shelf nine", equipment="tb-mu1", route="mains-unit", marks=("TB-001", "TB-002"), by="AB")
    for mark in ("TB-001", "TB-002"):
        assert do_what_is_due(bench, mark, until=PLUG_IN).address == PLUG_IN
    yield bench
    bench.close()


def shown(bench):
    return {row.mark: row.live for row in bench.board("Shelf nine").rows}


def test_the_second_unit_waits_until_the_plug_of_the_first_is_out(two, path):
    assert shown(two) == {"TB-001": "", "TB-002": ""}
    record_answer(two, "TB-001", PLUG_IN, good_answer(two, "TB-001", PLUG_IN), by="AB")
    assert shown(two) == {"TB-001": "mains", "TB-002": ""}
    with pytest.raises(Refused, match="TB-001 may still be under power at this bench"):
        record_answer(two, "TB-002", PLUG_IN, good_answer(two, "TB-002", PLUG_IN), by="AB")
    record_answer(two, "TB-001", "make-safe.unplug", good_answer(two, "TB-001", "make-safe.unplug"), by="AB")
    assert shown(two)["TB-001"] == "charge"
    record_answer(two, "TB-002", PLUG_IN, good_answer(two, "TB-002", PLUG_IN), by="AB")
    assert shown(two)["TB-002"] == "mains"
    two.close()
    assert verify_workbook(path) == ()


def test_dead_work_goes_on_beside_a_unit_under_power(two):
    record_answer(two, "TB-001", PLUG_IN, good_answer(two, "TB-001", PLUG_IN), by="AB")
    outside = "visual-inspection.outside"
    record_answer(two, "TB-002", outside, good_answer(two, "TB-002", outside), by="AB")


def powered_in_turn(two, clock):
    """The first unit under power for an hour, then the second; the times of both."""
    first = record_answer(two, "TB-001", PLUG_IN, good_answer(two, "TB-001", PLUG_IN), by="AB")
    clock.now += timedelta(hours=1)
    record_answer(two, "TB-001", UNPLUG, good_answer(two, "TB-001", UNPLUG), by="AB")
    return first


def test_verify_proves_from_the_entries_that_one_unit_was_under_power_at_a_time(two, clock, path):
    powered_in_turn(two, clock)
    record_answer(two, "TB-002", PLUG_IN, good_answer(two, "TB-002", PLUG_IN), by="AB")
    two.close()
    assert verify_workbook(path) == ()
    forger = Forger(path)
    on = forger.answers("TB-002", PLUG_IN)[-1]
    on["at"] = (datetime.fromisoformat(on["at"]) - timedelta(minutes=20)).isoformat()
    forger.write()
    found = [one.words for one in verify_workbook(path)]
    assert any("Entry" in one and "while TB-001 was under power at the same bench" in one for one in found), found


def test_a_clock_set_back_powers_no_second_unit(two, clock):
    powered_in_turn(two, clock)
    clock.now -= timedelta(minutes=30)
    with pytest.raises(Refused, match=r"By its record TB-001 was under power at this bench until .* clock right"):
        record_answer(two, "TB-002", PLUG_IN, good_answer(two, "TB-002", PLUG_IN), by="AB")
    clock.now += timedelta(minutes=31)
    record_answer(two, "TB-002", PLUG_IN, good_answer(two, "TB-002", PLUG_IN), by="AB")


def test_of_two_windows_that_power_a_unit_at_once_one_is_refused(two, path, clock):
    """The second has asked its gate already when the first writes."""
    other = Bench.open(path, clock=clock)
    history = two.history("TB-002")
    unasked = replace(history.entries[-1], number=len(history.entries) + 1, uuid="late", cites=two.grounds().cites)
    record_answer(other, "TB-001", PLUG_IN, good_answer(other, "TB-001", PLUG_IN), by="AB")
    other.close()
    with pytest.raises(Overtaken):
        two.workbook.append("TB-002", unasked, UnitSummary(disposition="", due=""), alone=True)
    two.workbook.append("TB-002", unasked, UnitSummary(disposition="", due=""))


def test_a_unit_on_which_nothing_was_done_verifies(two, path):
    take_in_lot(two, name="Shelf ten", equipment="tb-mu1", route="mains-unit", marks=("TB-003",), by="AB")
    two.close()
    assert verify_workbook(path) == ()
