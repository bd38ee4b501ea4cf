"""The evaluation of each step at one time: its status, and whether what it showed still holds.

An answer holds while it is the last at its step, is not withdrawn, passed, and nothing since has made it stale. Three
things beyond that, whatever a file says: "OL" counts only between two good checks of the leads with the same meter; an
insulation reading counts only after the primary was shown; a mains reading serves the outputs for some minutes.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from benchapp.judgement.meters.functions import OL_NEEDS_LEADS
from benchapp.sequences.history.lead_proofs import leads_steps, proofs, proved_before
from benchapp.sequences.history.retest import SAFETY
from benchapp.sequences.history.step_states import OF_THE_SITE
from benchapp.sequences.history.step_view import Asked, StepView, doubted, without_good
from benchapp.sequences.language.vocabulary import FactValue, Role, Supply
from benchapp.sequences.planning.answer_content import meter_of
from benchapp.sequences.planning.entries import Disposition, Entry, person
from benchapp.sequences.planning.entry_times import DAY, seconds_between
from benchapp.sequences.planning.planned import PlannedStep, Stage
from benchapp.sequences.planning.state import StepState, StepStatus
from benchapp.words import say

WANTED = frozenset({StepStatus.open, StepStatus.stale, StepStatus.failed})
WORK = "work"
"""the kind of step by which it is plugged in, turned up and switched off"""
RESTED_ON = SAFETY | {Role.limited_power}
"""Roles whose answers grow old."""


@dataclass(slots=True, kw_only=True)
class StepEvaluation(StepView):
    """The steps of one unit at one time."""

    at: str
    facts: Mapping[str, FactValue]
    by: str = ""
    """whose hands are meant, as `person` has them; empty: anybody's"""

    def with_steps(self, steps: Mapping[str, StepState]) -> "StepEvaluation":
        """The same unit at the same time, its steps in these states."""
        return replace(self, steps=steps)

    def in_hands_of(self, by: str) -> "StepEvaluation":
        """The same unit at the same time, asked for the person with those initials."""
        return replace(self, by=person(by))

    def aged(self, step: PlannedStep) -> bool:
        """Whether a dead test was taken too long ago for a live step to rest on it."""
        latest = self.ledger.latest(step.address)
        return latest is not None and not self.days_since(latest) <= self.plan.workshop.dead_tests_last_days

    def days_since(self, entry: Entry) -> float:
        """Days from the entry to now; a clock set back gives more than any limit."""
        seconds = seconds_between(entry.at, self.at)
        return seconds / DAY if seconds >= 0 else float("inf")


def waits_for_mains(evaluation: StepEvaluation, step: PlannedStep) -> str:
    """Why the mains that was read at this step does not do; empty where it does, and where none was read."""
    state = evaluation.steps[step.address] if Role.mains in step.shows else None
    return state.why if state is not None and state.why.endswith(OF_THE_SITE) else ""


def evaluate_steps(view: StepView, at: str) -> StepEvaluation:
    """Work out how every step stands at that time, from how it stands at any time; each when it is looked at."""
    facts = view.ledger.facts(view.plan)
    evaluation = StepEvaluation(plan=view.plan, ledger=view.ledger, steps=view.steps, at=at, facts=facts)
    asked: Asked[StepEvaluation] = ()
    for doubt in (_doubt_unplugged, _doubt_old_mains, _doubt_age, _ask_for_leads):
        asked = (*asked, (doubt, evaluation))
        evaluation = evaluation.with_steps(doubted(asked))
    return evaluation


def _doubt_unplugged(evaluation: StepEvaluation, step: PlannedStep, state: StepState) -> StepState:
    """What was plugged in or turned up for readings that are left is done again once the plug came out."""
    if step.kind != WORK or step.supply is Supply.none:
        return state
    out = (evaluation.ledger.latest(one.address) for one in evaluation.plan.way_back if Role.plug_out in one.shows)
    done = evaluation.ledger.answers[step.address][-1].number
    if not any(entry is not None and entry.number > done for entry in out):
        return state
    later = (s for s in evaluation.plan.stage(step.stage).steps if s.position > step.position and s.kind != WORK)
    left = {evaluation.status(one) for one in later}
    if StepStatus.failed in left or not left & WANTED:
        return state
    return without_good(state, "its plug came out since")


def _doubt_old_mains(evaluation: StepEvaluation, step: PlannedStep, state: StepState) -> StepState:
    """A mains reading serves the output readings of its stage for some minutes; after that it is taken again."""
    if Role.mains not in step.shows:
        return state
    latest = evaluation.ledger.answers[step.address][-1]
    later = (s for s in evaluation.plan.stage(step.stage).steps if s.position > step.position)
    left = any(s.function and evaluation.status(s) in WANTED for s in later)
    age = seconds_between(latest.at, evaluation.at)
    if left and not 0 <= age <= step.fresh_for:
        return without_good(state, "the mains was read too long ago for the outputs that follow")
    return state


def _doubt_age(evaluation: StepEvaluation, step: PlannedStep, state: StepState) -> StepState:
    if not step.shows & RESTED_ON or not evaluation.aged(step):
        return state
    live_left = any(evaluation.status(one) in WANTED for one in evaluation.plan.steps if one.supply is not Supply.none)
    days = evaluation.plan.workshop.dead_tests_last_days
    shown = live_left or (step.supply is Supply.none and _may_be_sold(evaluation))
    return without_good(state, say("taken more than {count} day(s) ago", count=days), show=shown)


def _may_be_sold(evaluation: StepEvaluation) -> bool:
    """Whether the unit is, or may yet be, offered for sale: that rests on dead tests which are not old."""
    settled = evaluation.ledger.disposition
    gone = (Disposition.spares, Disposition.scrap, Disposition.keep)
    return settled is None or settled.content.disposition not in gone


def _ask_for_leads(evaluation: StepEvaluation, step: PlannedStep, state: StepState) -> StepState:
    """Before more is measured, the leads must be proved today; a check from another day, or a failed one, is old."""
    if Role.leads not in step.shows:
        return state
    latest = evaluation.ledger.answers[step.address][-1]
    stage = evaluation.plan.stage(step.stage)
    proving = leads_steps(stage)
    if len(proving) > 1 and step is proving[-1]:
        return state
    proved = proofs(evaluation.ledger, stage, meter_of(latest.content))
    good = proved_before(evaluation.ledger, proved, (evaluation.ledger.last or latest).number + 1, evaluation.at)
    if not good and _measures_left(evaluation, stage):
        return without_good(state, "the leads are to be proved before measuring on")
    return state


def _measures_left(evaluation: StepEvaluation, stage: Stage) -> bool:
    return any(
        evaluation.status(step) in WANTED and step.function in OL_NEEDS_LEADS and Role.leads not in step.shows
        for step in stage.steps
    )
