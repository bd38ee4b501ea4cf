"""The workshop's settings bind every window, and they and the meters' leads are what they can be."""

import math
from dataclasses import replace

import pytest

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import change_workshop, close_bench, open_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import open_supervised
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

METERS = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in ("tb-m1", "tb-it1", "tb-pm1"))


@pytest.fixture
def without(path, clock):
    """A mains unit in a workshop that says it has no insulation tester, ready for a supervisor."""
    with Bench.create(path, clock=clock, workshop=staffed(insulation_tester=False)) as bench:
        open_bench(bench, by="AB", meters=METERS, rcd_button_tested=True, **OPENED)
        take_in_lot(bench, name="Attic", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
        do_what_is_due(bench, "TB-001")
        yield bench


def test_a_second_window_works_by_the_settings_that_the_first_has_changed(without, path, clock):
    with Bench.open(path, clock=clock) as other:
        assert other.state("TB-001").steps["insulation.live-to-case"].status == "skipped"
        change_workshop(without, staffed(insulation_tester=True, dead_tests_last_days=7), by="SV", reason="anew")
        assert other.workshop == staffed(insulation_tester=True, dead_tests_last_days=7)
        assert other.state("TB-001").steps["insulation.live-to-case"].status != "skipped"
        with pytest.raises(Refused, match="This workshop has an insulation tester"):
            open_supervised(other, "TB-001", supervisor="SV", reason="known design")


def test_settings_changed_between_the_gate_and_the_disk_send_an_entry_through_the_gate_again(
    without, path, clock, monkeypatch
):
    """The other window's change comes at the worst moment: after this one has asked its gate."""
    with Bench.open(path, clock=clock) as other:
        append = other.workbook.append

        def late(*entry, **how):
            change_workshop(without, staffed(), by="SV", reason="anew")
            return append(*entry, **how)

        monkeypatch.setattr(other.workbook, "append", late)
        with pytest.raises(Refused, match="This workshop has an insulation tester"):
            open_supervised(other, "TB-001", supervisor="SV", reason="known design")
    assert without.entries("TB-001")[-1].kind != "supervisor-opening"


def test_a_settings_change_costs_an_entry_nothing(without, path, clock):
    with Bench.open(path, clock=clock) as other:
        record_note(other, "TB-001", "one", by="CD")
        change_workshop(without, staffed(dead_tests_last_days=9), by="SV", reason="anew")
        record_note(other, "TB-001", "two", by="CD")
        assert [entry.content.words for entry in without.entries("TB-001")[-2:]] == ["one", "two"]


@pytest.mark.parametrize(
    "change",
    [{"dead_tests_last_days": days} for days in (0, -1, 367, 10**9, math.nan, math.inf, 2.5, True)]
    + [{"mains_fresh_for": seconds} for seconds in (0.0, -600.0, 1e9, math.nan)]
    + [{"guard_factor": factor} for factor in (-1.0, math.nan, math.inf, 50.0)]
    + [{"region": " "}],
    ids=str,
)
def test_settings_that_cannot_be_are_refused(bench, path, change):
    before = bench.workshop
    with pytest.raises(Refused):
        change_workshop(bench, replace(before, **change), by="SV", reason="anew")
    assert bench.workshop == before
    with pytest.raises(Refused):
        Bench.create(path.with_name("other.workbook"), workshop=replace(before, **change))


@pytest.mark.parametrize(
    ("proof", "words"),
    [
        ({"lead_resistance": 0.2, "nulled": True}, "Say one of the two"),
        ({"lead_resistance": 0.0, "nulled": True}, "Say one of the two"),
        ({"lead_resistance": -0.2}, "cannot be: measure those of tb-m1 again"),
        ({"lead_resistance": math.nan}, "cannot be"),
        ({"lead_resistance": math.inf}, "cannot be"),
        ({"lead_resistance": 40.0}, "take other leads for tb-m1"),
    ],
)
def test_leads_that_cannot_be_are_refused_at_opening_and_closing(bench, lot, proof, words):
    before = bench.opening()
    with pytest.raises(Refused, match=words):
        open_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=True, **proof),), **OPENED)
    with pytest.raises(Refused, match=words):
        close_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=True, **proof),))
    assert bench.opening() == before


def test_a_supervisor_is_another_person_and_opens_for_the_day(without, clock):
    with pytest.raises(Refused, match="ab tested this unit: another person"):
        open_supervised(without, "TB-001", supervisor=" ab", reason="known design")
    open_supervised(without, "TB-001", supervisor="SV", reason="known design")
    rows = {row.id: row for row in without.state("TB-001").interlock[Supply.limited]}
    assert rows["insulation"].holds
    clock.pass_days(1)
    rows = {row.id: row for row in without.state("TB-001").interlock[Supply.limited]}
    assert rows["insulation"].why == "the supervisor's opening was for another day"


def test_a_meter_that_a_later_opening_did_not_prove_takes_no_live_reading(path, clock):
    with Bench.create(path, clock=clock, workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=METERS, rcd_button_tested=True, **OPENED)
        take_in_lot(bench, name="Attic", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
        do_what_is_due(bench, "TB-001", until="first-power.current")
        unproved = tuple(replace(proof, proved=proof.meter != "tb-pm1") for proof in METERS)
        open_bench(bench, by="AB", meters=unproved, rcd_button_tested=True, **OPENED)
        given = ReadingAnswer(typed="0.015 A", meter="tb-pm1")
        with pytest.raises(Refused, match="This meter was not proved at the last bench opening"):
            record_answer(bench, "TB-001", "first-power.current", given, by="AB")


def test_nothing_is_plugged_in_after_the_bench_was_closed(path, clock):
    with Bench.create(path, clock=clock, workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=METERS, rcd_button_tested=True, **OPENED)
        take_in_lot(bench, name="Attic", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
        due = do_what_is_due(bench, "TB-001", until="first-power.plug-in")
        close_bench(bench, by="AB")
        given = WorkAnswer(done=bench.plan("TB-001").step(due.address).model.do)
        with pytest.raises(Refused, match="The bench was closed for today"):
            record_answer(bench, "TB-001", due.address, given, by="AB")
