"""Answers: what the technician did, saw or measured at a step, and taking the last of them back."""

from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, EntryContext, record
from benchapp.actions.workbench.sound_currents import sound_currents
from benchapp.sequences.history.probes import is_probe, probe_words
from benchapp.sequences.history.withdrawable import can_be_withdrawn
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entries import Entry, EntryKind, is_of
from benchapp.sequences.planning.entry_contents import UnitPhotosContent, WithdrawalContent
from benchapp.words import say
from benchapp.workbook.record.photos import photos_missing

if TYPE_CHECKING:
    from benchapp.sequences.planning.entries import StepAnswer
    from benchapp.sequences.planning.entry_contents import NoteContent
    from benchapp.sequences.planning.planned import Plan


def record_answer(
    bench: Bench,
    unit: str,
    address: str,
    given: "StepAnswer",
    *,
    by: str,
    uuid: str | None = None,
    seen: int | None = None,
) -> ChangeSet:
    """Judge an answer to a step and put it on disk; raises Refused with the engine's sentence.

    Called again with the same `uuid` it records nothing twice. `seen` as for `record`.
    """

    given = with_siblings(bench, unit, address, given)

    def compose(now: EntryContext) -> Composed:
        from benchapp.sequences.answering.evaluate import evaluate
        from benchapp.sequences.kinds.ask import AskAnswer

        tried = evaluate(now.plan, now.answering, address, given, at=now.at)
        if tried.content is None:
            raise Refused(tried.complaint or "")
        _refuse_missing_photos(bench, tried.content)
        asked = isinstance(given, AskAnswer) and tried.questions
        words = " ".join((tried.sentence or tried.judgement, *(tried.questions if asked else ())))
        return Composed(kind=EntryKind.answer, address=address, content=tried.content, words=words)

    return record(bench, unit, compose, by=by, uuid=uuid, seen=seen)


def with_siblings(bench: Bench, unit: str, address: str, given: "StepAnswer") -> "StepAnswer":
    """A current of first power with what sound units of the lot drew; any other answer as it is."""
    from dataclasses import replace

    from benchapp.sequences.answering.readings import ReadingAnswer

    if not isinstance(given, ReadingAnswer):
        return given
    return replace(given, siblings=sound_currents(bench, unit, address))


def _refuse_missing_photos(bench: Bench, content: Content) -> None:
    from benchapp.sequences.kinds.photo import PhotoContent

    if isinstance(content, PhotoContent) and (missing := photos_missing(bench.workbook.store, content.photos)):
        raise Refused(
            say(
                "The photo {missing} is not in this workbook: a photo is recorded only with its picture. "
                "Choose the photo again, then record it.",
                missing=missing[0][:8],
            )
        )


def withdraw_answer(bench: Bench, unit: str, *, by: str, number: int | None = None, why: str = "") -> ChangeSet:
    """Take back an answer (the unit's last one when no number is given) or a probe; the entry itself stays."""

    def compose(now: EntryContext) -> Composed:
        taken = _answer_to_withdraw(now, unit, number)
        content = WithdrawalContent(number=taken.number, why=why)
        words = _taken_back(now.plan, taken, unit)
        return Composed(kind=EntryKind.withdrawal, address=taken.address, content=content, words=words)

    return record(bench, unit, compose, by=by)


def _taken_back(plan: "Plan", taken: Entry, unit: str) -> str:
    """What the person is told, by what was taken back."""
    from benchapp.sequences.planning.step_names import reading_name

    if is_probe(taken):
        return _probe_taken_back(taken, unit)
    if is_of(taken, UnitPhotosContent):
        return say(
            "Taken back: {count} photo(s) of {unit}, still in the record.", count=len(taken.content.photos), unit=unit
        )
    step = plan.by_address.get(taken.address)
    name = reading_name(plan.circuit, step) if step is not None else taken.address
    return say("Taken back: the answer at {step} of {unit}. It stays in the record.", step=name, unit=unit)


def _probe_taken_back(taken: "Entry[NoteContent]", unit: str) -> str:
    return say(
        "Taken back: {probe}, of {unit}. The search goes by it no longer; it stays in the record.",
        probe=probe_words(taken),
        unit=unit,
    )


def _answer_to_withdraw(now: EntryContext, unit: str, number: int | None) -> Entry:
    standing = [
        entry
        for entry in now.history.entries
        if (entry.kind is EntryKind.answer or (number is not None and can_be_withdrawn(entry)))
        and entry.number not in now.engine.withdrawn
        and number in (None, entry.number)
    ]
    if not standing:
        which = "no answer" if number is None else say("no standing answer {number}", number=number)
        raise Refused(say("{unit} has {which} that could be withdrawn.", unit=unit, which=which))
    return standing[-1]
