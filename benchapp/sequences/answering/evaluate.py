"""Judging an answer without recording it, and what that asks of every kind of step.

The live gauge and the recording both come here.
"""

from abc import abstractmethod
from typing import Any, ClassVar, TypeAlias

from benchapp.sequences.answering.answers import complain
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.planning.answer_content import AnswerContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import PlannedKind
from benchapp.sequences.planning.state import Evaluation
from benchapp.words import say

Given: TypeAlias = Any
"""An answer, or its content; to a kind, always of its own class."""


class JudgedKind(PlannedKind, asks=True):
    """A kind as whoever judges its answers knows it."""

    answer: ClassVar[type[StepAnswer]]
    """what a person gives"""

    @abstractmethod
    def evaluate(self, plan: Plan, state: AnsweringState, step: PlannedStep, given: Given, at: str) -> Evaluation:
        """What the kind's own answer is worth at that time."""

    @abstractmethod
    def answer_from(self, content: Given) -> StepAnswer:
        """The answer as it was given, from what an entry keeps of it."""


def evaluate(plan: Plan, state: AnsweringState, address: str, given: StepAnswer, *, at: str) -> Evaluation:
    """Judge an answer; `content` of the result is what an entry of it would carry.

    Raises KindProblem where the step is of a kind that nobody knows.
    """
    step = plan.by_address.get(address)
    if step is None:
        return complain(say("This run has no step “{address}”.", address=address))
    kind = JudgedKind.named(step.kind)
    if not isinstance(given, kind.answer):
        return complain(say("{address} is a step to {kind}: that is no answer to it.", address=address, kind=step.kind))
    return kind.evaluate(plan, state, step, given, at)


def answer_from(content: AnswerContent) -> StepAnswer:
    """The raw answer that an entry's content keeps, to be judged again; raises KindProblem for a kind unknown."""
    return JudgedKind.named(content.step).answer_from(content)
