"""A workshop's own list of repairs in the workbook: taken from its folder, pinned with the run, found again later."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_repair
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.runs import start_run
from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.history.repairs import repair_list
from tests.people import staffed

OWN = """\
repairs: tarnbeck
title: How the Tarnbeck archive mends
work:
  - fits: {parts: [winding]}
    opens: [cord]
    do:
      - Dip the ends of {part} in the hot pot.
"""
LINE = "Dip the ends of the 9 V winding in the hot pot."


@pytest.fixture
def bench(path, clock):
    """A workbook beside a folder `repairs`, with one mains unit in it."""
    (path.parent / "repairs").mkdir()
    (path.parent / "repairs" / "own.yaml").write_text(OWN, encoding="utf-8")
    with Bench.create(path, clock=clock, workshop=staffed()) as opened:
        take_in_lot(opened, name="L", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
        yield opened


def lines(bench, mark="TB-001"):
    plan = bench.plan(mark)
    return [action.words for action in repair_list(plan, plan.facts, "low", "open").actions]


def test_a_list_beside_the_workbook_is_the_one_that_its_runs_mend_by(bench):
    assert LINE in lines(bench)
    assert any(line.startswith("Plug out of the socket") for line in lines(bench))


def test_a_run_keeps_the_list_it_began_with_and_the_next_one_takes_the_new(bench, path, clock):
    (path.parent / "repairs" / "own.yaml").write_text(OWN.replace("hot pot", "cold pot"), encoding="utf-8")
    bench.close()
    with Bench.open(path, clock=clock) as again:
        assert LINE in lines(again)
        start_run(again, "TB-001", by="AB")
        assert LINE.replace("hot", "cold") in lines(again)


def test_a_run_keeps_its_list_when_the_file_is_gone(bench, path, clock):
    (path.parent / "repairs" / "own.yaml").unlink()
    bench.close()
    with Bench.open(path, clock=clock) as again:
        assert LINE in lines(again)


def test_what_an_own_list_opens_reaches_the_record_and_the_interlock(bench, path):
    ticked = lines(bench)
    record_repair(bench, "TB-001", fault=None, part="low", done="Dipped.", mode="open", actions=ticked, by="AB")
    said = bench.entries("TB-001")[-1].content
    assert {"cord", "enclosure"} <= set(said.opened)
    bench.close()
    assert verify_workbook(path) == ()


def test_what_a_list_opens_reaches_the_record_though_an_own_line_says_it_in_the_same_words(path, clock):
    first = "first: {mains: [Take the cord off its terminals.]}\n"
    (path.parent / "repairs").mkdir()
    (path.parent / "repairs" / "own.yaml").write_text(OWN.replace("work:\n", f"{first}work:\n"), encoding="utf-8")
    with Bench.create(path, clock=clock, workshop=staffed()) as bench:
        take_in_lot(bench, name="L", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
        ticked = lines(bench)
        assert "Take the cord off its terminals." in ticked
        record_repair(bench, "TB-001", fault=None, part="low", done="Dipped.", mode="open", actions=ticked, by="AB")
        assert {"cord", "enclosure"} <= set(bench.entries("TB-001")[-1].content.opened)
