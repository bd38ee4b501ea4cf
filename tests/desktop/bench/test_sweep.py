"""Which unit comes next when a stage is taken across the lot."""

from benchapp.desktop.bench.sweep import Sweep, next_open_unit
from benchapp.lots.board import UnitRow, lot_board
from benchapp.sequences.planning.state import StageState, StageStatus

SWEEP = Sweep(lot="one", stage="plug")


def board(**plug):
    return lot_board(
        [
            UnitRow(
                mark=mark,
                disposition="quarantine",
                stages=(
                    StageState(id="visual", title="Visual", status=StageStatus.done),
                    StageState(id="plug", title="Plug", status=StageStatus(status)),
                ),
            )
            for mark, status in plug.items()
        ]
    )


def test_the_sweep_goes_down_the_board():
    lot = board(a="not started", b="not started", c="not started")
    assert SWEEP.next_unit(lot) == "a"
    assert SWEEP.next_unit(lot, "a") == "b"


def test_it_begins_again_at_the_top_for_units_left_out():
    assert SWEEP.next_unit(board(a="in progress", b="done", c="done"), "c") == "a"


def test_units_that_are_done_failed_shut_or_without_the_stage_are_passed_over():
    lot = board(a="done", b="failed", c="shut", d="skipped", e="stale")
    assert SWEEP.next_unit(lot) == "e"


def test_it_ends_when_no_unit_waits():
    assert SWEEP.next_unit(board(a="done", b="in progress"), "b") is None


def test_a_stage_that_the_lot_does_not_have_has_no_next_unit():
    assert Sweep(lot="one", stage="soak").next_unit(board(a="not started")) is None


def test_without_a_sweep_the_next_unit_with_anything_to_do_follows():
    assert next_open_unit(board(a="done", b="not started", c="done"), "c") == "b"
