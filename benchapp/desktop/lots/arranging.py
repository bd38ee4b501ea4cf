"""Which rows of the board are shown, and in which order: what was typed, what is chosen; Qt-free."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from benchapp.desktop.theme.signs import sign_for
from benchapp.desktop.words import tr
from benchapp.lots.board import Board, BoardRow

_TOLD = ("failed", "stale", "in progress")
"""stages that a search finds by their word and title; what is done or to be done nearly every unit has"""


class Only(StrEnum):
    """What a row must be to be shown; the value is its word on screen."""

    all = "all units"
    to_do = "with something to do"
    danger = "LIVE, charged or on hold"
    failed = "with a failed stage"
    settle = "to be settled"
    sale = "for sale"


class Order(StrEnum):
    """What comes first; the value is its word on screen."""

    mark = "by mark"
    stands = "by what they stand as"
    due = "by what is due"
    ahead = "furthest ahead first"
    behind = "furthest behind first"


@dataclass(frozen=True, slots=True, kw_only=True)
class Arranging:
    """How the board is arranged; by itself as the workbook has it."""

    typed: str = ""
    only: Only = Only.all
    order: Order = Order.mark


def arranged(board: Board, how: Arranging) -> Board:
    """The board with the rows that are asked for, in the order that is asked for; the marks settle what is equal."""
    if how == Arranging():
        return board
    words = how.typed.casefold().split()
    titles = tuple(title for _stage, title in board.columns)
    keeps = _KEEPS[how.only]
    rows = [row for row in board.rows if keeps(row) and all(word in _text(row, titles) for word in words)]
    rows.sort(key=_KEYS[how.order])
    return Board(columns=board.columns, rows=tuple(rows))


def summary_words(whole: Board, shown: Board) -> str:
    """How the lot stands, and how much of it is shown."""
    ready = sum(row.checked for row in whole.rows)
    failed = sum(any(cell.word == "failed" for cell in row.cells) for row in whole.rows)
    words = tr("{count} unit(s): {ready} checked to the end, {failed} with a failed stage.", "", len(whole.rows))
    said = words.format(count=len(whole.rows), ready=ready, failed=failed)
    if len(shown.rows) == len(whole.rows):
        return said
    return tr("{shown} shown of {words}").format(shown=len(shown.rows), words=said)


def _text(row: BoardRow, titles: tuple[str, ...]) -> str:
    """What a search looks through."""
    told = (
        f"{tr(sign_for(cell.word).word)} {title}"
        for cell, title in zip(row.cells, titles, strict=True)
        if cell.word in _TOLD
    )
    return " ".join((row.mark, tr(sign_for(row.shows).word), row.due, *told)).casefold()


def _done(row: BoardRow) -> int:
    return sum(cell.word == "done" for cell in row.cells)


_KEEPS: dict[Only, Callable[[BoardRow], bool]] = {
    Only.all: lambda _row: True,
    Only.to_do: lambda row: not row.left_out and row.waits_at(""),
    Only.danger: lambda row: bool(row.live) or row.disposition == "hold",
    Only.failed: lambda row: any(cell.word == "failed" for cell in row.cells),
    Only.settle: lambda row: row.shows == "checked",
    Only.sale: lambda row: row.disposition == "for sale",
}
_FIRST = ("mains", "charge", "hold", "quarantine", "checked")
"""what a person has to see first; what is settled follows"""
_KEYS: dict[Order, Callable[[BoardRow], tuple[object, ...]]] = {
    Order.mark: lambda _row: (),
    Order.stands: lambda row: (_FIRST.index(row.shows) if row.shows in _FIRST else len(_FIRST), row.shows),
    Order.due: lambda row: (row.due.casefold(),),
    Order.ahead: lambda row: (-_done(row),),
    Order.behind: lambda row: (_done(row),),
}
