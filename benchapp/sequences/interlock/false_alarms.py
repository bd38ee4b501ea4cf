"""When smoke, smell, hum or heat may be called a false alarm: with a reason, once everything was looked at.

Whoever struck the key by mistake says so; a real one is never talked away. So the way back comes first, then the look,
on the same day, and nothing else of the unit may say that something was wrong under power.
"""

from benchapp.sequences.history.faults import open_faults
from benchapp.sequences.history.ledger import Fault
from benchapp.sequences.interlock.due import EngineState
from benchapp.sequences.interlock.people_gate import refuse_right
from benchapp.sequences.interlock.step_gate import go_back
from benchapp.sequences.interlock.way_back import is_energised
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import Entry, EntryKind, Hazard
from benchapp.sequences.planning.entry_contents import FalseAlarmContent
from benchapp.sequences.planning.entry_times import is_todays
from benchapp.sequences.planning.false_alarms import LOOKS
from benchapp.sequences.planning.people import Right
from benchapp.sequences.planning.said import said_step
from benchapp.words import say


def refuse_false_alarm(engine: EngineState, entry: Entry[FalseAlarmContent]) -> str | None:
    """The sentence with which it is refused; None where it may be recorded."""
    evaluation, said = engine.evaluation, entry.content
    hazard = next(
        (one for one in evaluation.ledger.faults if one.entry == said.hazard and _was_noticed(engine, one)), None
    )
    if hazard is None or hazard.false_alarm is not None:
        return say("This is no smoke, smell, hum or heat that stands against the unit.")
    if hazard.repair is not None:
        return say("A repair mended what was noticed: it was no false alarm. Take the dead tests again.")
    if is_energised(evaluation):
        return go_back(evaluation)
    return (
        _refuse_late(engine, hazard, entry)
        or _refuse_untold(said)
        or refuse_right(evaluation, entry.by, Right.live_work)
    )


def _refuse_late(engine: EngineState, hazard: Fault, entry: Entry) -> str | None:
    if hazard.mode == Hazard.tripped:
        return say("A switch that tripped is no slip of the key: its cause is found first, plug out.")
    noticed = engine.evaluation.ledger.by_number[hazard.entry]
    mend = say("Find what is wrong and mend it, or settle what becomes of the unit.")
    if not is_todays(noticed.at, entry.at):
        return say(
            "It was noticed on another day, and nobody can look any more at how the unit was then. {mend}", mend=mend
        )
    if other := _also_says_so(engine):
        return say("{other}: that was no false alarm. {mend}", other=other, mend=mend)
    return None


def _was_noticed(engine: EngineState, fault: Fault) -> bool:
    """Whether it is what somebody struck the key for."""
    return engine.evaluation.ledger.by_number[fault.entry].kind is EntryKind.hazard


def _also_says_so(engine: EngineState) -> str:
    """What else of this unit says that something was wrong under power; empty where nothing does."""
    evaluation = engine.evaluation
    for fault in open_faults(evaluation):
        if not _was_noticed(engine, fault) and (fault.lasting or fault.severity == "do not use"):
            return say("The record says it too ({words})", words=(fault.words or fault.part).rstrip("."))
    for step in evaluation.plan.steps:
        given = evaluation.ledger.latest(step.address) if step.supply is not Supply.none else None
        if given is not None and given.content.judgement.value.endswith("fail"):
            return say("{step} failed as well", step=said_step(evaluation.plan, step.address))
    return ""


def _refuse_untold(said: FalseAlarmContent) -> str | None:
    if not said.reason.strip():
        return say("Say how the key came to be struck: a false alarm needs its reason in words.")
    left = [look for look in LOOKS if look not in said.looked]
    return say("Look at this too, and say that it is so: {left}", left=left[0]) if left else None
