"""Tags and record sheets: content from the entries, pages from `paper`, files written whole or not at all."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.papers.file_names import names_of_marks
from benchapp.actions.papers.file_writing import refuse_place, write_whole
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import ExportProblem
from benchapp.errors import Cancelled
from benchapp.words import say
from benchapp.workbook.model.problems import Held
from benchapp.workbook.model.values import TagPrinted

if TYPE_CHECKING:
    from benchapp.paper.content import TagContent
    from benchapp.paper.tags.labels import LabelSheet

Progress = Callable[[int, int], None]
Cancel = Callable[[], bool]
USUAL_SHEET = "a4-2-by-4"


def preview_tag(bench: Bench, unit: str) -> "TagContent":
    """What the unit's tag says as its record stands now."""
    from benchapp.actions.papers.tag_content import tag_content

    return tag_content(bench, unit)


def export_tags(
    bench: Bench,
    *,
    out: Path,
    lot: str | None = None,
    units: Sequence[str] = (),
    sheet: str | None = None,
    start_at: int = 1,
    copies: int = 1,
    by: str = "",
    progress: Progress | None = None,
    cancelled: Cancel | None = None,
) -> ChangeSet:
    """A sheet of tags as PDF, for a lot or for units; `sheet` is a label sheet's id, `start_at` its first free label.

    `copies` tags of each unit stand beside each other. The record keeps that they were printed. Units that are on hold
    by themselves are left out, and named. Raises Held where all are, ExportProblem, PaperProblem, Cancelled; then no
    file is left.
    """
    from benchapp.paper.content import PaperKind
    from benchapp.paper.tags.labels import read_label_sheet

    marks, left_out = units_to_print(bench, tuple(units), bench.lot(lot).name if lot else None)
    refuse_place(out, PaperKind.TAGS)
    bench.workbook.refuse_looking()
    counted = _counted(marks, "Printing tags", progress, cancelled)
    tags, pdf = tags_as_pdf(bench, counted, read_label_sheet(sheet or USUAL_SHEET), start_at=start_at, copies=copies)
    write_whole(out, pdf, PaperKind.TAGS)
    bench.write(partial(bench.workbook.add_tags_printed, printed_rows(bench, tags, by=by)))
    words = f"{_counted_words(len(tags) * copies, 'tag')} in {out}.{left_out}"
    return ChangeSet(units=frozenset(marks), files=(out,), words=words)


def tags_as_pdf(
    bench: Bench,
    units: Iterable[str],
    sheet: "LabelSheet",
    *,
    start_at: int = 1,
    copies: int = 1,
    shift: tuple[float, float] = (0.0, 0.0),
) -> "tuple[tuple[TagContent, ...], bytes]":
    """The units' tags as their records stand now, and the document of them: the one that is exported and printed."""
    from benchapp.paper.tags.sheets import tag_sheet

    tags = tuple(preview_tag(bench, mark) for mark in units)
    each = [tag for tag in tags for _ in range(copies)]
    return tags, tag_sheet(each, sheet, start_at=start_at, shift=shift)


def printed_rows(bench: Bench, tags: "Sequence[TagContent]", *, by: str) -> tuple[TagPrinted, ...]:
    """What is recorded of tags that were put on paper now."""
    at = bench.clock()
    return tuple(
        TagPrinted(unit=tag.shelf_mark, at=at, by=by, disposition=tag.disposition_words, record_hash=tag.record_hash)
        for tag in tags
    )


def units_to_print(bench: Bench, units: tuple[str, ...], lot: str | None) -> tuple[tuple[str, ...], str]:
    """The units to print tags for, and a sentence on those that are left out.

    Raises Held where all of them are on hold by themselves, ExportProblem where there are none.
    """
    there = tuple(map(bench.unit, units)) if units else bench.units(lot)
    if not there:
        raise ExportProblem(say("There are no units to print tags for. Take in a lot first."))
    held = [unit.mark for unit in there if unit.held]
    if held and len(held) == len(there):
        raise Held(there[0].mark, say("{held} Do not use it; no tag is printed.", held=there[0].held))
    words = say(" Left out, since on hold: {listed}. Do not use them.", listed=", ".join(held)) if held else ""
    return tuple(unit.mark for unit in there if not unit.held), words


def export_record_sheet(bench: Bench, unit: str, *, out: Path, page: str = "A4") -> ChangeSet:
    """The printed proof behind a unit's tag, as PDF."""
    from benchapp.actions.papers.record_content import record_content
    from benchapp.paper.content import PaperKind
    from benchapp.paper.sheets.record import record_sheet

    refuse_place(out, PaperKind.RECORD)
    write_whole(out, record_sheet(record_content(bench, unit), page=page), PaperKind.RECORD)
    return ChangeSet(
        units=frozenset({unit}), files=(out,), words=say("The record of {unit} is in {out}.", unit=unit, out=out)
    )


def export_record_sheets(
    bench: Bench,
    *,
    lot: str,
    folder: Path,
    page: str = "A4",
    progress: Progress | None = None,
    cancelled: Cancel | None = None,
) -> ChangeSet:
    """One record sheet per unit of a lot, each named by its shelf mark, into a folder."""
    from benchapp.paper.content import PaperKind

    marks = [unit.mark for unit in bench.units(bench.lot(lot).name)]
    names = names_of_marks(unit.mark for unit in bench.units())
    outs = {mark: folder / f"{names[mark]}.pdf" for mark in marks}
    for out in outs.values():
        refuse_place(out, PaperKind.RECORD)
    files: list[Path] = []
    for mark in _counted(marks, "Printing record sheets", progress, cancelled):
        files += export_record_sheet(bench, mark, out=outs[mark], page=page).files
    words = f"{_counted_words(len(files), 'record sheet')} in {folder}."
    return ChangeSet(units=frozenset(marks), files=tuple(files), words=words)


def _counted(marks: Sequence[str], what: str, progress: Progress | None, cancelled: Cancel | None) -> Iterator[str]:
    """The marks one by one, telling how far it is; raises Cancelled when told to stop."""
    for number, mark in enumerate(marks):
        if cancelled is not None and cancelled():
            raise Cancelled(what)
        yield mark
        if progress is not None:
            progress(number + 1, len(marks))


def _counted_words(number: int, what: str) -> str:
    return f"1 {what} is" if number == 1 else f"{number} {what}s are"
