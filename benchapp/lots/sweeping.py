"""One stage across a lot: which units are ready there, which have another stage to come first, which are left out.

A unit that may be live or charged, is on hold (for a hazard too) or is settled is never offered, whatever its stages
say.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from benchapp.lots.board import Board, BoardRow

Needs = Mapping[str, tuple[str, ...]]
"""by stage: the stages that have to be settled before it"""


@dataclass(frozen=True, slots=True, kw_only=True)
class StageWork:
    """What a stage has for a sweep, by shelf mark."""

    stage: str
    title: str
    ready: tuple[str, ...] = ()
    too_early: tuple[str, ...] = ()
    """units that have a stage to come first"""
    first: str = ""
    """the title of that stage"""
    left_out: tuple[tuple[str, str], ...] = ()
    """(mark, why): "mains", "charge" or "hold"; what is settled is not named, for nobody expects it"""
    shut: tuple[str, ...] = ()
    """units of which the stage is shut, by a fault or a condition"""


def stage_work(board: Board, needs: Needs) -> tuple[StageWork, ...]:
    """Every stage of the board, in the order of the route."""
    return tuple(work_at(board, stage, needs) for stage, _title in board.columns)


def work_at(board: Board, stage: str, needs: Needs) -> StageWork:
    """What that stage has for a sweep; nothing where the lot does not have it."""
    titles, before = dict(board.columns), needs.get(stage, ())
    waiting = [row for row in board.rows if row.waits_at(stage)] if stage in titles else []
    offered = [row for row in waiting if not row.left_out]
    early = {row.mark: first for row in offered for first in _to_come_first(row, before)}
    return StageWork(
        stage=stage,
        title=titles.get(stage, ""),
        ready=tuple(row.mark for row in offered if row.mark not in early),
        too_early=tuple(early),
        first=titles.get(next(iter(early.values()), ""), ""),
        left_out=tuple((row.mark, row.left_out) for row in waiting if row.live or row.disposition == "hold"),
        shut=tuple(row.mark for row in board.rows if not row.left_out and row.is_shut_at(stage)),
    )


def next_open_unit(board: Board, after: str) -> str | None:
    """The next unit down the board that has anything to do and is offered, from the top again; None when none is."""
    offered = [row.mark for row in board.rows if row.waits_at("") and not row.left_out]
    return next(iter(in_turn(board, offered, after)), None)


def in_turn(board: Board, marks: Collection[str], after: str) -> tuple[str, ...]:
    """These units in the order in which they come after that one: down the board, then from the top again."""
    order = [row.mark for row in board.rows]
    here = order.index(after) if after in order else -1
    following = (*order[here + 1 :], *order[: max(here, 0)])
    return tuple(mark for mark in following if mark in set(marks))


def _to_come_first(row: BoardRow, needed: tuple[str, ...]) -> Iterator[str]:
    """The stage that a unit has to have settled; one that failed may be settled by its fault on record."""
    return (stage for stage in needed if row.waits_at(stage))
