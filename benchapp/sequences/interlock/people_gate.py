"""What only some people may record of a unit: live work, what asks for a supervisor, "for sale", lifting a hold."""

from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.interlock.due import EngineState
from benchapp.sequences.interlock.live_conditions import tested_by_a_stranger, testers
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import Accepted, Disposition, Entry, person
from benchapp.sequences.planning.entry_contents import AcceptanceContent, DispositionContent, SupervisorOpeningContent
from benchapp.sequences.planning.people import Right, may, refuse_person
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.words import say


def refuse_live_hands(engine: EngineState, by: str, step: PlannedStep) -> str | None:
    """Why these hands do not take the unit to mains; None for a step without it, and for the way back."""
    if step.way_back or step.supply is Supply.none:
        return None
    return refuse_right(engine.evaluation, by, Right.live_work)


def refuse_right(evaluation: StepEvaluation, by: str, right: Right) -> str | None:
    """Why somebody has not that right now, by the workshop's list of people; None where they have."""
    return refuse_person(evaluation.plan.workshop.people, by, right, evaluation.at)


def refuse_supervised(engine: EngineState, entry: Entry[SupervisorOpeningContent]) -> str | None:
    """Why limited supply is not opened by this supervisor; None where it is."""
    if engine.evaluation.plan.workshop.insulation_tester:
        return say("This workshop has an insulation tester: test the insulation instead.")
    if not entry.by.strip() or not entry.content.reason.strip():
        return say("A supervisor opens it by name and with a reason.")
    if person(entry.by) in testers(engine.evaluation):
        return say("{by} tested this unit: another person looks at it and opens it.", by=entry.by)
    if stranger := tested_by_a_stranger(engine.evaluation):
        return f"{stranger}."
    return refuse_right(engine.evaluation, entry.by, Right.supervisor)


def refuse_acceptance(engine: EngineState, entry: Entry[AcceptanceContent]) -> str | None:
    """Why this is not accepted of the unit; None where it is."""
    what = entry.content.what
    if what not in {one.value for one in Accepted}:
        return say("“{what}” is none of {listed}.", what=what, listed=", ".join(Accepted))
    if not entry.content.reason.strip():
        return say("Say why {what} is accepted of this unit: the reason stands on its record.", what=what)
    return refuse_right(engine.evaluation, entry.by, Right.supervisor)


def is_accepted(evaluation: StepEvaluation, what: Accepted) -> bool:
    """Whether a supervisor has accepted it of this unit."""
    return what.value in evaluation.ledger.acceptances


def refuse_unheld(engine: EngineState, entry: Entry[DispositionContent]) -> str | None:
    """Why a disposition is not this person's to give: a sale asks for the sign-off, the end of a supervisor's hold for
    a supervisor and a reason."""
    evaluation, word = engine.evaluation, entry.content.disposition
    hold = supervisors_hold(evaluation)
    if hold is not None and word != Disposition.hold:
        refused = refuse_right(evaluation, entry.by, Right.supervisor)
        if refused:
            return say("{by} holds this unit as its supervisor. {refused}", by=hold.by, refused=refused)
        if not entry.content.note.strip():
            return say("{by} holds this unit: say why the hold is lifted.", by=hold.by)
    return refuse_right(evaluation, entry.by, Right.sign_off) if word == Disposition.for_sale else None


def supervisors_hold(evaluation: StepEvaluation) -> Entry[DispositionContent] | None:
    """The hold that a supervisor put on the unit and none has lifted since; None where there is none."""
    hold, people = None, evaluation.plan.workshop.people
    for entry in evaluation.ledger.dispositions:
        if may(people, entry.by, Right.supervisor, entry.at):
            hold = entry if entry.content.disposition == Disposition.hold else None
    return hold
