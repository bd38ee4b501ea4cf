"""Mains is on one unit of a bench at a time, and the board says on which."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.driving import do_what_is_due, good_answer
from tests.people import OPENED, staffed

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
PLUG_IN = "first-power.plug-in"


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
