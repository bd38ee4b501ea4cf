"""A lot in one look: where its units stand, how each stage goes, what was found wrong, what is to be fetched."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from benchapp.lots.board import Board
from benchapp.lots.first_pass import FirstPass, first_pass_yield
from benchapp.lots.kit import KitLine, merge_kits
from benchapp.lots.pareto import SAME_IN, FaultCount, FaultOfUnit, count_faults
from benchapp.lots.unit_look import UnitLook


@dataclass(frozen=True, slots=True, kw_only=True)
class StageCount:
    """How many units stand how at a stage: (status, units), and the yield of their first goes."""

    stage: str
    title: str
    counts: tuple[tuple[str, int], ...]
    first_go: FirstPass


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundFault:
    """A fault of the lot with the units that have it; `shared` where so many have it that all are to be looked at."""

    count: FaultCount
    marks: tuple[str, ...]
    shared: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LotLook:
    """The lot in one look."""

    units: int
    stand: tuple[tuple[str, int], ...]
    """(what they stand as, units), the most frequent first"""
    mind: tuple[tuple[str, str, str], ...]
    """(mark, "mains", "charge" or "hold", what is due) of those that may hurt or are on hold"""
    stages: tuple[StageCount, ...]
    faults: tuple[FoundFault, ...]
    kit: tuple[KitLine, ...]


def lot_look(board: Board, looks: Iterable[UnitLook]) -> LotLook:
    """The look of a lot from its board, and from what each unit tells."""
    told = list(looks)
    mind = [(row.mark, row.live or "hold", row.due) for row in board.rows if row.live or row.disposition == "hold"]
    return LotLook(
        units=len(board.rows),
        stand=tuple(Counter(row.shows for row in board.rows).most_common()),
        mind=tuple(mind),
        stages=tuple(_stage(board, number, told) for number in range(len(board.columns))),
        faults=_faults([fault for look in told for fault in look.faults]),
        kit=merge_kits(look.kit for look in told),
    )


def _stage(board: Board, number: int, told: Sequence[UnitLook]) -> StageCount:
    stage, title = board.columns[number]
    counted = Counter(row.cells[number].word for row in board.rows if row.cells[number].stage)
    goes = (look.first_goes[stage] for look in told if stage in look.first_goes)
    counts = tuple((word, counted[word]) for word in _ORDER if counted[word])
    return StageCount(stage=stage, title=title, counts=counts, first_go=first_pass_yield(goes))


def _faults(faults: Sequence[FaultOfUnit]) -> tuple[FoundFault, ...]:
    return tuple(
        FoundFault(
            count=count,
            marks=tuple(sorted({fault.mark for fault in faults if fault.name == count.name})),
            shared=count.units >= SAME_IN,
        )
        for count in count_faults(faults)
    )


_ORDER = ("done", "failed", "stale", "in progress", "not started", "shut", "skipped")
"""in which the parts of a bar stand: what is over first, what is not for these units last"""
