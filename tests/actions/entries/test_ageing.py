"""Time alone moves a unit at the times that are foreseen, so that a bench opening looks at no other."""

from datetime import UTC, datetime, timedelta

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.days import change_workshop, open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.papers.tag_content import tag_content
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.unit_summary import stage_rows, summary_after
from benchapp.workbook.model.values import MeterProof
from tests.actions.conftest import Clock
from tests.actions.driving import do_what_is_due
from tests.effort import thorough
from tests.people import OPENED, staffed
from tests.templates import Template

METERS = tuple(MeterProof(meter=name, proved=True, lead_resistance=0.0) for name in ("tb-m1", "tb-it1", "tb-pm1"))
STOPS = ("continuity.earth", "insulation.dry", "first-power.current", None)


@pytest.fixture(scope="module")
def template(tmp_path_factory):
    """Units that stand at the stops, and one more to which nothing was done."""

    def make(path, clock):
        with Bench.create(path, clock=clock, workshop=staffed()) as opened:
            open_bench(opened, by="AB", meters=METERS, rcd_button_tested=True, **OPENED)
            marks = tuple(f"TB-{number:03d}" for number in range(1, len(STOPS) + 2))
            take_in_lot(opened, name="Attic", equipment="tb-mu1", route="mains-unit", marks=marks, by="AB")
            # one unit at a time is under power: the one that is left so comes last
            for mark, until in sorted(zip(marks, STOPS, strict=False), key=lambda one: one[1] is not None):
                do_what_is_due(opened, mark, until=until)

    return Template(tmp_path_factory.mktemp("attic"), Clock(), make)


@pytest.fixture
def clock(template):
    return template.clock()


@pytest.fixture
def path(template, tmp_path):
    return template.copied(tmp_path)


@pytest.fixture
def bench(path, clock):
    with Bench.open(path, clock=clock) as opened:
        yield opened


def later(at, **by):
    when = datetime.fromisoformat(at).replace(tzinfo=UTC) + timedelta(**by)
    return when.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def moments(bench, mark):
    """The times at which the unit is foreseen to move, one after the other."""
    at = bench.entries(mark)[-1].at
    while at:
        yield at
        at = later(at, seconds=1)
        at = summary_after(mark, bench.state(mark, at=at), bench.entries(mark)).moves_at


@pytest.mark.parametrize("mark", ["TB-001", "TB-002", "TB-003", "TB-004"])
def test_between_two_foreseen_times_nothing_moves(bench, mark):
    """Over forty days, every few hours in a thorough run; the day of work is left out: its mains serves for minutes."""
    step = 7 if thorough() else 29
    foreseen = list(moments(bench, mark))
    assert len(foreseen) > 1
    for start, end in zip(foreseen, [*foreseen[1:], later(foreseen[-1], days=40)], strict=True):
        at, shown = later(start, minutes=30), None
        while at < end:
            rows = stage_rows(mark, bench.state(mark, at=at))
            assert shown in (None, rows), f"{mark} moved at {at}, between {start} and {end}"
            shown, at = rows, later(at, hours=step)


def test_opening_a_bench_folds_only_units_that_time_may_have_moved(bench, clock, monkeypatch):
    folded = []
    history = bench.history
    monkeypatch.setattr(bench, "history", lambda mark: folded.append(mark) or history(mark))
    open_bench(bench, by="AB", meters=METERS, **OPENED)
    assert folded == []
    clock.pass_days(1)
    open_bench(bench, by="AB", meters=METERS, **OPENED)
    assert folded == ["TB-001", "TB-002", "TB-003", "TB-004"]  # not the fifth, to which nothing was done
    folded.clear()
    clock.pass_days(1)
    open_bench(bench, by="AB", meters=METERS, **OPENED)
    assert folded == []


def test_other_settings_are_shown_at_once(bench, clock):
    clock.pass_days(20)
    open_bench(bench, by="AB", meters=METERS, **OPENED)
    before = bench.board("Attic")
    change_workshop(bench, staffed(dead_tests_last_days=10), by="SV", reason="anew")
    assert bench.board("Attic") != before
    change_workshop(bench, staffed(dead_tests_last_days=30), by="SV", reason="anew")
    assert bench.board("Attic") == before


def test_a_workbook_on_which_time_has_moved_verifies(bench, clock, path):
    clock.pass_days(40)
    open_bench(bench, by="AB", meters=METERS, **OPENED)
    bench.close()
    assert verify_workbook(path) == ()


def test_a_sale_lapses_on_board_and_sale_table_at_the_opening_after_its_tests_grew_old(bench, clock, path):
    set_disposition(bench, "TB-004", "for sale", by="AB", grade="A", price="£15")
    tested = tag_content(bench, "TB-004").date
    clock.pass_days(29)
    open_bench(bench, by="AB", meters=METERS, **OPENED)
    assert bench.unit("TB-004").disposition == "for sale"
    clock.pass_days(2)
    changes = open_bench(bench, by="AB", meters=METERS, **OPENED)
    assert "TB-004" in changes.words
    assert bench.unit("TB-004").disposition == "quarantine"
    assert bench.unit("TB-004") not in bench.workbook.units_of("for sale")
    assert tag_content(bench, "TB-004").disposition_words == "Not tested, do not plug in"
    assert tested == "2026-05-04"
    bench.close()
    assert verify_workbook(path) == ()
