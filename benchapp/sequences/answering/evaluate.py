"""What would this answer be worth? Tries it without recording it; the live gauge and the recording both ask here."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from benchapp.sequences.answering.answers import complain, try_answer, try_inspection, try_photo, try_wait, try_work
from benchapp.sequences.answering.readings import try_reading
from benchapp.sequences.answering.values import try_computed, try_value
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.language.models import AskStep
from benchapp.sequences.language.vocabulary import StepKind
from benchapp.sequences.planning.entries import (
    AskAnswer,
    ComputeAnswer,
    InspectAnswer,
    PhotoAnswer,
    ReadingAnswer,
    StepAnswer,
    WaitAnswer,
    WorkAnswer,
)
from benchapp.sequences.planning.fact_rules import doubts_about
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import Evaluation

_ANSWERS = {
    StepKind.inspect: InspectAnswer,
    StepKind.work: WorkAnswer,
    StepKind.probe: ReadingAnswer,
    StepKind.measure: ReadingAnswer,
    StepKind.ask: AskAnswer,
    StepKind.wait: WaitAnswer,
    StepKind.compute: ComputeAnswer,
    StepKind.photo: PhotoAnswer,
}
"""What is given at each kind of step."""


def evaluate(plan: Plan, state: UnitState, address: str, given: StepAnswer, *, at: str) -> Evaluation:
    """Judge an answer; `content` of the result is what an entry of it would carry."""
    step = plan.by_address.get(address)
    if step is None:
        return complain(f"This run has no step “{address}”.")
    if not isinstance(given, _ANSWERS[step.kind]):
        return complain(f"{address} is a step to {step.kind}: that is no answer to it.")
    return _try(plan, state, step, given, at)


def _try(plan: Plan, state: UnitState, step: PlannedStep, given: StepAnswer, at: str) -> Evaluation:
    match given:
        case ReadingAnswer():
            return try_reading(plan, state, step, given, at)
        case InspectAnswer():
            return try_inspection(step, given, state.facts)
        case WorkAnswer():
            return try_work(step, given)
        case AskAnswer():
            typed = isinstance(step.model, AskStep) and step.model.value
            tried = try_value(plan, state, step, given, at) if typed else try_answer(step, given)
            return replace(tried, questions=(*tried.questions, *doubts_about(plan, tried.content.get("facts", {}))))
        case WaitAnswer():
            return try_wait(step, given)
        case PhotoAnswer():
            return try_photo(step, given)
        case ComputeAnswer():
            return try_computed(plan, state, step, at)


def answer_from(content: Mapping[str, Any]) -> StepAnswer:
    """The raw answer that an entry's content keeps: verifying a workbook judges it again."""
    note = str(content.get("note", ""))
    match content.get("step"):
        case "inspect":
            return InspectAnswer(marks=dict(content.get("marks", {})), note=note)
        case "work":
            return WorkAnswer(
                done=tuple(content.get("done", ())), parts=tuple(content.get("parts_used", ())), note=note
            )
        case "ask":
            return AskAnswer(answer=str(content.get("typed") or content.get("answer", "")), note=note)
        case "wait":
            return WaitAnswer(seconds=float(content.get("seconds", 0.0)), note=note)
        case "photo":
            return PhotoAnswer(photos=tuple(content.get("photos", ())), note=note)
        case "compute":
            return ComputeAnswer()
    return ReadingAnswer(
        typed=str(content.get("typed", "")),
        meter=str(content.get("meter", "")),
        range=str(content.get("range", "")),
        repeats=tuple(content.get("repeats", ())),
        flickers=bool(content.get("flickers", False)),
        note=note,
    )
