"""Judging an answer without recording it; the live gauge and the recording both come here."""

from collections.abc import Mapping
from typing import Any

from benchapp.sequences.answering.answers import complain
from benchapp.sequences.answering.judged_kind import JudgedKind
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import Evaluation


def evaluate(plan: Plan, state: UnitState, address: str, given: StepAnswer, *, at: str) -> Evaluation:
    """Judge an answer; `content` of the result is what an entry of it would carry.

    Raises KindProblem where the step is of a kind that nobody knows.
    """
    step = plan.by_address.get(address)
    if step is None:
        return complain(f"This run has no step “{address}”.")
    kind = JudgedKind.named(step.kind)
    if not isinstance(given, kind.answer):
        return complain(f"{address} is a step to {step.kind}: that is no answer to it.")
    return kind.evaluate(plan, state, step, given, at)


def answer_from(content: Mapping[str, Any]) -> StepAnswer:
    """The raw answer that an entry's content keeps, to be judged again; raises KindProblem for a kind unknown."""
    return JudgedKind.named(str(content.get("step", ""))).answer_from(content, str(content.get("note", "")))
