"""What a unit's record sheet carries: every entry of its history, withdrawn ones too, with what each rests on."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, TypeAlias

from benchapp.actions.papers.budget_content import budget_content, meter_cautions
from benchapp.actions.papers.caution_words import cautions_read, hazards_on_record
from benchapp.actions.papers.dates import dates_as, day_and_time
from benchapp.actions.papers.disposition_words import disposition_words, tag_cautions
from benchapp.actions.papers.fact_words import fact_words
from benchapp.actions.papers.reading_words import (
    band_and_expected_words,
    last_digit,
    reading_words,
    source_words,
    uncertainty_words,
)
from benchapp.actions.papers.tag_content import DOES_NOT_HOLD, NOTICE, failed_words
from benchapp.actions.workbench.against_siblings import beside_siblings, sibling_sentences, siblings_of
from benchapp.actions.workbench.bench import Bench
from benchapp.paper.content import (
    Fact,
    FaultLine,
    Finding,
    RecordPhoto,
    RecordRow,
    RecordSection,
    RecordSheet,
    RepairLine,
    Signature,
    Tone,
    unit_code,
)
from benchapp.sequences.history.repairs import part_words
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent, is_answer, is_reading
from benchapp.sequences.planning.chain_contents import MovedContent, UnitBeginning
from benchapp.sequences.planning.entries import Entry, EntryKind, is_of
from benchapp.sequences.planning.entry_contents import (
    FalseAlarmContent,
    OpenedContent,
    RepairContent,
    UnitPhotosContent,
)
from benchapp.sequences.planning.state import FaultState, FaultStatus, StepStatus
from benchapp.sequences.planning.step_names import name_within, reading_name, step_name
from benchapp.words import say
from benchapp.workbook.model.values import Run, Unit
from benchapp.workbook.record.photos import read_photo

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan

FINDINGS = {
    "pass": Finding.GOOD,
    "conditional pass": Finding.CONDITIONAL,
    "conditional fail": Finding.CONDITIONAL,
    "fail": Finding.BAD,
}
Beside: TypeAlias = Callable[[Entry[ReadingContent]], tuple[str, ...]]
"""How a reading sits among those of its lot, in sentences."""
SUPPLY_WORDS = {Supply.none: "none", Supply.limited: "limited", Supply.full: "full mains"}


def record_content(bench: Bench, mark: str) -> RecordSheet:
    """The record of one unit as it stands now, or a notice where it does not hold; raises NotInWorkbook."""
    with dates_as(bench.workshop.dates):
        return _record_content(bench, mark)


def _record_content(bench: Bench, mark: str) -> RecordSheet:
    unit = bench.unit(mark)
    if fault := bench.record_fault(mark, anew=True):
        return _notice(bench, unit, fault)
    history = bench.history(mark)
    plan, state = bench.plan_of(history), bench.state(mark)
    words, tone = disposition_words(plan, state, grade=unit.grade)
    return RecordSheet(
        shelf_mark=mark,
        equipment=plan.equipment.title,
        lot=unit.lot,
        disposition_words=words,
        tone=tone,
        facts=(*_facts(unit, history.run, state), *_known(bench, mark)),
        sections=_sections(plan, state, history.entries, partial(_beside, bench, unit)),
        budgets=budget_content(history.entries),
        faults=_faults(plan, state, history.entries),
        repairs=(*_repairs(plan, history.entries), *_openings(plan, history.entries)),
        failed=failed_words(state, history.entries),
        not_tested=state.not_tested,
        cautions=(*_looser(plan), *tag_cautions(plan, state), *meter_cautions(history.entries)),
        cautions_read=cautions_read(plan, history.entries),
        hazards=hazards_on_record(plan, state, history.entries),
        own_texts=tuple(one.words for one in plan.own_texts),
        meters=_meters(plan, history.entries),
        hashes=_hashes(bench, unit, history.run),
        signatures=_signatures(history.entries),
        photos=tuple(_photos(bench, plan, state, history.entries)),
        printed=day_and_time(bench.clock()),
        code=unit_code(mark, unit.record_hash),
    )


def _looser(plan: "Plan") -> tuple[str, ...]:
    return (plan.looser,) if plan.looser else ()


def _known(bench: Bench, mark: str) -> tuple[Fact, ...]:
    """What was known of the unit when it came, as its beginning says; and why it was put into another lot."""
    entries = bench.workbook.entries(mark, after=-1)
    content = entries[0].content
    known = content.known if isinstance(content, UnitBeginning) else {}
    moved = tuple(
        Fact(name=say("Put into another lot"), value=f"{day_and_time(entry.at)}, {entry.by}: {entry.content.why}")
        for entry in entries
        if is_of(entry, MovedContent)
    )
    return (*(Fact(name=name.capitalize(), value=value) for name, value in known.items()), *moved)


def _facts(unit: Unit, run: Run, state: UnitState) -> tuple[Fact, ...]:
    own = [(name.capitalize(), fact_words(name, value)) for name, value in sorted(state.facts.items()) if value != ""]
    first = [
        (say("Equipment"), unit.equipment),
        (say("Lot"), unit.lot),
        (say("Route"), f"{run.route}, run {run.number}"),
        (say("Run begun"), day_and_time(run.started)),
        (say("Price"), unit.price),
    ]
    return tuple(Fact(name=name, value=value) for name, value in [*first, *own] if value)


def _beside(bench: Bench, unit: Unit, entry: Entry[ReadingContent]) -> tuple[str, ...]:
    """How the reading sits among those of its lot on the day of printing; paper says nothing of too few."""
    siblings = siblings_of(bench.workbook, unit.lot, unit.equipment, unit.mark, entry.address)
    beside = beside_siblings(siblings, entry.content, step=last_digit(entry.content))
    return sibling_sentences(beside, entry.content) if beside.read is not None and beside.read.telling else ()


def _sections(plan: "Plan", state: UnitState, entries: Sequence[Entry], beside: Beside) -> tuple[RecordSection, ...]:
    """One section a stage in the route's order, then the way back, then what an earlier revision asked."""
    status = {stage.id: str(stage.status) for stage in state.stages}
    answers: dict[str, list[Entry[AnswerContent]]] = {}
    for entry in entries:
        if is_answer(entry):
            step = plan.by_address.get(entry.address)
            place = "" if step is None else ("way back" if step.way_back else step.stage)
            answers.setdefault(place, []).append(entry)
    titles = [(stage.id, stage.title, SUPPLY_WORDS[stage.supply]) for stage in plan.stages]
    titles += [
        ("way back", say("The way back, each time it was gone"), ""),
        ("", say("Asked by an earlier revision"), ""),
    ]
    return tuple(
        RecordSection(
            title=title,
            supply=supply,
            status=status.get(place, ""),
            rows=tuple(_row(plan, state, entry, beside) for entry in answers[place]),
        )
        for place, title, supply in titles
        if place in answers
    )


