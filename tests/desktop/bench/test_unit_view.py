"""What a page is shown of a unit is of one reading of its history, whatever another window writes meanwhile."""

import pytest

from benchapp.actions.entries.runs import start_run
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.bench.unit_view import view_of
from tests.desktop.windows import Clock, prove_meters, take_in
from tests.people import staffed


@pytest.fixture
def bench(tmp_path):
    """Three units of a mains lot, the bench open."""
    with Bench.create(tmp_path / "shown.workbook", clock=Clock(), workshop=staffed()) as opened:
        take_in(opened)
        prove_meters(opened)
        yield opened


@pytest.fixture
def readings(bench, monkeypatch):
    """The unit of each reading of a history, in order."""
    read, seen = bench.workbook.entries, []

    def counted(mark, **asked):
        found = read(mark, **asked)
        seen.append(mark)
        return found

    monkeypatch.setattr(bench.workbook, "entries", counted)
    return seen


def test_a_unit_is_read_once_for_its_page(bench, readings):
    view = view_of(bench, "TB-001")
    assert readings == ["TB-001"]
    assert (view.mark, view.lot, view.step.address) == ("TB-001", "Shelf nine", view.state.due.address)


def test_a_unit_that_another_window_calls_another_design_meanwhile_is_shown_as_one_of_them(bench, monkeypatch):
    other, read = Bench.open(bench.path, clock=bench.clock), bench.history

    def read_before_the_other(mark):
        found = read(mark)
        if not other.history(mark).entries:
            start_run(other, mark, by="CD", equipment="tb-rec1", why="the plate says so")
        return found

    monkeypatch.setattr(bench, "history", read_before_the_other)
    with other:
        view = view_of(bench, "TB-001")
        assert view.state.evaluation.plan is view.plan
        assert view.plan.equipment_id == "tb-mu1"
        assert view_of(bench, "TB-001").plan.equipment_id == "tb-rec1"
