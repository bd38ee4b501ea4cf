"""One stage across the lot: which unit comes next; Qt-free."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.lots.board import Board

_WAITING = ("not started", "in progress", "stale")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """A stage taken across a lot."""

    lot: str
    stage: str
    title: str = ""

    def next_unit(self, board: "Board", after: str = "") -> str | None:
        """The next unit down the board whose stage is to be done, from the top again; None when none is."""
        columns = [stage for stage, _title in board.columns]
        if self.stage not in columns:
            return None
        column = columns.index(self.stage)
        waiting = [row.mark for row in board.rows if str(row.cells[column].word) in _WAITING and row.mark != after]
        return _following([row.mark for row in board.rows], waiting, after)


def next_open_unit(board: "Board", after: str) -> str | None:
    """The next unit of the lot, whatever its stage, that still has something to do."""
    marks = [row.mark for row in board.rows]
    waiting = [
        row.mark for row in board.rows if row.mark != after and any(str(cell.word) in _WAITING for cell in row.cells)
    ]
    return _following(marks, waiting, after)


def _following(marks: list[str], waiting: list[str], after: str) -> str | None:
    here = marks.index(after) if after in marks else -1
    order = marks[here + 1 :] + marks[: here + 1]
    return next((mark for mark in order if mark in waiting), None)


def finished_words(sweep: Sweep | None, lot: str) -> str:
    """What is said when no unit of the lot waits any more, for the stage that was taken across it or for anything."""
    if sweep is None:
        return tr("Nothing more is to be done in {lot}.").format(lot=lot)
    return tr("{stage} is done as far as it goes in {lot}.").format(stage=sweep.title, lot=lot)
