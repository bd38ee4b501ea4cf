"""The one gate that every entry passes before it is recorded, whatever the files say.

What has happened is never refused: an event, a hazard, a fault, a remark. What would be done against the rules is, with
a sentence that says what to do instead.
"""

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any, TypeAlias

from benchapp.judgement.meters.corrections import refuse_leads
from benchapp.sequences.history.faults import fault_status
from benchapp.sequences.history.retest import may_reach_inside, opened_by
from benchapp.sequences.history.unit_history import UnitHistory
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.history.withdrawable import can_be_withdrawn
from benchapp.sequences.interlock.dispositions import why_not
from benchapp.sequences.interlock.due import EngineState
from benchapp.sequences.interlock.false_alarms import refuse_false_alarm
from benchapp.sequences.interlock.fold import engine_of, look
from benchapp.sequences.interlock.free_probes import (
    is_live,
    is_on_full_mains,
    live_step,
    refuse_long_search,
    refuse_probe,
)
from benchapp.sequences.interlock.least_times import refuse_hasty
from benchapp.sequences.interlock.live_conditions import cautions_of
from benchapp.sequences.interlock.old_hazards import refuse_clearing, refuse_finding, refuse_opening, refuse_work
from benchapp.sequences.interlock.people_gate import refuse_acceptance, refuse_right, refuse_supervised, refuse_unheld
from benchapp.sequences.interlock.put_right import refuse_destroyed, refuse_kept, refuse_unsaid
from benchapp.sequences.interlock.read_again import refuse_taken_back
from benchapp.sequences.interlock.step_gate import (
    before_hands,
    go_back,
    refuse_answer,
    refuse_early,
    refuse_set_up,
    refuse_shut,
    refuse_unprepared,
)
from benchapp.sequences.interlock.way_back import is_energised, is_for_hands, must_go_back_first, reservoir_to_read
from benchapp.sequences.language.vocabulary import Opening
from benchapp.sequences.planning.entries import Disposition, Entry, EntryKind, Event, Hazard, person
from benchapp.sequences.planning.entry_contents import (
    CautionContent,
    DispositionContent,
    EventContent,
    FactContent,
    FaultContent,
    HazardClearedContent,
    HazardContent,
    MeterContent,
    NoteContent,
    OpenedContent,
    ProbedReading,
    RepairContent,
    UnitPhotosContent,
    WithdrawalContent,
)
from benchapp.sequences.planning.entry_times import is_time
from benchapp.sequences.planning.fact_rules import refuse_facts
from benchapp.sequences.planning.people import Right
from benchapp.sequences.planning.photo_names import refuse_unit_photos
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.said import said_meter
from benchapp.sequences.planning.state import FaultStatus
from benchapp.words import say


def refuse(plan: Plan, entries: Sequence[Entry], entry: Entry) -> str | None:
    """The sentence with which the prospective entry is refused, or None when it may be recorded."""
    return refuse_entry(look(UnitHistory(plan, entries), at=entry.at), entry)


def refuse_in(state: UnitState, entry: Entry) -> str | None:
    """The same where the history was folded before, at the entry's own time."""
    return refuse_entry(engine_of(state), entry)


def refuse_entry(engine: EngineState, entry: Entry) -> str | None:
    """The same where the history was walked up to the entry, at the entry's own time."""
    rule = _RULES.get(entry.kind)
    engine = EngineState(evaluation=engine.evaluation.in_hands_of(entry.by), rows=engine.rows)
    refused = rule(engine, entry) if rule else None
    return refused or refuse_hasty(engine.evaluation, entry)


# What else can be recorded --------------------------------------------------------------------------------------------


def _refuse_withdrawal(engine: EngineState, entry: Entry[WithdrawalContent]) -> str | None:
    ledger = engine.evaluation.ledger
    number = entry.content.number
    target = ledger.by_number.get(number)
    if target is None:
        return say("This unit has no entry {number}.", number=number)
    if not can_be_withdrawn(target):
        return say(
            "This is no answer but a {kind}: what happened stays on record.", kind=str(target.kind).replace("-", " ")
        )
    if target.number in ledger.withdrawn:
        return say("It was taken back before.")
    return refuse_taken_back(engine.evaluation, entry)


