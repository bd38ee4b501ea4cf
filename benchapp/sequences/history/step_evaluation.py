"""The evaluation of each step: its status, and whether what it showed still holds.

An answer holds while it is the last at its step, is not withdrawn, passed, and nothing since has made it stale. Three
things beyond that, whatever a file says: "OL" counts only between two good checks of the leads with the same meter; an
insulation reading counts only after the primary was shown; a mains reading serves the outputs for some minutes.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from benchapp.judgement.meters.functions import OL_NEEDS_LEADS, Function
from benchapp.judgement.statements.statements import completes_step, opens_live_step
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.retest import SAFETY
from benchapp.sequences.language.step_kind import known_kinds
from benchapp.sequences.language.vocabulary import FactValue, Role, Supply
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.entry_times import DAY, is_todays, seconds_between
from benchapp.sequences.planning.planned import Plan, PlannedStep, Stage
from benchapp.sequences.planning.state import StepState, StepStatus

CHANGED = "this step has changed since"
"""Said of an answer that another revision of the sequence asked for."""
WANTED = frozenset({StepStatus.open, StepStatus.stale, StepStatus.failed})


@dataclass(slots=True, kw_only=True)
class StepEvaluation:
    """The steps of one unit at one time."""

    plan: Plan
    ledger: Ledger
    at: str
    facts: Mapping[str, FactValue]
    steps: dict[str, StepState]

    def status(self, step: PlannedStep) -> StepStatus:
        """How the step stands."""
        return self.steps[step.address].status

    def holding(self, step: PlannedStep) -> bool:
        """Whether a live step may rest on it: it holds, with a plain pass."""
        state = self.steps[step.address]
        return state.holds and opens_live_step(state.judgement)

    def showing(self, role: Role) -> tuple[PlannedStep, ...]:
        """The steps of this plan that show the role on this unit."""
        steps = (*self.plan.steps, *self.plan.way_back)
        return tuple(s for s in steps if role in s.shows and self.status(s) is not StepStatus.skipped)

    def aged(self, step: PlannedStep) -> bool:
        """Whether a dead test was taken too long ago for a live step to rest on it."""
        latest = self.ledger.latest(step.address)
        return latest is not None and not self.days_since(latest) <= self.plan.workshop.dead_tests_last_days

    def days_since(self, entry: Entry) -> float:
        """Days from the entry to now; a clock set back gives more than any limit."""
        seconds = seconds_between(entry.at, self.at)
        return seconds / DAY if seconds >= 0 else float("inf")


def evaluate_steps(plan: Plan, ledger: Ledger, at: str) -> StepEvaluation:
    """Work out how every step stands."""
    facts = ledger.facts(plan)
    evaluation = StepEvaluation(plan=plan, ledger=ledger, at=at, facts=facts, steps={})
    for stage in plan.stages:
        known = dict(facts)
        for step in stage.steps:
            _note_answer(known, facts, step, ledger)
        for step in stage.steps:
            evaluation.steps[step.address] = _step_state(evaluation, step, known)
    for step in plan.way_back:
        evaluation.steps[step.address] = _step_state(evaluation, step, facts)
    _doubt_insulation(evaluation)
    for stage in plan.stages:
        _doubt_open_leads(evaluation, stage)
        _doubt_old_mains(evaluation, stage)
    _doubt_age(evaluation)
    for stage in plan.stages:
        _ask_for_leads(evaluation, stage)
    return evaluation


def _note_answer(
    known: dict[str, FactValue], facts: Mapping[str, FactValue], step: PlannedStep, ledger: Ledger
) -> None:
    """Let later steps of the sequence ask for this one's answer by its id; a fact of the same name is the fact's."""
    latest, name = ledger.latest(step.address), step.address.partition(".")[2]
    if latest is None or latest.number in ledger.withdrawn or "answer" not in latest.content or name in facts:
        return
    known[name] = latest.content["answer"]


def _step_state(evaluation: StepEvaluation, step: PlannedStep, known: Mapping[str, FactValue]) -> StepState:
    does, why = applies(step.when, known)
    if does is False:
        return StepState(address=step.address, status=StepStatus.skipped, why=why)
    if step.function is Function.insulation and not evaluation.plan.workshop.insulation_tester:
        return StepState(address=step.address, status=StepStatus.skipped, why="this workshop has no insulation tester")
    if step.kind not in known_kinds():
        why = f"this program knows no kind of step “{step.kind}”"
    if does is None or step.kind not in known_kinds():
        return StepState(address=step.address, status=StepStatus.shut, why=why)
    return _answered(evaluation.ledger, step)


def _answered(ledger: Ledger, step: PlannedStep) -> StepState:
    latest = ledger.latest(step.address)
    if latest is None or latest.number in ledger.withdrawn:
        why = "" if latest is None else "the answer was withdrawn"
        return StepState(address=step.address, status=StepStatus.open, why=why)
    judgement = str(latest.content.get("judgement", ""))
    said = StepState(address=step.address, status=StepStatus.done, judgement=judgement, entry=latest.number, holds=True)
    if latest.number in ledger.outdated:
        return replace(said, status=StepStatus.stale, why=CHANGED, holds=False)
    if ledger.is_stale(step.address, latest.number):
        return replace(said, status=StepStatus.stale, why=ledger.stale[step.address].why, holds=False)
    if ledger.good(latest) or (judgement == "not judged" and not latest.content.get("to_judge", True)):
        return said
    sentence = str(latest.content.get("sentence", ""))
    status = StepStatus.open if judgement == "not judged" else StepStatus.failed
    return replace(said, status=status, why=sentence, holds=False)


def _doubt(evaluation: StepEvaluation, step: PlannedStep, why: str, *, show: bool = True) -> None:
    """Take the good from an answer; `show` also asks for it again."""
    state = evaluation.steps[step.address]
    if state.status is StepStatus.done:
        status = StepStatus.stale if show else StepStatus.done
        evaluation.steps[step.address] = replace(state, status=status, holds=False, why=why)


def _doubt_insulation(evaluation: StepEvaluation) -> None:
    primary = [s for s in evaluation.showing(Role.primary) if evaluation.holding(s)]
    shown_at = min((evaluation.steps[s.address].entry or 0 for s in primary), default=0)
    for step in evaluation.plan.steps:
        if step.function is not Function.insulation or Role.insulation not in step.shows:
            continue
        taken_at = evaluation.steps[step.address].entry or 0
        if not shown_at or taken_at < shown_at:
            _doubt(evaluation, step, "the primary was not shown to be whole before it", show=bool(shown_at))


# Leads ----------------------------------------------------------------------------------------------------------------


def is_open_reading(entry: Entry) -> bool:
    """Whether the answer says "over the range" where a broken lead would say the same."""
    return entry.content.get("bound") == "above" and entry.content.get("function") in OL_NEEDS_LEADS


def leads_steps(stage: Stage) -> tuple[PlannedStep, ...]:
    """The steps of the stage that prove the leads."""
    return tuple(step for step in stage.steps if Role.leads in step.shows)


def proofs(ledger: Ledger, stage: Stage, meter: str) -> list[Entry]:
    """Every check of this meter's leads in the stage, in order; a good one that was withdrawn is left out."""
    given = (entry for step in leads_steps(stage) for entry in ledger.answers.get(step.address, ()))
    mine = [e for e in given if e.content.get("meter") == meter and _counts_as_proof(ledger, e)]
    return sorted(mine, key=lambda entry: entry.number)


