"""What each kind of entry changes in a unit's ledger, which takes them one by one, oldest first.

A withdrawal removes the good that an answer did, never its danger: a withdrawn live answer has energised the unit all
the same, and a withdrawn leads check that failed still doubts the readings before it.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any, TypeAlias

from benchapp.judgement.statements.statements import Judgement, completes_step
from benchapp.quantities.dimensions import Kind
from benchapp.sequences.history.ledger import Fault, Ledger, Setting
from benchapp.sequences.history.retest import (
    event_scope,
    fact_scope,
    mended_by,
    opened_by,
    pins_named,
    planned_opening_scope,
    repair_scope,
    scope_of,
)
from benchapp.sequences.history.withdrawable import can_be_withdrawn
from benchapp.sequences.language.vocabulary import FactValue, Opening, Role, Supply
from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent, is_answer
from benchapp.sequences.planning.entries import POWERED, Entry, EntryKind, Event, Hazard, person
from benchapp.sequences.planning.entry_contents import (
    AcceptanceContent,
    CautionContent,
    DispositionContent,
    EventContent,
    FactContent,
    FalseAlarmContent,
    FaultContent,
    HazardClearedContent,
    HazardContent,
    MeterContent,
    NoteContent,
    OpenedContent,
    PlugDestroyedContent,
    PlugKeptContent,
    RepairContent,
    SetUpContent,
    SupervisorOpeningContent,
    WithdrawalContent,
)
from benchapp.sequences.planning.facts import fact_or_unknown
from benchapp.sequences.planning.limiters import LIMITER_FACTS
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.step_digest import has_changed
from benchapp.wiring.assembly.lead import LEAD_OFF

DRAWN_KINDS = frozenset({Kind.current, Kind.power})
ASK = "ask"
"""the kind of step that puts a question"""


def take_entry(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    """Enter the next entry of the unit's history."""
    _TAKE.get(entry.kind, _take_nothing)(ledger, plan, entry)
    ledger.by_number[entry.number] = entry
    ledger.last = entry


def _take_answer(ledger: Ledger, plan: Plan, entry: Entry[AnswerContent]) -> None:
    ledger.answers.setdefault(entry.address, []).append(entry)
    ledger.touched.add(entry.address)
    ledger.note_reading(entry)
    _take_energising(ledger, plan, entry)
    step = plan.by_address.get(entry.address)
    if step is not None and has_changed(step, entry.content):
        ledger.outdated.add(entry.number)
    if step is not None and step.way_back and Role.plug_out in step.shows:
        ledger.set_up, ledger.set_up_stage = (), ""
    for name, value in entry.content.facts.items():
        _set_fact(ledger, plan, name, value, entry)
    for fault in entry.content.faults:
        ledger.faults.append(_named_fault(entry, fault))
    if any(_was_noticed_live(entry.content, one.severity) for one in entry.content.faults):
        ledger.overdrawn = entry.number  # what smoked or smelt gets no second try before a finding either
    if draws_too_much(entry.content):
        _take_overdrawn(ledger, plan, entry)
    if entry.content.event:
        _befell(ledger, plan, entry.number, entry.content.event)
    if step is not None and step.opens:
        ledger.mark_stale(planned_opening_scope(plan, step), entry.number, f"{', '.join(step.opens)} was opened")
        ledger.openings += 1


def draws_too_much(answer: AnswerContent) -> bool:
    """Whether the answer says that the unit drew more under power than a sound one can."""
    if not isinstance(answer, ReadingContent) or answer.supply is Supply.none:
        return False
    drawn = answer.kind in DRAWN_KINDS and answer.judgement is Judgement.failed
    return drawn and not (answer.lower is not None and answer.value is not None and answer.value < answer.lower)


