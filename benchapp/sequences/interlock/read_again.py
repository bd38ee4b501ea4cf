"""Nothing is read or taken away in silence: a failed reading of safety, and another person's answer, ask why."""

from benchapp.judgement.statements.statements import opens_fault_search
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent, is_answer
from benchapp.sequences.planning.entries import Entry, person
from benchapp.sequences.planning.entry_contents import WithdrawalContent
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.words import say

ASKS_WHY = frozenset({Role.earth, Role.insulation, Role.polarity})
"""roles of which a failed reading is a finding, not a slip, until somebody says why it was one"""


def failed_before(evaluation: StepEvaluation, step: PlannedStep) -> Entry[AnswerContent] | None:
    """The failed reading of safety at that step that nothing was done about since; None where there is none.

    One that was taken back was so with a reason, and is none.
    """
    ledger = evaluation.ledger
    latest = ledger.latest(step.address) if step.shows & ASKS_WHY else None
    if latest is None or not opens_fault_search(latest.content.judgement):
        return None
    return None if latest.number in ledger.withdrawn or ledger.disturbed > latest.number else latest


def refuse_read_away(evaluation: StepEvaluation, step: PlannedStep, content: AnswerContent) -> str | None:
    """Why another reading there is refused; None where it may be recorded."""
    failed = failed_before(evaluation, step)
    if failed is None or (isinstance(content, ReadingContent) and content.why.strip()):
        return None
    return say("{what} failed here. {SAY_WHY}", what=_what(failed), SAY_WHY=SAY_WHY)


def _what(entry: Entry[AnswerContent]) -> str:
    """What failed, as it was typed and by whom."""
    typed = entry.content.typed if isinstance(entry.content, ReadingContent) else "This"
    return say("{typed} ({by})", typed=typed, by=entry.by)


SAY_WHY = "Say why it is read again, what was wrong with that reading; or record the repair first."


def refuse_taken_back(evaluation: StepEvaluation, entry: Entry[WithdrawalContent]) -> str | None:
    """Why a failed reading of safety, or another person's answer, is not taken back without a reason; else None."""
    target = evaluation.ledger.by_number.get(entry.content.number)
    if target is None or entry.content.why.strip():
        return None
    if person(target.by) != person(entry.by):
        return say("{by} did this: say why it is taken back.", by=target.by)
    if not _is_finding(evaluation, target):
        return None
    return say("It is a failed reading of safety: say why it is taken back, or read it again and say why.")


def _is_finding(evaluation: StepEvaluation, entry: Entry) -> bool:
    """Whether it is a failed reading of safety."""
    step = evaluation.plan.by_address.get(entry.address)
    if step is None or not is_answer(entry) or not step.shows & ASKS_WHY:
        return False
    return opens_fault_search(entry.content.judgement)
