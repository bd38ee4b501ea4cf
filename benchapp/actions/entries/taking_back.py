"""Taking back what was done: named, with what it makes due again, before anything goes.

An answer or a probe is withdrawn; a disposition, its price among it, by saying again what stood before it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from benchapp.actions.entries.answers import withdraw_answer
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, EntryContext, record
from benchapp.sequences.history.probes import is_probe, probe_words, standing_probes
from benchapp.sequences.history.withdrawable import can_be_withdrawn
from benchapp.sequences.planning.answer_content import is_answer, is_reading
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entries import Disposition, Entry, EntryKind, is_of, person
from benchapp.sequences.planning.entry_contents import (
    DispositionContent,
    NoteContent,
    UnitPhotosContent,
    WithdrawalContent,
)
from benchapp.sequences.planning.state import FaultStatus, StepStatus
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.actions.workbench.histories import History
    from benchapp.sequences.history.unit_state import UnitState
    from benchapp.sequences.planning.planned import Plan

MOST = 400
"""entries of this bench that are looked through, newest first: more than a day's"""
NO_LONGER = "It does not count any more: a later one stands, or it was taken back."
ENDED = frozenset({StepStatus.done, StepStatus.skipped})


@dataclass(frozen=True, slots=True, kw_only=True)
class TakingBack:
    """What would be taken back of a unit, and what follows."""

    unit: str
    number: int
    words: str
    """what it is: "price 12.00 of TB-003" """
    address: str = ""
    """the step of an answer"""
    again: tuple[str, ...] = ()
    """names of the steps that are asked again then, its own first"""
    stays: tuple[str, ...] = ()
    """dangers that it found, in words: each stays open until somebody has looked again"""
    hazards: tuple[str, ...] = ()
    """hazards of old equipment that it found, in words: no second look clears them"""
    of_search: bool = False
    """whether it is a probe: the search is weighed again without it"""
    becomes: str = ""
    """what a disposition becomes again"""
    asks_why: str = ""
    """why it asks for a reason; empty where it asks for none"""
    refused: str = ""
    """why it cannot be taken back, whatever is said; empty where it can"""


def last_of(bench: Bench, *, by: str) -> TakingBack:
    """What this person did last at this bench, of what can be taken back; raises Refused where there is nothing.

    What happened (a fault, a repair, an event) stays on record and is passed over.
    """
    for mark, number, initials in bench.workbook.given_here(MOST):
        if person(initials) == person(by) and _stands(bench, mark, number):
            return foresee(bench, mark, number, by=by)
    raise Refused(say("There is nothing that {by} did at this bench that could be taken back.", by=by))


def foresee(bench: Bench, unit: str, number: int, *, by: str) -> TakingBack:
    """What taking back that entry would do; changes nothing. Raises Refused where it can be none of these."""
    history = bench.history(unit)
    target = _target(history, unit, number)
    plan, at = bench.plan_of(history), bench.now(history)
    state = bench.state(unit, at=at)
    content = _content(target, history.entries)
    said = _entry(history, target, content, at=at, by=by)
    wanting = _refused(state, said, "")
    never = _refused(state, said, "for a reason") if wanting else ""
    overtaken = "" if _stands(bench, unit, number) else NO_LONGER
    seen = TakingBack(
        unit=unit,
        number=number,
        words=f"{_words(plan, target, history.entries)} of {unit}",
        asks_why="" if never else wanting,
        refused=overtaken or never,
    )
    if is_probe(target):
        return replace(seen, of_search=True)
    if isinstance(content, DispositionContent):
        return replace(seen, becomes=_disposition_words(content))
    if is_of(target, UnitPhotosContent):
        return seen
    again, stays = _what_follows(plan, history, state, said)
    found = [one for one in state.faults if one.entry == number and one.old_hazard and one.status is FaultStatus.open]
    hazards = tuple(one.words for one in found)
    return replace(seen, address=target.address, again=again, stays=stays, hazards=hazards)


def take_back(bench: Bench, unit: str, number: int, *, by: str, why: str = "") -> ChangeSet:
    """Take back an answer or a disposition; raises Refused with the engine's sentence, or where a reason is wanting."""
    if not is_of(_target(bench.history(unit), unit, number), DispositionContent):
        return withdraw_answer(bench, unit, number=number, by=by, why=why)

    def compose(now: EntryContext) -> Composed:
        entries = now.history.entries
        target = _target(now.history, unit, number)
        if target.number not in {one.number for one in _standing(entries)[-1:]}:
            raise Refused(say("This is not what was settled last of {unit}. Look at its record.", unit=unit))
        if person(target.by) != person(by) and not why.strip():
            raise Refused(say("{by} did this: say why it is taken back.", by=target.by))
        content = replace(_before(target, entries), note=why.strip())
        words = say(
            "Taken back: {words} of {unit}. It is {disposition_words} again.",
            words=_words(now.plan, target, entries),
            unit=unit,
            disposition_words=_disposition_words(content),
        )
        return Composed(kind=EntryKind.disposition, content=content, words=words)

    return record(bench, unit, compose, by=by)


