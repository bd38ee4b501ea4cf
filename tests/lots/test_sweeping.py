"""Which units a sweep of one stage takes, in which order, and which it leaves out."""

from benchapp.lots.board import UnitRow, lot_board
from benchapp.lots.sweeping import in_turn, next_open_unit, stage_work, work_at
from benchapp.sequences.planning.state import StageState, StageStatus

NEEDS = {"plug": ("visual",)}


def board(visual="done", **plug):
    """Units by mark: the status of their plug; a disposition or what is live behind a slash."""
    rows = []
    for mark, said in plug.items():
        status, _, stands = said.partition("/")
        stages = (
            StageState(id="visual", title="Visual", status=StageStatus(visual)),
            StageState(id="plug", title="Plug", status=StageStatus(status)),
        )
        live = stands if stands in ("mains", "charge") else ""
        disposition = "quarantine" if live else stands or "quarantine"
        rows.append(UnitRow(mark=mark, disposition=disposition, stages=stages, live=live))
    return lot_board(rows)


def test_units_wait_where_the_stage_is_not_over():
    lot = board(a="done", b="failed", c="shut", d="skipped", e="stale", f="in progress", g="not started")
    assert work_at(lot, "plug", NEEDS).ready == ("e", "f", "g")


def test_held_live_charged_and_settled_units_are_not_offered():
    lot = board(a="not started/hold", b="not started/mains", c="not started/charge", d="not started/scrap", e="stale")
    work = work_at(lot, "plug", NEEDS)
    assert work.ready == ("e",)
    assert work.left_out == (("a", "hold"), ("b", "mains"), ("c", "charge"))
    assert next_open_unit(lot, "") == "e"


def test_a_unit_whose_stage_before_is_to_be_done_is_too_early():
    work = work_at(board(visual="in progress", a="not started"), "plug", NEEDS)
    assert (work.ready, work.too_early, work.first) == ((), ("a",), "Visual")
    assert work_at(board(visual="failed", a="not started"), "plug", NEEDS).ready == ("a",)


def test_units_come_down_the_board_and_then_from_the_top_again():
    lot = board(a="not started", b="not started", c="not started", d="not started")
    assert in_turn(lot, ("a", "b", "d"), "b") == ("d", "a")
    assert in_turn(lot, ("a", "b", "d"), "") == ("a", "b", "d")


def test_every_stage_of_the_board_says_what_it_has():
    lot = board(a="not started", b="done")
    assert [(work.title, work.ready) for work in stage_work(lot, NEEDS)] == [("Visual", ()), ("Plug", ("a",))]


def test_a_stage_that_the_lot_does_not_have_has_nothing():
    assert work_at(board(a="not started"), "soak", NEEDS).ready == ()


def test_without_a_sweep_the_next_unit_with_anything_to_do_follows():
    assert next_open_unit(board(a="done", b="not started", c="done"), "c") == "b"
    assert next_open_unit(board(a="done", b="not started"), "b") is None
