"""How much time lies between an entry and the one before it, at least: nobody looks and does things faster.

A held key, a stray scan or a slip of the finger is faster than that. The times of the entries prove it, so a workbook
that is verified is asked again. All figures are common practice, no source.
"""

from math import ceil

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import ReadingSource, Role, Supply
from benchapp.sequences.planning.answer_content import is_answer, is_reading
from benchapp.sequences.planning.entries import Entry, is_of
from benchapp.sequences.planning.entry_contents import CautionContent, FalseAlarmContent, NoteContent, SetUpContent
from benchapp.sequences.planning.entry_times import seconds_between
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.sequences.planning.said import said_step
from benchapp.words import say

LEAST_TIMES = {"line": 1.0, "caution": 3.0, "live": 2.0, "discharged": 30.0}
"""Seconds: for each line that is confirmed or marked, for a caution that is read, for anything recorded with mains on
(a cold lamp settles, a nose notices), and until stored charge is said to be gone."""
CLOCKS_AGREE = 0.1
"""seconds by which a page's clock and the entries' may differ: a page shows tenths"""


def refuse_hasty(evaluation: StepEvaluation, entry: Entry) -> str | None:
    """The sentence with which an entry is refused that comes too soon; None where it may be recorded."""
    wait = _wait_of(evaluation, entry)
    if wait is not None:
        return _refuse_wait(evaluation, wait, entry)
    left = seconds_left(evaluation, entry)
    if not left:
        return None
    step = evaluation.plan.by_address.get(entry.address)
    why = "Stored charge goes slowly" if step is not None and _lets_go(step) else "Take the time to look and do it"
    return say("{why}: this can be recorded in {ceil} s.", why=why, ceil=ceil(left))


def seconds_left(evaluation: StepEvaluation, entry: Entry) -> float:
    """Seconds that still have to pass before the entry may be recorded; 0 where it may be.

    A clock that was set back since the entry before proves nothing, and nobody can wait for it: then nothing is asked
    but of a wait.
    """
    ledger, wait = evaluation.ledger, _wait_of(evaluation, entry)
    if wait is not None:
        began = ledger.worked_before(wait.address)
        return 0.0 if began is None else _left(seconds_between(began.at, entry.at), _claimed(wait, entry))
    if ledger.last is None:
        return 0.0
    passed = seconds_between(ledger.last.at, entry.at)
    return _left(passed, least_seconds(evaluation, entry)) if passed >= 0 else 0.0


def least_seconds(evaluation: StepEvaluation, entry: Entry) -> float:
    """Seconds between the entry before and this one, at least; 0 where time is no matter."""
    step = evaluation.plan.by_address.get(entry.address)
    if is_reading(entry) and entry.content.source is ReadingSource.transcribed:
        return 0.0  # nobody does it now
    live = LEAST_TIMES["live"] if is_under_power(step, entry) else 0.0
    if is_of(entry, CautionContent):
        return LEAST_TIMES["caution"]
    if is_of(entry, FalseAlarmContent):
        return LEAST_TIMES["line"] * len(entry.content.looked)
    if is_of(entry, SetUpContent):
        return max(live, LEAST_TIMES["line"] * len(entry.content.items))
    if is_answer(entry):
        gone = LEAST_TIMES["discharged"] if step is not None and _lets_go(step) else 0.0
        return max(live, gone, LEAST_TIMES["line"] * entry.content.lines)
    return live


def _lets_go(step: PlannedStep) -> bool:
    return Role.discharged in step.shows


def is_under_power(step: PlannedStep | None, entry: Entry) -> bool:
    """Whether the entry says that mains is on the unit: a live answer or set-up, a live reading beside the route."""
    if is_of(entry, NoteContent):
        return entry.content.probed is not None and entry.content.probed.supply is not Supply.none
    return step is not None and step.supply is not Supply.none


def _wait_of(evaluation: StepEvaluation, entry: Entry) -> PlannedStep | None:
    """The step of an answer that says how long was waited."""
    step = evaluation.plan.by_address.get(entry.address) if is_answer(entry) else None
    return step if step is not None and step.lasts is not None else None


def _claimed(step: PlannedStep, entry: Entry) -> float:
    waited = entry.content.waited if is_answer(entry) else 0.0
    return max(step.lasts or 0.0, waited)


def _left(passed: float, needed: float) -> float:
    return needed - passed if passed + CLOCKS_AGREE < needed else 0.0


def _refuse_wait(evaluation: StepEvaluation, step: PlannedStep, entry: Entry) -> str | None:
    """A wait is over when the entries say so, whatever a clock on a page showed."""
    began = evaluation.ledger.worked_before(step.address)
    if began is None:
        return say("Nothing is on record from which this wait could run. Note that it begins, and wait from there.")
    passed, claimed = seconds_between(began.at, entry.at), _claimed(step, entry)
    if not _left(passed, claimed):
        return None
    return say(
        "{what} was {passed} ago: {claimed} cannot have been waited since. Wait on, then record it.",
        what=said_step(evaluation.plan, began.address) if began.address else "What was done before",
        passed=show(max(passed, 0.0), Kind.time),
        claimed=show(claimed, Kind.time),
    )
