"""What one unit tells of its lot: how its first go went stage by stage, what was found wrong, what it still needs."""

from collections.abc import Mapping
from dataclasses import dataclass

from benchapp.judgement.statements.statements import completes_step
from benchapp.lots.kit import KitLine, kit_list
from benchapp.lots.pareto import FaultOfUnit
from benchapp.lots.unit_faults import faults_found
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.planning.planned import Plan, Stage
from benchapp.sequences.planning.state import StageStatus


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitLook:
    """One unit, as its lot counts it."""

    mark: str
    first_goes: Mapping[str, bool]
    """by stage that was carried through, or failed: whether the first answer to each of its steps was good"""
    faults: tuple[FaultOfUnit, ...]
    kit: tuple[KitLine, ...]
    """nothing for a unit whose disposition is settled"""


def look_at_unit(mark: str, plan: Plan, state: UnitState) -> UnitLook:
    """What this unit tells, from its whole history."""
    found = {stage.id: _first_go(stage, state) for stage in plan.stages}
    return UnitLook(
        mark=mark,
        first_goes={stage: good for stage, good in found.items() if good is not None},
        faults=tuple(faults_found(mark, plan, state)),
        kit=() if state.finished else kit_list(plan, [state]),
    )


def _first_go(stage: Stage, state: UnitState) -> bool | None:
    """Whether the first answers of a stage were all good; None where it is not over and nothing has failed.

    An answer that was taken back is none.
    """
    answers = (state.history.get(step.address, ()) for step in stage.steps)
    first = [next((one for one in given if one.number not in state.withdrawn), None) for given in answers]
    good = all(completes_step(one.content.judgement) for one in first if one is not None)
    over = any(one.id == stage.id and one.status in _OVER for one in state.stages)
    answered = any(one is not None for one in first)
    return good if answered and (over or not good) else None


_OVER = (StageStatus.done, StageStatus.failed)
