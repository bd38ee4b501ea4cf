"""What a unit's tag carries, composed from its record as it stands."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from benchapp.actions.papers.dates import dates_as, day
from benchapp.actions.papers.disposition_words import disposition_words, hazard_cautions, tag_cautions, tested_stages
from benchapp.actions.papers.fact_words import fuse_words
from benchapp.actions.papers.reading_words import band_words, reading_words
from benchapp.actions.workbench.bench import Bench
from benchapp.paper.content import TagContent, TagReading, Tone, unit_code
from benchapp.sequences.history.repairs import part_words
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.answer_content import is_answer
from benchapp.sequences.planning.entries import Entry, EntryKind, is_of
from benchapp.sequences.planning.entry_contents import RepairContent
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, on_tag
from benchapp.sequences.planning.state import FaultStatus, StepStatus
from benchapp.sequences.planning.step_names import reading_name
from benchapp.words import say
from benchapp.workbook.model.values import Unit

if TYPE_CHECKING:
    from benchapp.sequences.planning.answer_content import ReadingContent
    from benchapp.sequences.planning.planned import Plan

MOST_READINGS = 5
"""readings on a tag: more make all of it too small to read at arm's length (own choice)"""
MOST_FAILED = 3
"""what failed, line by line, before the rest is counted (own choice)"""
MOST_REPAIRED = 3
"""parts named as repaired before the rest is counted (own choice)"""
DOES_NOT_HOLD = "Record does not hold, do not use"
NOTICE = "Its record was changed or damaged: nothing that it says counts. A supervisor decides what becomes of it."
TELLING_ROLES = (Role.earth, Role.insulation)


def tag_content(bench: Bench, mark: str) -> TagContent:
    """The tag of one unit as its record stands now, or a notice where that does not hold; raises NotInWorkbook."""
    with dates_as(bench.workshop.dates):
        return _tag_content(bench, mark)


def _tag_content(bench: Bench, mark: str) -> TagContent:
    unit = bench.unit(mark)
    if bench.record_fault(mark, anew=True):
        return _notice(unit)
    history = bench.history(mark)
    plan, state = bench.plan_of(history), bench.state(mark)
    words, tone = disposition_words(plan, state, grade=unit.grade)
    bare = unit.held or bool(hazard_cautions(plan, state))  # beside a hazard nothing else matters to a reader
    tested = () if bare else tested_stages(plan, state)
    if unit.held:  # what its record says may be another unit's, or half of it
        words, tone = "On hold, do not use", Tone.FORBIDDEN
    return TagContent(
        shelf_mark=mark,
        title=plan.equipment.title,
        disposition_words=words,
        tone=tone,
        tested=tested,
        readings=() if bare else key_readings(plan, state),
        failed=_room_for(failed_words(state, history.entries)),
        fuse=fuse_words(state),
        date=tested_on(plan, state) if tested else "",
        initials=_initials(history.entries),
        price=unit.price if tone is Tone.READY or tone is Tone.PARTS else "",
        cautions=tag_cautions(plan, state),
        not_tested=state.not_tested if tested else (),
        repaired=repaired_parts(plan, history.entries) if tested else (),
        code=unit_code(mark, unit.record_hash),
        record_hash=record_start(unit),
    )


def repaired_parts(plan: "Plan", entries: Sequence[Entry]) -> tuple[str, ...]:
    """The parts that were repaired, in words and in order; those past a few are counted."""
    repairs = [entry.content for entry in entries if is_of(entry, RepairContent)]
    names = list(dict.fromkeys(part_words(plan, one.part) for one in repairs))
    more = say("and {more} more", more=len(names) - MOST_REPAIRED) if len(names) > MOST_REPAIRED else ""
    return (*names[:MOST_REPAIRED], *([more] if more else []))


def _notice(unit: Unit) -> TagContent:
    """What is printed in the place of a tag whose record does not hold: nothing of what that record says."""
    return TagContent(
        shelf_mark=unit.mark,
        title=unit.title,
        disposition_words=DOES_NOT_HOLD,
        tone=Tone.FORBIDDEN,
        cautions=(NOTICE,),
        code=unit_code(unit.mark, unit.record_hash),
        record_hash=record_start(unit),
    )


def record_start(unit: Unit) -> str:
    """The start of the record's hash, as it is printed."""
    return unit.record_hash[:12]


def key_readings(plan: "Plan", state: UnitState) -> tuple[TagReading, ...]:
    """The readings that stand, most telling first: earth, insulation, outputs on full mains, limited power.

    Of a unit without mains those are all that were judged.
    """
    steps = [step for step in plan.steps if _tells(plan, step, state)]
    steps.sort(key=_telling_order)
    return tuple(_tag_reading(plan, step, state.readings[step.address]) for step in steps[:MOST_READINGS])


def _tells(plan: "Plan", step: PlannedStep, state: UnitState) -> bool:
    standing = state.steps.get(step.address)
    if step.address not in state.readings or standing is None or standing.status is not StepStatus.done:
        return False
    if not plan.mains_fed:
        return Role.leads not in step.shows
    return bool(step.shows & set(TELLING_ROLES)) or step.supply is not Supply.none


def _telling_order(step: PlannedStep) -> tuple[int, int]:
    for rank, role in enumerate(TELLING_ROLES):
        if role in step.shows:
            return rank, step.position
    outputs = len(TELLING_ROLES)
    if step.supply is Supply.full and Role.mains not in step.shows:
        return outputs, step.position
    return outputs + (1 if Role.mains in step.shows else 2), step.position


def _tag_reading(plan: "Plan", step: PlannedStep, entry: "Entry[ReadingContent]") -> TagReading:
    what = reading_name(plan.circuit, step)
    return TagReading(what=what, value=reading_words(entry.content), band=band_words(entry.content))


def tested_on(plan: "Plan", state: UnitState) -> str:
    """The day of the oldest test that the tag rests on; empty where there is none."""
    tests = (step for step in plan.steps if step.function or on_tag(step.kind) is OnTag.test)
    standing = (step.address for step in tests if state.steps[step.address].status is StepStatus.done)
    times = [state.history[address][-1].at for address in standing if address in state.history]
    return day(min(times)) if times else ""


def failed_words(state: UnitState, entries: tuple[Entry, ...]) -> tuple[str, ...]:
    """What failed and on which day, what says do not use first: open faults, then steps that raised none."""
    days = {entry.number: day(entry.at) for entry in entries}
    said = {entry.number: entry.content.sentence for entry in entries if is_answer(entry)}
    faults = [one for one in state.faults if one.status is not FaultStatus.closed and one.severity != "note"]
    faults.sort(key=lambda one: (one.severity != "do not use", one.entry))
    found = [(one.entry, one.words or one.mode) for one in faults]
    named = {one.entry for one in faults}
    failed = [one for one in state.steps.values() if one.status is StepStatus.failed and one.entry not in named]
    found += [(one.entry, said[one.entry]) for one in failed if one.entry in said]
    return tuple(f"{days[number]}: {words.rstrip('.')}." for number, words in found)


def _room_for(lines: tuple[str, ...]) -> tuple[str, ...]:
    """As many as a tag has room for, the rest counted."""
    more = len(lines) - MOST_FAILED
    return (*lines[:MOST_FAILED], *((say("and {more} more on the record sheet.", more=more),) if more > 0 else ()))


def _initials(entries: tuple[Entry, ...]) -> str:
    """Who answers for what the tag says: who set the disposition, else who recorded last."""
    signed = [entry.by for entry in entries if entry.kind is EntryKind.disposition]
    return signed[-1] if signed else (entries[-1].by if entries else "")
