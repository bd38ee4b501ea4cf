"""The texts that the runs of a workbook pinned: looser ones are differences, a workshop's own are named."""

from collections.abc import Iterator
from pathlib import Path

from benchapp.actions.workbench.plans import workshop_from
from benchapp.errors import BenchError
from benchapp.files.locations import Complaint
from benchapp.sequences.checks.pinned_texts import looser_than_shipped, was_shipped
from benchapp.sequences.planning.catalogue import Catalogue, catalogue_from_texts
from benchapp.sequences.planning.own_texts import own_texts
from benchapp.words import say
from benchapp.workbook.model.values import Difference, Run
from benchapp.workbook.opened.workbook import Workbook


def notes_on_pinned_texts(path: Path) -> tuple[str, ...]:
    """What to say of the pinned texts of a workbook that holds: the workshop's own, milder ones of earlier releases.

    Changes nothing. Raises WorkbookProblem.
    """
    workbook = Workbook.look_at(path)
    try:
        return tuple(dict.fromkeys(_notes(workbook)))
    finally:
        workbook.close()


def looser_pins(workbook: Workbook) -> Iterator[Difference]:
    """A difference for each unit whose run pinned texts that are looser than what this program ships."""
    for run, pinned, marks in _pinned(workbook):
        found = [one for one in _looser(run, pinned) if not was_shipped(pinned.texts[one.location.file])]
        for mark in marks if found else ():
            more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
            words = say(
                "The texts pinned for {mark} are looser than what this program ships: {found}{more}.",
                mark=mark,
                found=found[0],
                more=more,
            )
            yield Difference(unit=mark, entry=None, words=words)


def _looser(run: Run, pinned: Catalogue) -> tuple[Complaint, ...]:
    return looser_than_shipped(pinned, workshop_from(run.workshop).region)


def _notes(workbook: Workbook) -> Iterator[str]:
    for run, pinned, marks in _pinned(workbook):
        units = f"{marks[0]} and {len(marks) - 1} more" if len(marks) > 1 else marks[0]
        for own in own_texts(pinned):
            yield say("{units}: by this workshop's own {words}.", units=units, words=own.words)
        for one in _looser(run, pinned):
            if was_shipped(pinned.texts[one.location.file]):
                yield say(
                    "{units}: judged by the figures of an earlier release, as they were pinned: {one}.",
                    units=units,
                    one=one,
                )


def _pinned(workbook: Workbook) -> Iterator[tuple[Run, Catalogue, tuple[str, ...]]]:
    """A run for each set of texts that was pinned, its catalogue, and the units whose runs pinned the same.

    Texts that cannot be read are complained about where judgements are computed again.
    """
    alike: dict[tuple[object, ...], list[Run]] = {}
    for unit in workbook.units():
        for run in workbook.runs(unit.mark):
            key = (workshop_from(run.workshop).region, *sorted(run.texts.items()))
            alike.setdefault(key, []).append(run)
    for runs in alike.values():
        try:
            pinned = catalogue_from_texts(workbook.pinned_texts(runs[0]))
        except BenchError:
            continue
        yield runs[0], pinned, tuple(dict.fromkeys(run.unit for run in runs))