def _refuse_meter_entry(engine: EngineState, entry: Entry[MeterContent]) -> str | None:
    said, meter = entry.content, entry.content.meter
    record = engine.evaluation.plan.meters.get(meter)
    if record is None:
        return say("There is no record of a meter “{meter}”.", meter=meter)
    name = said_meter(engine.evaluation.plan, meter)
    if not is_time(said.proved):
        return say("“{proved}” is no time at which {meter} was proved.", proved=said.proved, meter=name)
    leads = refuse_leads(name, said.lead_resistance, nulled=said.nulled)
    if leads:
        return leads
    if record.is_overdue(date.fromisoformat(entry.at[:10])) and not said.overdue_accepted:
        return say(
            "The calibration of {meter} was due on {due}: choose another, or accept it knowingly.",
            meter=name,
            due=record.due,
        )
    return None


def _refuse_caution(engine: EngineState, entry: Entry[CautionContent]) -> str | None:
    caution = entry.content.caution
    plan = engine.evaluation.plan
    known = {name for stage in plan.stages for name in cautions_of(stage.cautions, stage.supply)} | set(plan.cautions)
    return None if caution in known else say("There is no caution “{caution}”.", caution=caution)


def _refuse_repair(engine: EngineState, entry: Entry[RepairContent]) -> str | None:
    evaluation = engine.evaluation
    if is_energised(evaluation):
        return go_back(evaluation)
    inside = may_reach_inside(evaluation.plan, entry.content.part, entry.content.opened)
    reservoir = reservoir_to_read(evaluation)
    if inside and reservoir is not None:
        return before_hands(reservoir)
    fault = entry.content.fault
    numbers = {t.entry for t in evaluation.ledger.faults if fault_status(evaluation, t) is FaultStatus.open}
    if fault is not None and fault not in numbers:
        return say("This is no open fault of the unit: look at its record.")
    if not entry.content.part.strip() or not entry.content.done.strip():
        return say("Say which part was mended and what was done: the retest follows from it.")
    opens = opened_by(evaluation.plan, entry.content.part, entry.content.opened)
    shut = refuse_work(evaluation) or refuse_opening(evaluation, opens)
    return shut or _refuse_openings(entry.content.opened)


def _refuse_openings(opened: Sequence[str]) -> str | None:
    known = {one.value for one in Opening}
    wrong = [one for one in opened if one not in known]
    return (
        say("“{wrong}” cannot be opened; it is one of {listed}.", wrong=wrong[0], listed=", ".join(sorted(known)))
        if wrong
        else None
    )


def _refuse_opened(engine: EngineState, entry: Entry[OpenedContent]) -> str | None:
    if is_energised(engine.evaluation):
        return go_back(engine.evaluation)
    if not entry.content.opened:
        return say("Say what was opened: cord, plug or enclosure.")
    return refuse_opening(engine.evaluation, entry.content.opened) or _refuse_openings(entry.content.opened)


def _refuse_fault(engine: EngineState, entry: Entry[FaultContent]) -> str | None:
    if entry.content.old_hazard:
        return refuse_finding(engine.evaluation.plan, entry.content)
    named = entry.content.part.strip() or entry.content.words.strip()
    return None if named else say("Say what is wrong: the part, or a few words.")


def _refuse_clearing(engine: EngineState, entry: Entry[HazardClearedContent]) -> str | None:
    return refuse_clearing(engine.evaluation, entry.content) or refuse_right(
        engine.evaluation, entry.by, Right.supervisor
    )


def _refuse_event(_engine: EngineState, entry: Entry[EventContent]) -> str | None:
    said = entry.content
    if said.event == Event.left:
        if not (said.note.strip() and said.with_it.strip()):
            return say(
                "A unit that may be live is left with a reason and with the name of who stays beside it: say both."
            )
        if person(said.with_it) == person(entry.by):
            return say("Somebody else is meant: name who stays beside it while you are away, or make it safe.")
    return _one_of(said.event, [one.value for one in Event])


def _refuse_hazard(_engine: EngineState, entry: Entry[HazardContent]) -> str | None:
    return _one_of(entry.content.hazard, [one.value for one in Hazard])


def _one_of(said: str, known: list[str]) -> str | None:
    return None if said in known else say("“{said}” is none of {listed}.", said=said, listed=", ".join(known))


