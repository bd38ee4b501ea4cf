"""What judging an answer asks of every kind of step."""

from abc import abstractmethod
from collections.abc import Mapping
from typing import Any, ClassVar, TypeAlias

from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import PlannedKind
from benchapp.sequences.planning.state import Evaluation

Given: TypeAlias = Any
"""An answer; to a kind, always of its own class."""


class JudgedKind(PlannedKind, asks=True):
    """A kind as whoever judges its answers knows it."""

    answer: ClassVar[type[StepAnswer]]
    """what a person gives"""

    @abstractmethod
    def evaluate(self, plan: Plan, state: UnitState, step: PlannedStep, given: Given, at: str) -> Evaluation:
        """What the kind's own answer is worth at that time."""

    @abstractmethod
    def answer_from(self, content: Mapping[str, Any], note: str) -> StepAnswer:
        """The answer as it was given, from what an entry keeps of it."""