def _counts_as_proof(ledger: Ledger, entry: Entry) -> bool:
    gone = entry.number in ledger.withdrawn or entry.number in ledger.outdated
    return not gone or not completes_step(entry.content.get("judgement"))


def proved_before(ledger: Ledger, proved: Iterable[Entry], number: int, at: str) -> bool:
    """Whether the last check before that entry was good and of the same day."""
    before = [entry for entry in proved if entry.number < number]
    return bool(before) and ledger.good(before[-1]) and is_todays(before[-1].at, at)


def _proved_after(ledger: Ledger, proved: Iterable[Entry], entry: Entry) -> bool | None:
    after = [one for one in proved if one.number > entry.number]
    if not after:
        return None
    return ledger.good(after[0]) and is_todays(entry.at, after[0].at)


def _doubt_open_leads(evaluation: StepEvaluation, stage: Stage) -> None:
    ledger = evaluation.ledger
    waiting = False
    for step in stage.steps:
        latest = ledger.latest(step.address)
        if latest is None or Role.leads in step.shows or not is_open_reading(latest):
            continue
        proved = proofs(ledger, stage, str(latest.content.get("meter", "")))
        if not proved_before(ledger, proved, latest.number, latest.at):
            _doubt(evaluation, step, "the leads were not proved before this “OL”")
            continue
        after = _proved_after(ledger, proved, latest)
        if after is False:
            _doubt(evaluation, step, "the leads failed their check after this “OL”")
        elif after is None and evaluation.status(step) is StepStatus.done:
            _doubt(evaluation, step, "counts once the leads are proved again", show=False)
            waiting = True
    if waiting and leads_steps(stage):
        _doubt(evaluation, leads_steps(stage)[-1], "“OL” was read since: prove the leads again")


def _ask_for_leads(evaluation: StepEvaluation, stage: Stage) -> None:
    """Before more is measured, the leads must be proved today; a check from another day, or a failed one, is old."""
    proving = leads_steps(stage)
    for step in proving[:-1] if len(proving) > 1 else proving:
        state, latest = evaluation.steps[step.address], evaluation.ledger.latest(step.address)
        if state.status is not StepStatus.done or latest is None:
            continue
        proved = proofs(evaluation.ledger, stage, str(latest.content.get("meter", "")))
        good = proved_before(evaluation.ledger, proved, (evaluation.ledger.last or latest).number + 1, evaluation.at)
        if not good and _measures_left(evaluation, stage):
            _doubt(evaluation, step, "the leads are to be proved before measuring on")


def _measures_left(evaluation: StepEvaluation, stage: Stage) -> bool:
    return any(
        evaluation.status(step) in WANTED and step.function in OL_NEEDS_LEADS and Role.leads not in step.shows
        for step in stage.steps
    )


# Time -----------------------------------------------------------------------------------------------------------------


def _doubt_old_mains(evaluation: StepEvaluation, stage: Stage) -> None:
    """A mains reading serves the output readings of its stage for some minutes; after that it is taken again."""
    for position, step in enumerate(stage.steps):
        latest = evaluation.ledger.latest(step.address)
        if Role.mains not in step.shows or latest is None:
            continue
        later = stage.steps[position + 1 :]
        left = any(s.function and evaluation.status(s) in WANTED for s in later)
        age = seconds_between(latest.at, evaluation.at)
        if left and not 0 <= age <= step.fresh_for:
            _doubt(evaluation, step, "the mains was read too long ago for the outputs that follow")


def _doubt_age(evaluation: StepEvaluation) -> None:
    live_left = any(
        evaluation.status(step) in WANTED for step in evaluation.plan.steps if step.supply is not Supply.none
    )
    for step in evaluation.plan.steps:
        if not step.shows & (SAFETY | {Role.limited_power}) or not evaluation.aged(step):
            continue
        days = evaluation.plan.workshop.dead_tests_last_days
        _doubt(evaluation, step, f"taken more than {days} days ago", show=live_left)
