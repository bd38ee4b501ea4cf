"""The one way by which an entry is recorded: fold, gate, disk; again from the start when another window was first."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import TYPE_CHECKING
from uuid import uuid4

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.bench_days import day_as_of
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.first_given import refuse_second_answer
from benchapp.actions.workbench.histories import History
from benchapp.actions.workbench.one_at_a_time import refuse_second
from benchapp.actions.workbench.problems import Refused, TooSoon
from benchapp.actions.workbench.text_bounds import refuse_long, refuse_long_texts
from benchapp.actions.workbench.unit_summary import as_recorded, summary_after
from benchapp.sequences.planning.bench_day import BenchDay
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.words import say
from benchapp.workbook.model.problems import Overtaken

if TYPE_CHECKING:
    from benchapp.sequences.history.unit_history import UnitHistory
    from benchapp.sequences.history.unit_state import AnsweringState, UnitState
    from benchapp.sequences.interlock.due import EngineState
    from benchapp.sequences.planning.planned import Plan

ROUNDS = 20
"""how often a record is tried anew after another window's, before the person is told"""


@dataclass(frozen=True, kw_only=True)
class EntryContext:
    """What an entry is composed from: plan, history and state of the unit, the day at the bench, the entry's time."""

    plan: "Plan"
    engine: "EngineState"
    history: History
    day: BenchDay
    at: str

    @cached_property
    def answering(self) -> "AnsweringState":
        """What of the unit an answer is judged by."""
        from benchapp.sequences.interlock.fold import answering_state

        return answering_state(self.engine)

    @cached_property
    def state(self) -> "UnitState":
        """The whole unit as it stands; each step is worked out for it."""
        from benchapp.sequences.interlock.fold import state_of

        return state_of(self.engine)


@dataclass(frozen=True, slots=True, kw_only=True)
class Composed:
    """What an entry is going to say, and what the person is told once it is on disk."""

    kind: EntryKind
    content: Content
    address: str = ""
    words: str = ""


Compose = Callable[[EntryContext], Composed]


def record(
    bench: Bench, unit: str, compose: Compose, *, by: str, uuid: str | None = None, seen: int | None = None
) -> ChangeSet:
    """Record what `compose` makes of the unit as it stands; raises Refused with the engine's sentence.

    `seen` is the number of the last entry that the person had in sight: what another window answered since is told, and
    nothing is recorded in its place.

    Raises ContentProblem for what could not be read back: a number that JSON has not, or one of twenty digits.

    Recording again with the same `uuid` records nothing twice.
    """
    if not by.strip():
        raise Refused(
            say("Nobody's initials are given. Every entry says who made it: enter yours, then record it again.")
        )
    refuse_long(initials=by)
    return bench.write(partial(_record, bench, unit, compose, by=by.strip(), uuid=uuid or str(uuid4()), seen=seen))


def _record(bench: Bench, unit: str, compose: Compose, *, by: str, uuid: str, seen: int | None) -> ChangeSet:
    for _ in range(ROUNDS - 1):
        try:
            return _record_once(bench, unit, compose, by=by, uuid=uuid, seen=seen)
        except Overtaken:
            bench.forget(unit)
    return _record_once(bench, unit, compose, by=by, uuid=uuid, seen=seen)


def _record_once(bench: Bench, unit: str, compose: Compose, *, by: str, uuid: str, seen: int | None) -> ChangeSet:
    from benchapp.sequences.history.unit_history import UnitHistory
    from benchapp.sequences.interlock.bench_day import refuse_by_the_day
    from benchapp.sequences.interlock.fold import look
    from benchapp.sequences.interlock.gate import refuse_entry
    from benchapp.sequences.interlock.least_times import is_under_power
    from benchapp.sequences.language.vocabulary import Supply
    from benchapp.sequences.planning.contents import content_json, read_content

    history = bench.history(unit)
    if any(entry.uuid == uuid for entry in history.entries):
        return _changes(history, unit, uuid, "This was recorded before.")
    grounds = bench.grounds()
    plan, at = bench.plan_of(history, bench.workshop_of(grounds)), bench.now(history)
    walk, day = UnitHistory(plan, history.entries), day_as_of(grounds.day, at)
    before = look(walk, at=at)
    said = compose(EntryContext(plan=plan, engine=before, history=history, day=day, at=at))
    refuse_long_texts(said.content)
    entry = Entry(
        number=len(history.entries) + 1,
        uuid=uuid,
        kind=said.kind,
        at=at,
        by=by,
        address=said.address,
        content=said.content,
        chain=history.unit,
        run=history.run.uuid,
        cites=grounds.cites,
    )
    step = plan.by_address.get(entry.address)
    supply = step.supply if step is not None else Supply.none
    if seen is not None and (second := refuse_second_answer(unit, before.withdrawn, history.entries, entry, seen)):
        raise Refused(second)
    complaint = refuse_by_the_day(day, entry.content, supply=supply) or refuse_entry(before, entry)
    complaint = complaint or refuse_second(bench, unit, plan, entry)
    if complaint:
        raise _refusal(complaint, before, entry)
    read_content(entry.kind, content_json(entry.content))  # what could not be read back is never written
    entries = (*history.entries, entry)
    after = _state_after(walk, entries, at)
    powered = is_under_power(step, entry)
    bench.workbook.append(unit, entry, summary_after(unit, after, entries), alone=powered)
    bench.just_recorded.keep(entry.uuid, after)
    return _changes(history, unit, uuid, said.words)


def _state_after(walk: "UnitHistory", entries: tuple[Entry, ...], at: str) -> "UnitState":
    """The state to be kept: the history goes on by its last entry where its plan is the one that is kept."""
    from benchapp.sequences.interlock.fold import fold, look, state_of

    kept = as_recorded(walk.plan)
    if kept is not walk.plan:
        return fold(kept, entries, at=at)
    walk.take(entries[-1])
    return state_of(look(walk, at=at))


def _refusal(complaint: str, before: "EngineState", entry: Entry) -> Refused:
    """The refusal to raise: one that time alone takes away says in how many seconds."""
    from benchapp.sequences.interlock.least_times import refuse_hasty, seconds_left

    evaluation = before.evaluation
    if complaint != refuse_hasty(evaluation, entry):
        return Refused(complaint)
    left = seconds_left(evaluation, entry)
    return TooSoon(complaint, left) if left else Refused(complaint)


def _changes(history: History, unit: str, uuid: str, words: str) -> ChangeSet:
    return ChangeSet(lots=frozenset({history.lot}), units=frozenset({unit}), entries=(uuid,), words=words)
