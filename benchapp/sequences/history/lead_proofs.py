"""Leads that were proved: "OL" counts only between two good checks of the leads with the same meter."""

from collections.abc import Iterable

from benchapp.judgement.statements.statements import completes_step
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.step_view import StepView, without_good
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.answer_content import AnswerContent, meter_of
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.entry_times import is_todays
from benchapp.sequences.planning.planned import PlannedStep, Stage
from benchapp.sequences.planning.said import said_meter
from benchapp.sequences.planning.state import StepState, StepStatus


def leads_steps(stage: Stage) -> tuple[PlannedStep, ...]:
    """The steps of the stage that prove the leads."""
    return tuple(step for step in stage.steps if Role.leads in step.shows)


def proofs(ledger: Ledger, stage: Stage, meter: str) -> list[Entry[AnswerContent]]:
    """Every check of this meter's leads in the stage, in order; a good one that was withdrawn is left out."""
    given = (entry for step in leads_steps(stage) for entry in ledger.answers.get(step.address, ()))
    mine = [e for e in given if meter_of(e.content) == meter and _counts_as_proof(ledger, e)]
    return sorted(mine, key=lambda entry: entry.number)


def _counts_as_proof(ledger: Ledger, entry: Entry[AnswerContent]) -> bool:
    gone = entry.number in ledger.withdrawn or entry.number in ledger.outdated
    return not gone or not completes_step(entry.content.judgement)


def proved_before(ledger: Ledger, proved: Iterable[Entry[AnswerContent]], number: int, at: str) -> bool:
    """Whether the last check before that entry was good and of the same day."""
    before = [entry for entry in proved if entry.number < number]
    return bool(before) and ledger.good(before[-1]) and is_todays(before[-1].at, at)


def meters_proved(ledger: Ledger, stage: Stage, number: int, at: str) -> tuple[str, ...]:
    """The meters whose leads were proved in the stage before that entry, on the same day, the last first."""
    given = [entry for step in leads_steps(stage) for entry in ledger.answers.get(step.address, ())]
    latest_first = sorted((e for e in given if e.number < number), key=lambda entry: -entry.number)
    meters = dict.fromkeys(meter_of(entry.content) for entry in latest_first)
    return tuple(one for one in meters if one and proved_before(ledger, proofs(ledger, stage, one), number, at))


def _proved_after(ledger: Ledger, proved: Iterable[Entry[AnswerContent]], entry: Entry) -> bool | None:
    after = [one for one in proved if one.number > entry.number]
    if not after:
        return None
    return ledger.good(after[0]) and is_todays(entry.at, after[0].at)


def doubt_open_leads(view: StepView, step: PlannedStep, state: StepState) -> StepState:
    """What becomes of an "OL", and of the last check of the leads after it; everything else stays as it stands."""
    if Role.leads in step.shows:
        stage = view.plan.stage(step.stage)
        waiting = [one for one in stage.steps if _waits_for_leads(view, one)] if step is leads_steps(stage)[-1] else []
        if not waiting:
            return state
        meters = dict.fromkeys(_meter_of_last(view, one) for one in waiting)
        return without_good(state, f"“OL” was read since: prove the leads of {' and of '.join(meters)} again")
    said = _before_and_after(view, step)
    if said is None:
        return state
    (before, after), meter = said, _meter_of_last(view, step)
    if not before:
        return without_good(state, f"the leads of {meter} were not proved before this “OL”")
    if after is False:
        return without_good(state, f"the leads of {meter} failed their check after this “OL”")
    return state if after else without_good(state, f"counts once the leads of {meter} are proved again", show=False)


def _meter_of_last(view: StepView, step: PlannedStep) -> str:
    meter = meter_of(view.ledger.answers[step.address][-1].content)
    return said_meter(view.plan, meter) if meter else "the meter"


def _waits_for_leads(view: StepView, step: PlannedStep) -> bool:
    """Whether an "OL" there counts once the leads are proved again."""
    if Role.leads in step.shows or view.status(step) is not StepStatus.done:
        return False
    return _before_and_after(view, step) == (True, None)


def _before_and_after(view: StepView, step: PlannedStep) -> tuple[bool, bool | None] | None:
    """Whether the leads were proved before and after the step's "OL" (None: not looked at since); None for no "OL"."""
    ledger = view.ledger
    if step.address not in ledger.open_readings:
        return None
    latest = ledger.answers[step.address][-1]
    proved = proofs(ledger, view.plan.stage(step.stage), meter_of(latest.content))
    before = proved_before(ledger, proved, latest.number, latest.at)
    return before, _proved_after(ledger, proved, latest)