def _target(history: "History", unit: str, number: int) -> Entry:
    found = next((one for one in history.entries if one.number == number), None)
    if found is None or not (can_be_withdrawn(found) or is_of(found, DispositionContent)):
        raise Refused(
            say("This is no answer, probe, photo or disposition of {unit}: what happened stays on record.", unit=unit)
        )
    return found


def _stands(bench: Bench, unit: str, number: int) -> bool:
    """Whether it still counts: the last answer of its step, a probe that a search goes by, the last disposition."""
    entries = bench.entries(unit)
    target = entries[number - 1]
    if is_of(target, NoteContent):
        return number in {one.number for one, _ in standing_probes(entries)}
    if is_of(target, DispositionContent):
        return number in {one.number for one in _standing(entries)[-1:]}
    gone = {one.content.number for one in entries if is_of(one, WithdrawalContent)}
    later = any(is_answer(one) and one.address == target.address for one in entries[number:])
    return number not in gone and not later


def _standing(entries: Sequence[Entry]) -> list[Entry[DispositionContent]]:
    """The dispositions that were not taken back, oldest first."""
    standing: list[Entry[DispositionContent]] = []
    for one in entries:
        if not is_of(one, DispositionContent):
            continue
        if one.content.takes_back is None:
            standing.append(one)
        elif standing and standing[-1].number == one.content.takes_back:
            standing.pop()
    return standing


def _before(target: Entry, entries: Sequence[Entry]) -> DispositionContent:
    """What was settled before that disposition, as a content that takes it back."""
    earlier = [one.content for one in _standing(entries) if one.number < target.number]
    settled = earlier[-1] if earlier else DispositionContent(disposition=Disposition.quarantine.value)
    return replace(settled, note="", takes_back=target.number)


def _content(target: Entry, entries: Sequence[Entry]) -> Content:
    if is_of(target, DispositionContent):
        return _before(target, entries)
    return WithdrawalContent(number=target.number)


def _entry(history: "History", target: Entry, content: Content, *, at: str, by: str) -> Entry:
    """The entry that would be recorded, for the gate to be asked."""
    kind = EntryKind.disposition if isinstance(content, DispositionContent) else EntryKind.withdrawal
    return Entry(
        number=len(history.entries) + 1,
        uuid="",
        kind=kind,
        at=at,
        by=by,
        address=target.address,
        content=content,
        chain=history.unit,
        run=history.run.uuid,
        cites=(),
    )


def _refused(state: "UnitState", said: Entry, why: str) -> str:
    from benchapp.sequences.interlock.gate import refuse_in

    named = "note" if isinstance(said.content, DispositionContent) else "why"
    return refuse_in(state, replace(said, content=replace(said.content, **{named: why}))) or ""


def _what_follows(
    plan: "Plan", history: "History", state: "UnitState", said: Entry
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of the steps that are asked again after a withdrawal, and the dangers that stay open after it."""
    from benchapp.sequences.interlock.fold import fold
    from benchapp.sequences.planning.step_names import reading_name

    after = fold(plan, (*history.entries, said), at=said.at)
    moved = [
        one
        for one in (*plan.steps, *plan.way_back)
        if one.address in after.steps
        and after.steps[one.address].status not in ENDED
        and one.address in state.steps
        and state.steps[one.address].status in ENDED
    ]
    moved.sort(key=lambda one: one.address != said.address)
    again = tuple(reading_name(plan.circuit, step) for step in moved)
    dangers = [one for one in after.faults if one.taken_back and one.status is FaultStatus.open]
    return again, tuple(one.words or one.part for one in dangers if one.address == said.address)


def _words(plan: "Plan", target: Entry, entries: Sequence[Entry]) -> str:
    """What was done, in a few words: "reading 1.3 at Outlet 1 to 2", "price 12.00"."""
    from benchapp.sequences.planning.step_names import reading_name

    if is_of(target, DispositionContent):
        said, before = target.content, _before(target, entries)
        priced = said.price and (said.disposition, said.grade) == (before.disposition, before.grade)
        return f"price {said.price}" if priced else _disposition_words(said)
    if is_probe(target):
        return f"the probe {probe_words(target)}"
    if is_of(target, UnitPhotosContent):
        return say("{count} photo(s)", count=len(target.content.photos))
    step = plan.by_address.get(target.address)
    name = reading_name(plan.circuit, step) if step is not None else target.address
    if is_reading(target):
        return f"reading {'; '.join((target.content.typed, *target.content.repeats))} at {name}"
    return target.content.at(name) if is_answer(target) else name


def _disposition_words(said: DispositionContent) -> str:
    """ "for sale, grade B, price 12.00"."""
    parts = (said.disposition, said.grade and f"grade {said.grade}", said.price and f"price {said.price}")
    return ", ".join(part for part in parts if part)
