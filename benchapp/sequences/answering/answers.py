"""What is an answer worth that holds no reading: checkpoints marked, work done, a question answered, a wait, photos?"""

from collections.abc import Mapping
from math import inf
from typing import Any

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.quantities.entry import seconds_of
from benchapp.sequences.language.models import (
    AnswerOption,
    AskStep,
    Checkpoint,
    InspectStep,
    NamedFault,
    PhotoStep,
    WaitStep,
    WorkStep,
)
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.entries import AskAnswer, InspectAnswer, PhotoAnswer, WaitAnswer, WorkAnswer
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.sequences.planning.state import Evaluation

GOOD, BAD, OTHER = "good", "bad", "does not apply"


def complain(sentence: str) -> Evaluation:
    """An attempt that cannot be recorded, and why."""
    return Evaluation(complaint=sentence)


def settled(step: PlannedStep, judgement: str, sentence: str, more: Mapping[str, Any], note: str = "") -> Evaluation:
    """An attempt with its content; what every answer's entry carries is put here."""
    content = {
        "step": step.kind.value,
        "step_digest": step.digest,
        "supply": step.supply.value,
        "energises": step.energises,
        "judgement": judgement,
        "sentence": sentence,
        **more,
    }
    if note:
        content["note"] = note
    return Evaluation(judgement=judgement, sentence=sentence, content=content)


def fault_content(fault: NamedFault | None, grave: str, words: str, part: str = "") -> dict[str, str]:
    """A fault as an entry keeps it; one that the author did not name is called by the words of what was asked."""
    if fault is None:
        return {"part": part, "mode": "", "words": words, "grave": grave}
    return {"part": fault.part, "mode": fault.mode, "words": fault.words, "grave": grave}


def checkpoints_for(step: InspectStep, facts: Mapping[str, FactValue]) -> tuple[Checkpoint, ...]:
    """The checkpoints that this unit has."""
    return tuple(one for one in step.checkpoints if applies(one.when, facts)[0])


def try_inspection(step: PlannedStep, given: InspectAnswer, facts: Mapping[str, FactValue]) -> Evaluation:
    """Judge marked checkpoints; every one that applies must be marked."""
    model = step.model
    assert isinstance(model, InspectStep)
    points = {one.check: one for one in checkpoints_for(model, facts)}
    for name, mark in given.marks.items():
        if name not in points:
            return complain(f"This step has no checkpoint “{name}”; it has {', '.join(points)}.")
        if mark not in (GOOD, BAD, OTHER):
            return complain(f"“{mark}” is no mark; it is good, bad or does not apply.")
        if mark == OTHER and not points[name].may_not_apply:
            return complain(f"“{points[name].say}” applies to every unit: mark it good or bad.")
    left = [one.say for name, one in points.items() if name not in given.marks]
    if left:
        return complain(f"Still to look at: {left[0]}" + (f" and {len(left) - 1} more." if len(left) > 1 else ""))
    return _judge_marks(step, given, points)


def _judge_marks(step: PlannedStep, given: InspectAnswer, points: Mapping[str, Checkpoint]) -> Evaluation:
    bad = [points[name] for name, mark in given.marks.items() if mark == BAD]
    faults = [fault_content(one.fault, one.grave, one.say) for one in bad if one.grave != "note"]
    notes = [one.fault.words if one.fault else one.say for one in bad if one.grave == "note"]
    judgement = "fail" if faults else "pass"
    words = "; ".join(fault["words"] for fault in faults) or "; ".join(notes) or "All good."
    return settled(step, judgement, words, {"marks": dict(given.marks), "faults": faults, "notes": notes}, given.note)


def try_work(step: PlannedStep, given: WorkAnswer) -> Evaluation:
    """Every action must be confirmed."""
    model = step.model
    assert isinstance(model, WorkStep)
    left = [action for action in model.do if action not in given.done]
    if left:
        return complain(f"Still to do: {left[0]}" + (f" and {len(left) - 1} more." if len(left) > 1 else ""))
    more = {"done": list(given.done), "parts_used": [dict(part) for part in given.parts]}
    return settled(step, "pass", "Done.", more, given.note)


def try_answer(step: PlannedStep, given: AskAnswer) -> Evaluation:
    """One of the answers that the step offers."""
    model = step.model
    assert isinstance(model, AskStep)
    chosen = next((one for one in model.answers if one.answer.casefold() == given.answer.strip().casefold()), None)
    if chosen is None:
        known = ", ".join(one.answer for one in model.answers)
        return complain(f"“{given.answer}” is none of the answers: {known}.")
    more: dict[str, Any] = {"answer": chosen.answer, "faults": _answer_faults(model, chosen)}
    if model.fact:
        more["facts"] = {model.fact: chosen.answer if chosen.value is None else chosen.value}
    failed = chosen.judgement == "fail" and chosen.grave != "note"
    return settled(step, "fail" if failed else "pass", chosen.answer, more, given.note)


def _answer_faults(model: AskStep, chosen: AnswerOption) -> list[dict[str, str]]:
    if chosen.judgement == "pass" or chosen.grave == "note":
        return []
    return [fault_content(chosen.fault or model.fault, chosen.grave, f"{model.say} {chosen.answer}")]


def try_wait(step: PlannedStep, given: WaitAnswer) -> Evaluation:
    """The whole span must have passed."""
    model = step.model
    assert isinstance(model, WaitStep)
    needed = seconds_of(model.time)
    if not 0.0 <= given.seconds < inf:
        return complain(f"“{given.seconds:g} s” is no time that can have been waited.")
    if given.seconds < needed:
        left = show(needed - given.seconds, Kind.time)
        return complain("The wait was cut short: start it again." if given.stopped else f"{left} to go.")
    return settled(step, "pass", f"Waited {show(given.seconds, Kind.time)}.", {"seconds": given.seconds}, given.note)


def try_photo(step: PlannedStep, given: PhotoAnswer) -> Evaluation:
    """As many photos as the step asks for."""
    model = step.model
    assert isinstance(model, PhotoStep)
    if len(given.photos) < model.at_least:
        return complain(f"{model.at_least - len(given.photos)} more to take.")
    return settled(step, "pass", f"{len(given.photos)} photos.", {"photos": list(given.photos)}, given.note)
