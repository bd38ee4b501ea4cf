"""The retest of a repair as it is shown before the technician agrees to it, and what of it was due already."""

from collections.abc import Iterable, Mapping, Sequence

from benchapp.sequences.history.retest import mended_by, repair_scope
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import StepState, StepStatus


def retest_scope(
    plan: Plan, state: UnitState, part: str, opened: Sequence[str], fault: int | None = None
) -> tuple[str, ...]:
    """Addresses, in order, of the steps answered so far that are taken again after such a repair of that fault.

    Those that were due already are among them (`due_already`).
    """
    scope = repair_scope(plan, part, opened, mended_by(state.faults, fault, part))
    answered = {a for a, given in state.history.items() if given and state.steps[a].status is not StepStatus.skipped}
    return tuple(step.address for step in plan.steps if step.address in scope & answered)


def due_already(steps: Mapping[str, StepState], scope: Iterable[str]) -> int:
    """How many of the steps of a retest are asked again whether or not the repair is recorded."""
    standing = {StepStatus.done, StepStatus.failed}
    return sum(steps[address].status not in standing for address in scope)