def _refuse_disposition(engine: EngineState, entry: Entry[DispositionContent]) -> str | None:
    word = entry.content.disposition
    wrong = _one_of(word, [one.value for one in Disposition])
    if wrong:
        return wrong
    reason = why_not(engine.evaluation, word)
    if reason:
        return say("It cannot be marked “{word}”: {reason}.", word=word, reason=reason)
    return refuse_unsaid(engine, entry) or refuse_unheld(engine, entry)


def _refuse_fact(engine: EngineState, entry: Entry[FactContent]) -> str | None:
    facts = entry.content.facts
    if not facts:
        return say("Say which fact of this unit it is, and what it is.")
    evaluation = engine.evaluation
    return refuse_facts(evaluation.plan, evaluation.facts, facts, plug_gone=bool(evaluation.ledger.destroyed))


def _refuse_note(engine: EngineState, entry: Entry[NoteContent]) -> str | None:
    probed = entry.content.probed
    if not entry.content.words.strip():
        return say("The note is empty.")
    if probed is None:
        return None
    if untouched := refuse_work(engine.evaluation):
        return untouched
    if is_live(probed):
        return _refuse_live_note(engine, entry, probed)
    if not is_for_hands(engine.evaluation):
        return go_back(engine.evaluation)
    return refuse_probe(engine.evaluation, entry, probed)


def _refuse_unit_photos(_engine: EngineState, entry: Entry[UnitPhotosContent]) -> str | None:
    return refuse_unit_photos(entry.content.photos) or None


def _refuse_live_note(engine: EngineState, entry: Entry[NoteContent], probed: ProbedReading) -> str | None:
    return (
        _why_no_live(engine)
        or refuse_right(engine.evaluation, entry.by, Right.live_work)
        or refuse_probe(engine.evaluation, entry, probed)
    )


def why_no_live_probe(state: UnitState) -> str | None:
    """Why no live reading can be taken beside the route now; None when one can."""
    return _why_no_live(engine_of(state))


def _why_no_live(engine: EngineState) -> str | None:
    """Why no live reading can be taken beside the route now: what keeps the route's own voltages shut, or no mains yet.

    It is taken while the live stage is under way, never by plugging in for it alone.
    """
    evaluation = engine.evaluation
    step = live_step(evaluation.plan)
    if step is None:
        return say("This route takes no live voltage at an output: probe dead.")
    reason = (
        refuse_shut(engine, step)
        or (go_back(evaluation) if must_go_back_first(evaluation, step) else None)
        or refuse_early(engine, step)
    )
    if reason:
        return reason
    if not is_energised(evaluation) or not is_on_full_mains(evaluation):
        stage = evaluation.plan.stage(step.stage)
        return say(
            "Mains is not on this unit, or was not read just now: first “{title}” up to its mains reading.",
            title=stage.title,
        )
    return refuse_unprepared(engine, step) or refuse_long_search(evaluation)


OfItsKind: TypeAlias = Any
"""An entry whose content is of the class of its kind, as every content that was read is."""
_RULES: dict[EntryKind, Callable[[EngineState, OfItsKind], str | None]] = {
    EntryKind.answer: refuse_answer,
    EntryKind.withdrawal: _refuse_withdrawal,
    EntryKind.meter: _refuse_meter_entry,
    EntryKind.caution: _refuse_caution,
    EntryKind.set_up: refuse_set_up,
    EntryKind.repair: _refuse_repair,
    EntryKind.opened: _refuse_opened,
    EntryKind.fault: _refuse_fault,
    EntryKind.event: _refuse_event,
    EntryKind.hazard: _refuse_hazard,
    EntryKind.hazard_cleared: _refuse_clearing,
    EntryKind.supervisor_opening: refuse_supervised,
    EntryKind.acceptance: refuse_acceptance,
    EntryKind.false_alarm: refuse_false_alarm,
    EntryKind.disposition: _refuse_disposition,
    EntryKind.plug_destroyed: refuse_destroyed,
    EntryKind.plug_kept: refuse_kept,
    EntryKind.fact: _refuse_fact,
    EntryKind.note: _refuse_note,
    EntryKind.photos: _refuse_unit_photos,
}
