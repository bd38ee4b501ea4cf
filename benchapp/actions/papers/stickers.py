"""Stickers of units: which unit it is, and nothing that its record says of it, so that held units get one too.

A sticker is no tag: none is recorded as printed.
"""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.papers.dates import dates_as, day
from benchapp.actions.papers.file_writing import refuse_place, write_whole
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.titles import titled
from benchapp.paper.content import PaperKind, StickerContent, unit_code
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.paper.tags.labels import LabelSheet

USUAL_STICKERS = "a4-3-by-8"


def export_stickers(
    bench: Bench, *, out: Path, units: Sequence[str], sheet: str = USUAL_STICKERS, start_at: int = 1, copies: int = 1
) -> ChangeSet:
    """A sheet of stickers as PDF; `sheet` is a label sheet's id, `start_at` its first free label.

    `copies` of each unit stand beside each other. Raises NotInWorkbook, ExportProblem, PaperProblem; then no file is
    left.
    """
    from benchapp.paper.tags.labels import read_label_sheet

    refuse_place(out, PaperKind.STICKERS)
    pdf = stickers_as_pdf(bench, units, read_label_sheet(sheet), start_at=start_at, copies=copies)
    write_whole(out, pdf, PaperKind.STICKERS)
    words = say("{count} sticker(s) (is|are) in {out}.", count=len(units) * copies, out=out)
    return ChangeSet(units=frozenset(units), files=(out,), words=words)


def stickers_as_pdf(
    bench: Bench,
    units: Iterable[str],
    sheet: "LabelSheet",
    *,
    start_at: int = 1,
    copies: int = 1,
    shift: tuple[float, float] = (0.0, 0.0),
) -> bytes:
    """The document of the units' stickers: the one that is exported and printed."""
    from benchapp.paper.tags.sheets import sticker_sheet

    each = [sticker for sticker in sticker_contents(bench, units) for _ in range(copies)]
    return sticker_sheet(each, sheet, start_at=start_at, shift=shift)


def sticker_contents(bench: Bench, units: Iterable[str]) -> tuple[StickerContent, ...]:
    """What the stickers of these units carry; raises NotInWorkbook."""
    with dates_as(bench.workshop.dates):
        return tuple(
            StickerContent(
                shelf_mark=unit.mark,
                title=unit.title,
                lot=unit.lot,
                taken_in=day(bench.workbook.runs(unit.mark)[0].started),
                code=unit_code(unit.mark, unit.record_hash),
            )
            for unit in titled(bench, tuple(map(bench.unit, units)))
        )
