"""The kind `inspect`: look at each checkpoint and mark it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from pydantic import Field, model_validator

from benchapp.files.forms import Id
from benchapp.files.locations import Complaint, Key, Mistake
from benchapp.files.models import FileModel, made_of
from benchapp.judgement.statements.statements import Judgement
from benchapp.sequences.answering.answers import asked_at, complain, fault_content, settled
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.checks.facts import check_wanted
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.checks.written_values import check_fault
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.field_types import Severity, When, Words
from benchapp.sequences.language.hazards import OldHazard
from benchapp.sequences.language.steps import NamedFault, StepBase
from benchapp.sequences.language.vocabulary import Facts, FactValue, Role
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import AnswerContent
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, one_step
from benchapp.sequences.planning.role_eligibility import BY_HAND
from benchapp.sequences.planning.state import Evaluation
from benchapp.words import say

GOOD, BAD, OTHER = "good", "bad", "does not apply"


class Checkpoint(FileModel):
    """One thing to look at; "bad" raises its fault, as grave as it says."""

    check: Id
    """the checkpoint's own id"""
    say: Words
    """what is so when it is good, in a sentence"""
    fault: NamedFault | None = None
    """what "bad" says is broken"""
    grave: Severity = "mend"
    """what "bad" asks for"""
    may_not_apply: bool = False
    """whether "does not apply" is an answer here"""
    when: When = Field(default_factory=dict)
    """facts of the unit for which it is looked at"""
    hazard: Id | None = None
    """the hazard of old equipment that "bad" finds: its file says what that shuts"""


class InspectStep(StepBase):
    """Look at each checkpoint and mark it."""

    inspect: Id
    """the step's own id"""
    checkpoints: tuple[Checkpoint, ...] = ()
    """what is looked at, in order"""
    old_hazards: bool = False
    """whether the hazards of old equipment that the design is asked about are looked for too, a checkpoint each"""

    @model_validator(mode="after")
    def _looks_at_something(self) -> "InspectStep":
        if not self.checkpoints and not self.old_hazards:
            raise Mistake("nothing is looked at", expected="checkpoints: a list, or old hazards: true")
        return self


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectAnswer(StepAnswer):
    """One mark per checkpoint: "good", "bad" or "does not apply"."""

    marks: Mapping[str, str]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectContent(AnswerContent):
    """One mark per checkpoint, and what was bad but asks for a note alone."""

    marks: Mapping[str, str]
    notes: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        bad = [name.replace("-", " ") for name, mark in self.marks.items() if mark == BAD]
        return f"bad: {', '.join(bad)}" if bad else "all good"

    @property
    def lines(self) -> int:
        return len(self.marks)


def checkpoints_for(step: InspectStep, facts: Mapping[str, FactValue]) -> tuple[Checkpoint, ...]:
    """The checkpoints that this unit has."""
    return tuple(one for one in step.checkpoints if applies(one.when, facts)[0])


def _checkpoint(hazard: OldHazard) -> Checkpoint:
    """What is looked at for a hazard of old equipment; finding it is never less than do not use."""
    fault = made_of(NamedFault, part=hazard.part, words=hazard.seen)
    name = hazard.hazard
    return made_of(Checkpoint, check=name, say=hazard.clear, fault=fault, grave="do not use", hazard=name)


def _looked_at(step: InspectStep) -> str:
    noted = any(one.grave == "note" for one in step.checkpoints)
    return "what is bad there is more than a note" if noted else _seen(step)


def _seen(step: InspectStep) -> str:
    """Something is looked at on every unit, and keeps mains away where it is bad."""
    if step.old_hazards:
        return ""  # each of them is grave; that something is looked at on every unit, the interlock asks
    firm = (one for one in step.checkpoints if one.grave != "note" and not one.may_not_apply and not one.when)
    return "" if next(firm, None) else "a checkpoint of it applies to every unit and is graver than a note"


class Inspect(CheckedKind):
    """Every checkpoint that applies is marked; what is bad raises its fault."""

    name = "inspect"
    place = 1
    model = InspectStep
    answer = InspectAnswer
    content = InspectContent
    by_hand = True
    on_tag = OnTag.test
    digest_keys = ("checkpoints",)
    shows = {Role.visual: _seen, **dict.fromkeys(BY_HAND, _looked_at)}
    plan = one_step

    def for_hazards(self, step: InspectStep, asked: tuple[OldHazard, ...]) -> InspectStep | None:
        known = {one.hazard for one in step.checkpoints}
        more = tuple(_checkpoint(one) for one in asked if one.hazard not in known) if step.old_hazards else ()
        if not step.checkpoints and not more:
            return None
        return step.model_copy(update={"checkpoints": (*step.checkpoints, *more)}) if more else step

    def waits_for(self, step: InspectStep) -> frozenset[str]:
        return frozenset(name for one in step.checkpoints for name in one.when)

    def evaluate(
        self, plan: Plan, state: AnsweringState, step: PlannedStep, given: InspectAnswer, at: str
    ) -> Evaluation:
        assert isinstance(step.model, InspectStep)
        points = {one.check: one for one in checkpoints_for(step.model, state.facts)}
        for name, mark in given.marks.items():
            if name not in points:
                return complain(
                    say("This step has no checkpoint “{name}”; it has {listed}.", name=name, listed=", ".join(points))
                )
            if mark not in (GOOD, BAD, OTHER):
                return complain(say("“{mark}” is no mark; it is good, bad or does not apply.", mark=mark))
            if mark == OTHER and not points[name].may_not_apply:
                return complain(say("“{say}” applies to every unit: mark it good or bad.", say=points[name].say))
        left = [one.say for name, one in points.items() if name not in given.marks]
        if left:
            return complain(f"Still to look at: {left[0]}" + (f" and {len(left) - 1} more." if len(left) > 1 else ""))
        return _judged(step, given, points)

    def answer_from(self, content: InspectContent) -> InspectAnswer:
        return InspectAnswer(marks=content.marks, note=content.note)

    def check(self, walk: Walk, key: Key, step: InspectStep) -> Iterator[Complaint]:
        seen: set[str] = set()
        for number, point in enumerate(step.checkpoints):
            here = (*key, "checkpoints", number)
            if point.check in seen:
                yield walk.complain(
                    (*here, "check"), f"there is a checkpoint “{point.check}” already", "an id of its own"
                )
            seen.add(point.check)
            yield from check_wanted(walk, (*here, "when"), point.when)
            yield from check_fault(walk, here, point.fault)

    def case_answer(self, step: InspectStep, line: CaseLine, facts: Facts) -> InspectAnswer:
        return InspectAnswer(marks={**{one.check: GOOD for one in checkpoints_for(step, facts)}, **line.marks})


def _judged(step: PlannedStep, given: InspectAnswer, points: Mapping[str, Checkpoint]) -> Evaluation:
    bad = [points[name] for name, mark in given.marks.items() if mark == BAD]
    faults = tuple(
        fault_content(one.fault, one.grave, one.say, old_hazard=one.hazard or "") for one in bad if one.grave != "note"
    )
    notes = tuple(one.fault.words if one.fault else one.say for one in bad if one.grave == "note")
    return settled(
        InspectContent(
            **asked_at(step),
            judgement=Judgement.failed if faults else Judgement.passed,
            sentence="; ".join(fault.words for fault in faults) or "; ".join(notes) or "All good.",
            marks=dict(given.marks),
            faults=faults,
            notes=notes,
            note=given.note,
        )
    )
