"""The shipped sequences on load and in long running, in a route of one's own, from intake to a workbook that holds."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.searching import search_fault
from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.sequences.planning.state import DueKind
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

ROUTE = """\
route: long-check
title: Mains unit, with load and long running
equipment: [tb-mu1]
sequences: [visual-inspection, plug-rewire, continuity, insulation, first-power, live-voltage, load, soak, clean]
way back: make-safe
"""
METERS = ("tb-m1", "tb-it1", "tb-pm1")


@pytest.fixture
def bench(path, clock):
    """A bench with a route of its own beside the workbook."""
    (path.parent / "long-check.yaml").write_text(ROUTE)
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    take_in_lot(bench, name="Attic", equipment="tb-mu1", route="long-check", marks=("TB-001",), by="AB")
    yield bench
    bench.close()


def test_a_sound_unit_is_loaded_and_left_running_and_its_record_holds(bench, path, clock):
    for wait in ("soak.warming", "soak.half-hour"):
        assert do_what_is_due(bench, "TB-001", until=wait).address == wait
        clock.pass_days(21 / 1440)
    assert do_what_is_due(bench, "TB-001").kind is DueKind.finished
    steps = bench.state("TB-001").steps
    assert steps["load.low-regulation"].judgement in ("pass", "conditional pass")
    assert steps["load.low-ratio"].judgement in ("pass", "conditional pass")
    assert steps["soak.current-end"].judgement == "pass"
    bench.close()
    assert verify_workbook(path) == ()


def test_a_current_above_the_stop_is_off_at_once_and_a_fault(bench):
    due = do_what_is_due(bench, "TB-001", until="load.drawn")
    given = ReadingAnswer(typed="0.12 A", meter="tb-pm1")
    tried = bench.evaluate("TB-001", due.address, given)
    assert tried.questions == (
        "Off at once, at the wall or by the plug. It draws more than twice what its plate says.",
    )
    record_answer(bench, "TB-001", due.address, given, by="AB")
    state = bench.state("TB-001")
    assert state.faults[0].part == "low"
    assert state.due.kind is not DueKind.step


def test_a_voltage_on_load_is_not_held_against_the_open_outputs(bench):
    # 9 V at 0.6 A of a winding that gives 10.26 V open: right, and read as an open output it would be shorted turns
    due = do_what_is_due(bench, "TB-001", until="load.drawn")
    record_answer(bench, "TB-001", due.address, ReadingAnswer(typed="0.12 A", meter="tb-pm1"), by="AB")
    suspects = search_fault(bench, "TB-001", due.address).diagnosis.suspects
    readings = bench.state("TB-001").readings
    spoken = [words for one in suspects for words in (*one.speaks_for, *one.speaks_against)]
    assert not [words for words in spoken if words.startswith(f"{readings['load.low'].content.value:g} V")]
    assert not [words for words in spoken if "Mohm" in words]  # insulation that passed is no evidence of a leak
    assert "insulation" not in suspects[0].words
