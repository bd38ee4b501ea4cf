"""One stage across a lot: which units are ready, which comes next, and a fault that several of the last ones share."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.lots.pareto import SharedFault
    from benchapp.lots.sweeping import StageWork

_OVER = ("shut", "finished", "held", "repair")
"""what may be due at a stage of a unit that has nothing to give to a sweep of it now"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SweepStep:
    """Where a sweep stands: the unit that comes next, if any is ready, and what to be told before it."""

    work: "StageWork"
    following: str = ""
    why: str = ""
    """why the first unit that looked ready is not taken, where none is"""
    shared: "SharedFault | None" = None


def stage_works(bench: Bench, lot: str) -> "tuple[StageWork, ...]":
    """What each stage of the lot has for a sweep."""
    from benchapp.lots.sweeping import stage_work

    return stage_work(bench.board(lot), _needs(bench, lot))


def next_in_sweep(bench: Bench, lot: str, stage: str, *, after: str = "", by: str = "") -> SweepStep:
    """The next unit that the stage is due on, down the board and from the top again: the engine is asked of each."""
    from benchapp.lots.sweeping import in_turn, work_at

    board = bench.board(lot)
    work = work_at(board, stage, _needs(bench, lot))
    why = ""
    for mark in in_turn(board, work.ready, after):
        due = bench.state(mark, stage=stage, by=by).due
        if str(due.kind) not in _OVER:
            return SweepStep(work=work, following=mark, shared=shared_in_sweep(bench, lot, stage))
        why = why or say("{unit}: {words}", unit=mark, words=due.words)
    return SweepStep(work=work, why=why)


def shared_in_sweep(bench: Bench, lot: str, stage: str) -> "SharedFault | None":
    """The fault that this stage showed in three of the last five units of the lot that were worked on there.

    It follows from the record, so that a sweep that was left and begun again knows of the units before.
    """
    from benchapp.lots.pareto import LAST, shared_fault
    from benchapp.lots.unit_faults import faults_found
    from benchapp.workbook.record.reading import read_last_worked

    marks = read_last_worked(bench.workbook.store, lot, stage, LAST)
    faults = [fault for mark in marks for fault in faults_found(mark, bench.plan(mark), bench.state(mark), stage=stage)]
    return shared_fault(marks, faults)


def _needs(bench: Bench, lot: str) -> dict[str, tuple[str, ...]]:
    """By stage, the stages that its sequence asks for before it: of one unit for each design and route of the lot."""
    one_of_each = {(unit.equipment, unit.route): unit.mark for unit in reversed(bench.units(lot))}
    return {stage.id: stage.needs_before for mark in one_of_each.values() for stage in bench.plan(mark).stages}