def _take_overdrawn(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    """No second try before a finding: its fault stays until a repair, and every dead step is taken again."""
    _disturb(ledger, [step.address for step in plan.steps], entry.number, "it drew too much")
    ledger.hazard = ledger.overdrawn = entry.number
    mine = [one for one in ledger.faults if one.entry == entry.number]
    for fault in mine:
        fault.hazard = fault.lasting = True
    if not mine:
        words = "It drew too much under power."
        fault = Fault(
            entry=entry.number, part="", mode="wrong current", words=words, severity="do not use", hazard=True
        )
        ledger.faults.append(fault)


def _take_energising(ledger: Ledger, plan: Plan, entry: Entry[AnswerContent]) -> None:
    if entry.content.step == ASK and entry.content.facts and set(entry.content.facts) <= LIMITER_FACTS:
        return  # what will limit the current is said before anything is plugged in
    step = plan.by_address.get(entry.address)
    # The entry says what was done; a file edited since cannot make it undone.
    live = entry.content.supply is not Supply.none or (step is not None and step.supply is not Supply.none)
    energises = entry.content.energises or (step is not None and step.energises)
    on_the_way_back = step is not None and step.way_back and bool(step.function)
    still_charged = on_the_way_back and not completes_step(entry.content.judgement)
    if still_charged:
        ledger.read_high = entry.number
    if live:
        ledger.energised_live = entry.number
    elif energises:
        ledger.charged = entry.number
    if live or still_charged or energises:
        ledger.energised = entry.number


def _take_withdrawal(ledger: Ledger, plan: Plan, entry: Entry[WithdrawalContent]) -> None:
    target = ledger.by_number.get(entry.content.number)
    if target is None or not can_be_withdrawn(target):
        return
    ledger.withdrawn.add(target.number)
    if not is_answer(target):
        return  # neither search nor record goes by it; that mains was on, or the lead off, for it stays
    ledger.touched.add(target.address)
    latest = ledger.latest(target.address)
    if latest is not None and latest.number == target.number:
        ledger.readings.pop(target.address, None)
    ledger.faults = [one for one in ledger.faults if one.entry != target.number or _outlives_its_answer(one)]
    for name in target.content.facts:
        before = ledger.facts(plan)
        ledger.settings[name] = [one for one in ledger.settings.get(name, []) if one.number != target.number]
        ledger.known_facts = None
        if ledger.facts(plan).get(name) != before.get(name):
            ledger.mark_stale(_moved_by(ledger, plan, name, before), entry.number, f"{name} was taken back")


def _outlives_its_answer(fault: Fault) -> bool:
    """Whether it stays when the answer that raised it is taken back: what is dangerous is looked at again first."""
    return not fault.by_answer or fault.lasting or fault.severity == "do not use"


def _set_fact(ledger: Ledger, plan: Plan, name: str, said: FactValue, entry: Entry) -> None:
    setting = Setting(number=entry.number, value=fact_or_unknown(name, said), by=person(entry.by))
    facts_before = ledger.facts(plan)
    ledger.settings.setdefault(name, []).append(setting)
    ledger.known_facts = None
    before, now = facts_before.get(name), ledger.facts(plan).get(name)
    if before != now:
        was = "" if before is None else f", not {before}"
        ledger.mark_stale(_moved_by(ledger, plan, name, facts_before), entry.number, f"{name} is {now}{was}")


def _moved_by(ledger: Ledger, plan: Plan, fact: str, before: Mapping[str, FactValue]) -> tuple[str, ...]:
    """What rests on the fact that has changed: many small changes are together as much as one large one."""
    return fact_scope(
        plan, fact, ledger.facts(plan), lambda address: (before, ledger.facts_answered_with(plan, address))
    )


def _take_fact(ledger: Ledger, plan: Plan, entry: Entry[FactContent]) -> None:
    for name, value in entry.content.facts.items():
        _set_fact(ledger, plan, name, value, entry)


def _take_meter(ledger: Ledger, _plan: Plan, entry: Entry[MeterContent]) -> None:
    ledger.meters[entry.content.meter] = entry


def _take_caution(ledger: Ledger, _plan: Plan, entry: Entry[CautionContent]) -> None:
    ledger.cautions[entry.content.caution, person(entry.by)] = entry


def _take_set_up(ledger: Ledger, plan: Plan, entry: Entry[SetUpContent]) -> None:
    step = plan.by_address.get(entry.address)
    ledger.set_up = entry.content.items
    ledger.set_up_stage = step.stage if step is not None else ""
    if step is not None and step.supply is not Supply.none:
        ledger.energised = ledger.energised_live = entry.number
    _take_lead_off(ledger, plan, entry, ledger.set_up)


def _take_lead_off(ledger: Ledger, plan: Plan, entry: Entry, set_up: Iterable[str]) -> None:
    """Off is off, whether or not a step reads anything of it then."""
    step = plan.by_address.get(entry.address)
    if step is not None and LEAD_OFF in set_up:
        ledger.mark_stale(planned_opening_scope(plan, step), entry.number, "the lead was taken off")


def _take_fault(ledger: Ledger, _plan: Plan, entry: Entry[FaultContent]) -> None:
    """A fault, or what was found of one: that stays the same fault with all it demands, and says what is wrong."""
    found = entry.content
    known = [one for one in ledger.faults if one.entry == found.found_for and one.repair is None]
    for fault in known:
        fault.part, fault.mode, fault.words = found.part, found.mode, found.words
    if not known:
        ledger.faults.append(_fault(entry, found))


def _fault(entry: Entry, said: FaultContent) -> Fault:
    return Fault(
        entry=entry.number,
        part=said.part,
        mode=said.mode,
        words=said.words,
        severity=said.severity,
        address=entry.address,
        old_hazard=said.old_hazard,
        lasting=bool(said.old_hazard),
    )


def _named_fault(entry: Entry[AnswerContent], said: FaultContent) -> Fault:
    lasting = bool(said.old_hazard) or _was_noticed_live(entry.content, said.severity)
    return replace(_fault(entry, said), by_answer=True, lasting=lasting)


def _was_noticed_live(answer: AnswerContent, severity: str) -> bool:
    """Smoke, smell, hum or heat seen with mains on; a reading may be a slip, what eyes and nose found is not."""
    live = answer.supply is not Supply.none
    return live and severity == "do not use" and not isinstance(answer, ReadingContent)


def _take_repair(ledger: Ledger, plan: Plan, entry: Entry[RepairContent]) -> None:
    part, opened = entry.content.part, entry.content.opened
    mended = mended_by(ledger.faults, entry.content.fault, part)
    for fault in mended:
        fault.repair = entry.number
    if part in plan.circuit.parts or pins_named(plan, part):
        ledger.cause_found = entry.number
    if any(fault.hazard for fault in mended):
        ledger.hazard = entry.number
    _disturb(ledger, repair_scope(plan, part, opened, mended), entry.number, f"{part or 'something'} was repaired")
    ledger.openings += bool(opened_by(plan, part, opened))


def _take_opened(ledger: Ledger, plan: Plan, entry: Entry[OpenedContent]) -> None:
    opened = entry.content.opened
    roles = scope_of(plan, "enclosure", opened)
    _disturb(ledger, roles, entry.number, f"{', '.join(opened) or 'it'} was opened")
    ledger.openings += 1
    if Opening.enclosure in opened:
        ledger.opened_inside = entry.number


def _take_event(ledger: Ledger, plan: Plan, entry: Entry[EventContent]) -> None:
    _befell(ledger, plan, entry.number, entry.content.event)


def _befell(ledger: Ledger, plan: Plan, number: int, event: str) -> None:
    """What befell the unit makes its dead tests old, whether it was recorded by itself or given as an answer.

    Power outside its steps ages nothing: nobody touches it before the way back.
    """
    if event in POWERED:
        _take_power(ledger, number, live=event == Event.left)
        return
    if event != Event.fall:
        ledger.damp = number
    _disturb(ledger, event_scope(plan), number, f"{event} since")


def _take_power(ledger: Ledger, number: int, *, live: bool) -> None:
    ledger.energised = number
    if live:
        ledger.energised_live = number
    else:
        ledger.charged = number
    ledger.set_up, ledger.set_up_stage = (), ""


def _take_hazard(ledger: Ledger, plan: Plan, entry: Entry[HazardContent]) -> None:
    hazard = entry.content.hazard
    everything = [step.address for step in plan.steps]
    ledger.stale_before[entry.number] = dict(ledger.stale)
    _disturb(ledger, everything, entry.number, f"{hazard} was noticed")
    ledger.hazard = entry.number
    if hazard == Hazard.tripped:
        ledger.overdrawn = entry.number
    if plan.mains_fed:
        # Whoever pressed the key had the unit on: it is not touched before the way back.
        ledger.energised = ledger.energised_live = entry.number
    words = entry.content.note or f"{hazard} while it was on"
    ledger.faults.append(
        Fault(entry=entry.number, part="", mode=hazard, words=words, severity="do not use", hazard=True)
    )


def _take_false_alarm(ledger: Ledger, _plan: Plan, entry: Entry[FalseAlarmContent]) -> None:
    """The unit goes on where it was; that it was disturbed, and may be live until the way back, stays."""
    for fault in ledger.faults:
        if fault.entry in ledger.stale_before and fault.entry == entry.content.hazard:
            fault.false_alarm = entry.number
            ledger.take_back_hazard(fault.entry)
    real = [fault for fault in ledger.faults if fault.hazard and not fault.false_alarm]
    ledger.hazard = max((fault.repair or fault.entry for fault in real), default=0)


def _take_cleared(ledger: Ledger, plan: Plan, entry: Entry[HazardClearedContent]) -> None:
    """Somebody had the unit in hand: what an opening makes stale is taken again."""
    for fault in ledger.faults:
        if (fault.entry, fault.old_hazard) == (entry.content.fault, entry.content.hazard):
            fault.cleared = entry.number
    _disturb(ledger, scope_of(plan, "enclosure", ()), entry.number, "a hazard was cleared")


def _disturb(ledger: Ledger, addresses: Iterable[str], number: int, why: str) -> None:
    ledger.mark_stale(addresses, number, why)
    ledger.disturbed = number
    ledger.set_up, ledger.set_up_stage = (), ""


def _take_supervised(ledger: Ledger, _plan: Plan, entry: Entry[SupervisorOpeningContent]) -> None:
    ledger.supervised = entry


def _take_acceptance(ledger: Ledger, _plan: Plan, entry: Entry[AcceptanceContent]) -> None:
    ledger.acceptances[entry.content.what] = entry


def _take_disposition(ledger: Ledger, _plan: Plan, entry: Entry[DispositionContent]) -> None:
    ledger.dispositions.append(entry)


def _take_destroyed(ledger: Ledger, _plan: Plan, entry: Entry[PlugDestroyedContent]) -> None:
    ledger.destroyed, ledger.known_facts = entry.number, None


def _take_kept(ledger: Ledger, plan: Plan, entry: Entry[PlugKeptContent]) -> None:
    """Nobody knows what was done to it meanwhile: what rests on plug and cord is taken again."""
    ledger.destroyed, ledger.known_facts = 0, None
    ledger.kept.append(entry)
    _disturb(ledger, scope_of(plan, "plug", ("plug",)), entry.number, "its plug was said to be destroyed")


def _take_note(ledger: Ledger, plan: Plan, entry: Entry[NoteContent]) -> None:
    """A note changes nothing, unless it keeps a reading that was taken with mains on, or with the lead off."""
    probed = entry.content.probed
    if probed is None:
        return
    if probed.supply is not Supply.none:
        ledger.energised = ledger.energised_live = entry.number
    _take_lead_off(ledger, plan, entry, probed.set_up)


def _take_nothing(_ledger: Ledger, _plan: Plan, _entry: Entry) -> None:
    """A kind of entry that changes nothing."""


OfItsKind: TypeAlias = Any
"""An entry whose content is of the class of its kind, as every content that was read is."""
_TAKE: dict[EntryKind, Callable[[Ledger, Plan, OfItsKind], None]] = {
    EntryKind.answer: _take_answer,
    EntryKind.withdrawal: _take_withdrawal,
    EntryKind.meter: _take_meter,
    EntryKind.caution: _take_caution,
    EntryKind.set_up: _take_set_up,
    EntryKind.fault: _take_fault,
    EntryKind.repair: _take_repair,
    EntryKind.opened: _take_opened,
    EntryKind.event: _take_event,
    EntryKind.hazard: _take_hazard,
    EntryKind.false_alarm: _take_false_alarm,
    EntryKind.hazard_cleared: _take_cleared,
    EntryKind.fact: _take_fact,
    EntryKind.supervisor_opening: _take_supervised,
    EntryKind.acceptance: _take_acceptance,
    EntryKind.disposition: _take_disposition,
    EntryKind.plug_destroyed: _take_destroyed,
    EntryKind.plug_kept: _take_kept,
    EntryKind.note: _take_note,
    EntryKind.photos: _take_nothing,
}
