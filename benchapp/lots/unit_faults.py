"""What was found wrong with a unit, as the lot counts it: not what a second look or a supervisor took back."""

from collections.abc import Iterator

from benchapp.lots.pareto import FaultOfUnit
from benchapp.sequences.history.repairs import part_words
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import FaultState, FaultStatus


def faults_found(mark: str, plan: Plan, state: UnitState, *, stage: str = "") -> Iterator[FaultOfUnit]:
    """The faults of one unit, in words, mended or not; with a `stage` those that it showed."""
    steps = {step.address for step in plan.steps if stage in ("", step.stage)}
    for fault in state.faults:
        if (not stage or fault.address in steps) and not _was_none(fault):
            yield FaultOfUnit(
                mark=mark, part=part_words(plan, fault.part) if fault.part else fault.words, mode=_mode_of(fault)
            )


def _mode_of(fault: FaultState) -> str:
    return fault.mode if fault.part else ""


def _was_none(fault: FaultState) -> bool:
    looked_again = fault.status is FaultStatus.closed and fault.repair is None
    return looked_again or fault.false_alarm is not None or fault.cleared is not None
