"""Which units the board shows and in which order, as typed and chosen."""

import pytest

from benchapp.desktop.lots.arranging import Arranging, Only, Order, arranged, summary_words
from benchapp.lots.board import UnitRow, lot_board
from benchapp.sequences.planning.state import StageState, StageStatus


def row(mark, status, disposition="quarantine", live="", due=""):
    stage = StageState(id="plug", title="Mains plug", status=StageStatus(status))
    return UnitRow(mark=mark, disposition=disposition, stages=(stage,), live=live, due=due)


BOARD = lot_board(
    [
        row("TB-001", "done", due="Price it"),
        row("TB-002", "failed", due="Mend it"),
        row("TB-003", "not started", live="mains", due="The way back"),
        row("TB-004", "not started", "hold", due="A supervisor decides"),
        row("TB-005", "done", "for sale"),
        row("TB-010", "in progress", due="Close the plug"),
    ]
)


def marks(**how):
    return [one.mark for one in arranged(BOARD, Arranging(**how)).rows]


def test_by_itself_the_board_is_as_the_workbook_has_it():
    assert arranged(BOARD, Arranging()) is BOARD


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("01", ["TB-001", "TB-010"]),
        ("live", ["TB-003"]),
        ("FAILED plug", ["TB-002"]),
        ("hold supervisor", ["TB-004"]),
        ("nothing of the kind", []),
    ],
)
def test_every_word_typed_is_looked_for_in_mark_standing_due_and_what_failed(typed, found):
    assert marks(typed=typed) == found


@pytest.mark.parametrize(
    ("only", "found"),
    [
        (Only.all, ["TB-001", "TB-002", "TB-003", "TB-004", "TB-005", "TB-010"]),
        (Only.to_do, ["TB-010"]),
        (Only.danger, ["TB-003", "TB-004"]),
        (Only.failed, ["TB-002"]),
        (Only.settle, ["TB-001"]),
        (Only.sale, ["TB-005"]),
    ],
)
def test_only_some_units_are_shown(only, found):
    assert marks(only=only) == found


@pytest.mark.parametrize(
    ("order", "first"),
    [(Order.stands, "TB-003"), (Order.due, "TB-005"), (Order.ahead, "TB-001"), (Order.behind, "TB-002")],
)
def test_what_comes_first_is_chosen(order, first):
    assert marks(order=order)[0] == first
    assert sorted(marks(order=order)) == marks()


def test_the_summary_says_how_much_is_shown():
    assert summary_words(BOARD, BOARD).startswith("6 units: 2 checked to the end, 1 with a failed stage.")
    assert summary_words(BOARD, arranged(BOARD, Arranging(typed="live"))).startswith("1 shown of 6 units")