def _row(plan: "Plan", state: UnitState, entry: Entry[AnswerContent], beside: Beside) -> RecordRow:
    content, step = entry.content, plan.by_address.get(entry.address)
    row = RecordRow(
        number=str(entry.number),
        step=reading_name(plan.circuit, step) if step else entry.address,
        reading=content.words,
        when=day_and_time(entry.at),
        by=entry.by,
        judgement=content.judgement.value,
        finding=FINDINGS.get(content.judgement, Finding.NOT_JUDGED),
        note=content.note,
        lapse=_lapse(state, entry),
    )
    return _with_reading(row, entry, beside) if is_reading(entry) else row


def _with_reading(row: RecordRow, entry: Entry[ReadingContent], beside: Beside) -> RecordRow:
    content = entry.content
    return replace(
        row,
        reading=reading_words(content),
        band=band_and_expected_words(content),
        uncertainty=uncertainty_words(content),
        # the meter, with a sign where the cautions of the sheet say something of it
        meter=f"{content.meter} ⚠" if content.meter and content.meter_cautions else content.meter,
        derivation=content.derivation,
        corrections=content.corrections,
        cautions=content.cautions,
        siblings=beside(entry),
        note="; ".join(words for words in (source_words(content), content.note) if words),
    )


def _lapse(state: UnitState, entry: Entry) -> str:
    if entry.number in state.withdrawn:
        return "withdrawn"
    here = state.steps.get(entry.address)
    history = state.history.get(entry.address, ())
    if history and history[-1].number != entry.number:
        return "superseded"
    return "stale" if here is not None and here.status is StepStatus.stale else ""


def _faults(plan: "Plan", state: UnitState, entries: Sequence[Entry]) -> tuple[FaultLine, ...]:
    by_number = {entry.number: entry for entry in entries}
    return tuple(
        FaultLine(
            when=day_and_time(by_number[fault.entry].at),
            by=by_number[fault.entry].by,
            part=part_words(plan, fault.part) if fault.part else "",
            words=fault.words or fault.mode,
            state=_fault_state(fault, by_number),
        )
        for fault in state.faults
    )


def _fault_state(fault: FaultState, by_number: Mapping[int, Entry]) -> str:
    said = by_number[fault.false_alarm].content if fault.false_alarm else None
    if isinstance(said, FalseAlarmContent):
        return say("{status}: a false alarm: {reason}", status=fault.status, reason=said.reason)
    if fault.taken_back and fault.repair is None:
        again = "until somebody looks again" if fault.status is FaultStatus.open else "looked at again"
        return say("{status}: its answer was taken back, {again}", status=fault.status, again=again)
    return str(fault.status) + (say(", see repair {repair}", repair=fault.repair) if fault.repair else "")


