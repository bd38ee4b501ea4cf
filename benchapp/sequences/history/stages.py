"""How does each stage stand: one cell of the board, and what the tag must name as not tested."""

from collections.abc import Sequence

from benchapp.judgement.meters.functions import Function
from benchapp.sequences.history.ledger import Fault
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.planned import PlannedStep, Stage
from benchapp.sequences.planning.planned_kind import OnTag, on_tag
from benchapp.sequences.planning.state import StageState, StageStatus, StepState, StepStatus
from benchapp.sequences.planning.step_names import name_within


def stage_states(evaluation: StepEvaluation, faults: Sequence[Fault]) -> tuple[StageState, ...]:
    """The stages of the route, in order."""
    at_fault = {fault.address for fault in faults}
    return tuple(_stage_state(evaluation, stage, at_fault) for stage in evaluation.plan.stages)


def _stage_state(evaluation: StepEvaluation, stage: Stage, at_fault: set[str]) -> StageState:
    states = [evaluation.steps[step.address] for step in stage.steps]
    applying = [state for state in states if state.status is not StepStatus.skipped]
    status, why = _status(applying, at_fault)
    if not applying:
        why = states[0].why if states else ""
    done = sum(state.status is StepStatus.done for state in applying)
    return StageState(id=stage.id, title=stage.title, status=status, done=done, of=len(applying), why=why)


def _status(applying: Sequence[StepState], at_fault: set[str]) -> tuple[StageStatus, str]:
    if not applying:
        return StageStatus.skipped, ""
    failed = [s for s in applying if s.status is StepStatus.failed or s.address in at_fault]
    if failed:
        return StageStatus.failed, failed[0].why
    for step_status, stage_status in ((StepStatus.stale, StageStatus.stale), (StepStatus.shut, StageStatus.shut)):
        found = [s for s in applying if s.status is step_status]
        if found and (step_status is StepStatus.stale or _is_shut(applying)):
            return stage_status, found[0].why
    if all(s.status is StepStatus.done for s in applying):
        return StageStatus.done, ""
    if any(s.entry is not None for s in applying):
        return StageStatus.in_progress, ""
    return StageStatus.not_started, ""


def _is_shut(applying: Sequence[StepState]) -> bool:
    """A stage is shut when its first step left to do is; a step that only waits for an earlier answer shuts nothing."""
    left = [state for state in applying if state.status is not StepStatus.done]
    return bool(left) and left[0].status is StepStatus.shut


def not_tested(evaluation: StepEvaluation) -> tuple[str, ...]:
    """What a tag must name: what the route leaves out, and stages that were not carried through.

    A test that failed was tested: it is named as failed, not here.
    """
    return (
        *evaluation.plan.not_tested,
        *(words for stage in evaluation.plan.stages for words in _left(evaluation, stage)),
    )


def _left(evaluation: StepEvaluation, stage: Stage) -> list[str]:
    """The stage's title when none of its tests was done, the steps when some were."""
    named = [step for step in stage.steps if on_tag(step.kind) is not OnTag.nothing]
    tests = [step for step in named if not _is_not_for_it(evaluation, step)]
    tested = {StepStatus.done, StepStatus.failed}
    left = [step for step in tests if evaluation.status(step) not in tested]
    if not left:
        return []
    if len(left) == len(tests):
        return [stage.title]
    return [f"{stage.title}: {name}" for name in dict.fromkeys(name_within(step) for step in left)]


def _is_not_for_it(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    """Whether a fact of the unit makes the test none of its concern; the want of a tester or a meter does not."""
    skipped = evaluation.status(step) is StepStatus.skipped
    if evaluation.plan.cannot_read(step) and applies(step.when, evaluation.facts)[0] is not False:
        return False
    return skipped and (step.function is not Function.insulation or evaluation.plan.workshop.insulation_tester)
