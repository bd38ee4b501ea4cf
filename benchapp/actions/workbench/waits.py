"""Which units wait for a time to pass, since when and for how long: each follows from the unit's record alone.

A wait runs from the entry before it. So it goes on while the window is closed, and whoever opens the workbook again
finds it where it is.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.sequences.history.unit_state import UnitState
    from benchapp.sequences.planning.planned import Plan

_AT_WORK = "in progress"


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A unit whose due step is a wait."""

    mark: str
    began: str
    """the time (ISO 8601) of the entry from which it runs"""
    seconds: float
    """how long it lasts"""
    dead: bool
    """nothing is on the unit while it waits, and its way back is done: it may be put aside meanwhile"""


def waiting_of(mark: str, plan: "Plan", state: "UnitState") -> Waiting | None:
    """The wait that is due of a unit; None where none is."""
    step = plan.by_address.get(state.due.address)
    if step is None or step.kind != "wait" or state.evaluation is None or str(state.due.kind) not in _STEPS:
        return None
    before = state.evaluation.ledger.worked_before(step.address)
    return Waiting(
        mark=mark,
        began=before.at if before is not None else state.at,
        seconds=step.lasts or 0.0,
        dead=not state.energised and str(step.supply) == "none",
    )


_STEPS = ("step", "way-back")


def units_at_work(bench: "Bench") -> Iterator[str]:
    """The marks of all units that were begun and are not done, or may be live: those that can be waiting."""
    for lot in bench.lots():
        for row in bench.board(lot.name).rows:
            if row.live or any(cell.word == _AT_WORK for cell in row.cells):
                yield row.mark
