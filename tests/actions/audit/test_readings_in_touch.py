"""Readings taken in touch are judged the same again from what the record keeps of them."""

import shutil

import pytest

from benchapp.actions.audit.following import follow_readings
from benchapp.actions.audit.rejudging import rejudge_workbook
from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer, withdraw_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.papers.record_content import record_content
from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.conftest import SMALL
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

COILS_WITH_A_RESISTOR = """
  - measure: resistor
    say: Across the resistor, while it is moved.
    function: resistance
    keep: lowest
    accept: between 56 ohm and 70 ohm
"""


@pytest.fixture
def own(tmp_path):
    """The small workshop with one more step, of which the lowest reading counts."""
    folder = tmp_path / "own"
    shutil.copytree(SMALL, folder)
    file = folder / "sequences" / "coils.yaml"
    text = file.read_text()
    location = text.index("  - measure: leads-again")
    file.write_text(text[:location] + COILS_WITH_A_RESISTOR.lstrip("\n") + text[location:])
    return folder


@pytest.fixture
def in_touch(own, path, clock):
    """One unit read in touch, taken back, read afresh, and read in touch again over it."""
    with Bench.create(path, folders=(own,), clock=clock, workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=True, lead_resistance=0.0),), **OPENED)
        take_in_lot(bench, name="L", equipment="tb-ls1", route="small-check", marks=("TB-001",), by="AB")
        do_what_is_due(bench, "TB-001", until="coils.resistor")
        touching = ReadingAnswer(typed="62.0 ohm", repeats=("56.5 ohm", "57.0 ohm"), meter="tb-m1")
        record_answer(bench, "TB-001", "coils.resistor", touching, by="AB")
        withdraw_answer(bench, "TB-001", by="AB")
        record_answer(bench, "TB-001", "coils.resistor", ReadingAnswer(typed="56.50 ohm", meter="tb-m1"), by="AB")
        record_answer(bench, "TB-001", "coils.resistor", touching, by="AB")
        do_what_is_due(bench, "TB-001")
        yield path, bench


class TestReadingsInTouch:
    def test_keep_what_was_typed_in_order_and_the_range_of_the_reading_before(self, in_touch):
        path, _ = in_touch
        first, afresh, again = follow_readings(path, "TB-001", step="coils.resistor")
        assert (first["typed"], first["repeats"], first["kept"]) == ("62.0 ohm", ["56.5 ohm", "57.0 ohm"], "56.5 ohm")
        assert [one["taken"]["range_shown"] for one in (first, afresh, again)] == ["600 ohm", "60 ohm", "600 ohm"]
        assert [one["taken"].get("range_before") for one in (first, afresh, again)] == ["600 ohm", None, "600 ohm"]
        assert [one["decision"]["judgement"] for one in (first, afresh, again)] == [
            "conditional pass",
            "pass",
            "conditional pass",
        ]

    def test_come_out_the_same_when_verified_followed_and_judged_again(self, in_touch):
        path, _ = in_touch
        assert verify_workbook(path) == ()
        assert rejudge_workbook(path).changes == ()
        assert all(not one["differs_when_judged_again"] for one in follow_readings(path, "TB-001"))

    def test_are_worth_on_the_gauge_what_they_are_on_record(self, in_touch):
        _, bench = in_touch
        given = ReadingAnswer(typed="62.0 ohm", repeats=("56.5 ohm", "57.0 ohm"), meter="tb-m1")
        live = bench.evaluate("TB-001", "coils.resistor", given)
        stored = bench.state("TB-001").readings["coils.resistor"].content
        assert (live.decision.guard_band, live.judgement) == (stored.guard_band, stored.judgement)
        assert live.content.range_shown == stored.range_shown == "600 ohm"

    def test_show_their_range_on_the_record_sheet(self, in_touch):
        _, bench = in_touch
        budgets = record_content(bench, "TB-001").budgets
        sources = [line.source for budget in budgets for line in budget.rows]
        assert any(source.endswith("range to 600 ohm") for source in sources)
