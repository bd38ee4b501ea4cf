"""How the steps of one unit stand at some point of the evaluation, and how a doubt changes that."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeAlias, TypeVar

from benchapp.judgement.statements.statements import opens_live_step
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.on_demand import OnDemand
from benchapp.sequences.language.vocabulary import ReadingSource, Role
from benchapp.sequences.planning.answer_content import is_reading
from benchapp.sequences.planning.entries import Accepted
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import StepState, StepStatus


@dataclass(slots=True, kw_only=True)
class StepView:
    """The steps of one unit, and the ledger of what has happened to it."""

    plan: Plan
    ledger: Ledger
    steps: Mapping[str, StepState]

    def status(self, step: PlannedStep) -> StepStatus:
        """How the step stands."""
        return self.steps[step.address].status

    def holding(self, step: PlannedStep) -> bool:
        """Whether a live step may rest on it: it holds, with a plain pass, and not by a tester's memory alone."""
        state = self.steps[step.address]
        return state.holds and opens_live_step(state.judgement) and not self.is_transcribed(step)

    def is_transcribed(self, step: PlannedStep) -> bool:
        """Whether its last reading was kept in a tester, and no supervisor has accepted such readings since."""
        latest = self.ledger.latest(step.address)
        if latest is None or not is_reading(latest) or latest.content.source is not ReadingSource.transcribed:
            return False
        accepted = self.ledger.acceptances.get(Accepted.transcribed.value)
        return accepted is None or accepted.number < latest.number

    def showing(self, role: Role) -> tuple[PlannedStep, ...]:
        """The steps of this plan that show the role on this unit."""
        return tuple(s for s in self.plan.showing(role) if self.status(s) is not StepStatus.skipped)


View = TypeVar("View", bound=StepView)
Doubt: TypeAlias = Callable[[View, PlannedStep, StepState], StepState]
"""What becomes of a step that is done; the view holds the states of all steps as they were before the doubt."""


Asked: TypeAlias = tuple[tuple[Doubt[View], View], ...]
"""Doubts in their order, each with the steps as those before it have left them."""


def doubted(asked: Asked[View]) -> OnDemand[str, StepState]:
    """The states of the steps once these doubts were cast on each; the way back is beyond doubt."""
    return OnDemand(asked[0][1].plan.by_address, partial(_doubted, asked))


def _doubted(asked: Asked[View], address: str) -> StepState:
    first = asked[0][1]
    step, state = first.plan.by_address[address], first.steps[address]
    if step.way_back:
        return state
    for doubt, view in asked:
        if state.status is not StepStatus.done:
            return state
        state = doubt(view, step, state)
    return state


def without_good(state: StepState, why: str, *, show: bool = True) -> StepState:
    """The state with the good taken from its answer; `show` also asks for it again."""
    return replace(state, status=StepStatus.stale if show else StepStatus.done, holds=False, why=why)