def _repairs(plan: "Plan", entries: Sequence[Entry]) -> tuple[RepairLine, ...]:
    return tuple(
        RepairLine(
            when=day_and_time(entry.at),
            by=entry.by,
            part=part_words(plan, said.part) if said.part else "",
            words=f"{entry.number}: {said.done}",
            opened=", ".join(said.opened) or "nothing",
            parts_used=", ".join(part.words for part in said.parts_used),
            retested=_retested(plan, entry, entries),
        )
        for entry in entries
        if isinstance(said := entry.content, RepairContent)
    )


def _openings(plan: "Plan", entries: Sequence[Entry]) -> tuple[RepairLine, ...]:
    """What was opened to look, in the table of repairs: what rests on it was taken again as after one."""
    return tuple(
        RepairLine(
            when=day_and_time(entry.at),
            by=entry.by,
            part="",
            words=say("{number}: opened to look", number=entry.number) + (f": {said.why}" if said.why else ""),
            opened=", ".join(said.opened),
            retested=_retested(plan, entry, entries),
        )
        for entry in entries
        if isinstance(said := entry.content, OpenedContent)
    )


def _retested(plan: "Plan", repair: Entry, entries: Sequence[Entry]) -> str:
    """Steps answered before the repair and again after it, stage by stage: "Continuity: earth continuity, primary"."""
    before = {e.address for e in entries if e.kind is EntryKind.answer and e.number < repair.number}
    after = [e.address for e in entries if e.kind is EntryKind.answer and e.number > repair.number]
    again = dict.fromkeys(address for address in after if address in before)
    stages = [
        (stage.title, dict.fromkeys(name_within(step) for step in stage.steps if step.address in again))
        for stage in plan.stages
    ]
    return "; ".join(f"{title}: {', '.join(names)}" for title, names in stages if names)


def _meters(plan: "Plan", entries: Sequence[Entry]) -> tuple[Fact, ...]:
    """Each meter that gave a reading, with what its record said of its calibration on the day it was last used."""
    from datetime import date

    last: dict[str, str] = {}
    for entry in entries:
        if is_reading(entry) and entry.content.meter:
            last[entry.content.meter] = entry.at
    return tuple(
        Fact(
            name=f"{meter}, {plan.meters[meter].title}" if meter in plan.meters else meter,
            value=plan.meters[meter].calibration_words(date.fromisoformat(at[:10]))
            if meter in plan.meters
            else "no record of it in this run",
        )
        for meter, at in sorted(last.items())
    )


def _notice(bench: Bench, unit: Unit, fault: str) -> RecordSheet:
    """What is printed in the place of a record that does not hold: what was found, and nothing of what it says."""
    return RecordSheet(
        shelf_mark=unit.mark,
        equipment=unit.title,
        lot=unit.lot,
        disposition_words=DOES_NOT_HOLD,
        tone=Tone.FORBIDDEN,
        cautions=(NOTICE, fault),
        printed=day_and_time(bench.clock()),
        code=unit_code(unit.mark, unit.record_hash),
    )


def _hashes(bench: Bench, unit: Unit, run: Run) -> tuple[Fact, ...]:
    record = Fact(name=f"Record, {unit.last_entry} entries", value=unit.record_hash)
    heads = [
        Fact(name=say("Record of {name}, {number} entries", name=one.name, number=one.number), value=one.sha256)
        for one in bench.workbook.foundations()
    ]
    return (record, *heads, *(Fact(name=name, value=sha256) for name, sha256 in sorted(run.texts.items())))


def _photos(bench: Bench, plan: "Plan", state: UnitState, entries: Sequence[Entry]) -> Iterator[RecordPhoto]:
    """Every photo that an entry names, also of an entry that no longer counts."""
    from benchapp.sequences.kinds.photo import PhotoContent

    for entry in entries:
        said = entry.content
        if isinstance(said, PhotoContent | UnitPhotosContent):
            words = ", ".join(one for one in (_photo_words(plan, entry), _lapse(state, entry)) if one)
            for link in said.photos:
                yield RecordPhoto(
                    words=f"{entry.number}: {words}",
                    image=read_photo(bench.workbook.store, link) or b"",
                    of_unit=str(entry.number) if isinstance(said, UnitPhotosContent) else "",
                )


def _photo_words(plan: "Plan", entry: Entry) -> str:
    """The step that asked for the photo; of one that belongs to no step, what it shows."""
    if is_of(entry, UnitPhotosContent):
        return entry.content.note or say("of the unit, {when}", when=day_and_time(entry.at))
    step = plan.by_address.get(entry.address)
    return step_name(step) if step else entry.address


def _signatures(entries: Sequence[Entry]) -> tuple[Signature, ...]:
    """A sign-off already given in the record stands on its line; the supervisor signs on paper."""
    signed = [entry for entry in entries if entry.kind is EntryKind.disposition]
    given = Signature(role=say("Disposition set by"))
    if signed:
        given = Signature(role=say("Disposition set by"), name=signed[-1].by, when=day_and_time(signed[-1].at))
    return given, Signature(role=say("Supervisor"))
