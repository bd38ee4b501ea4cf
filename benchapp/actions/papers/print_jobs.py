"""Papers on their way to a printer: the sheets there are, what one print consists of, and its entry once it is out.

What is printed is the document that an export writes, to the byte. A printer is asked for the job's own paper.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from typing import TYPE_CHECKING

from benchapp.actions.papers.printing import USUAL_SHEET, printed_rows, tags_as_pdf, units_to_print
from benchapp.actions.papers.stickers import USUAL_STICKERS, stickers_as_pdf
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.words import say
from benchapp.workbook.model.values import TagPrinted

if TYPE_CHECKING:
    from benchapp.paper.drawing.marks import DrawnPage
    from benchapp.paper.tags.labels import LabelSheet

MOST_COPIES = 20
"""of one paper in one go (own choice)"""
MM_PER_POINT = 25.4 / 72


class Paper(StrEnum):
    """What can be printed."""

    TAGS = "tags"
    STICKERS = "stickers"
    RECORD = "record sheet"
    PIN_CARD = "pin card"

    @property
    def on_labels(self) -> bool:
        """Whether it is printed on label sheets and rolls, several units on one; else on a page for one unit."""
        return self in (Paper.TAGS, Paper.STICKERS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet to print on, in millimetres; a roll has no height. `labels` are left, top, width, height of each."""

    id: str
    title: str
    width: float
    height: float | None
    labels: tuple[tuple[float, float, float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What is to be printed, for which units, on which sheet, how."""

    paper: Paper
    units: tuple[str, ...]
    sheet: str
    start_at: int = 1
    """the first free label; 1 is the first"""
    copies: int = 1
    shift: tuple[float, float] = (0.0, 0.0)
    """millimetres to the right and down"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintJob:
    """One document for one kind of paper, `width` x `height` millimetres; `tags` say what it puts on paper."""

    title: str
    pdf: bytes
    width: float
    height: float
    copies: int = 1
    tags: tuple[TagPrinted, ...] = ()


def sheets_for(paper: Paper) -> tuple[Sheet, ...]:
    """The sheets that a paper can be printed on, the usual one first."""
    if not paper.on_labels:
        from benchapp.paper.sheets.pages import SIZES

        points = {name: (width * MM_PER_POINT, height * MM_PER_POINT) for name, (width, height) in SIZES.items()}
        return tuple(Sheet(id=name, title=name, width=w, height=h) for name, (w, h) in points.items())
    from benchapp.files.beside import files_by_id
    from benchapp.paper.tags.labels import read_label_sheet

    usual = USUAL_SHEET if paper is Paper.TAGS else USUAL_STICKERS
    names = sorted(files_by_id("label sheet"), key=lambda name: (name != usual, name))
    sheets = [read_label_sheet(name) for name in names]
    return tuple(_as_sheet(one) for one in sheets if one.holds_tags or paper is Paper.STICKERS)


def _as_sheet(sheet: "LabelSheet") -> Sheet:
    high = sheet.label_height
    places = () if high is None else tuple(sheet.place(position) for position in range(sheet.per_page))
    return Sheet(
        id=sheet.label_sheet,
        title=sheet.title,
        width=sheet.page.width,
        height=sheet.page.height,
        labels=tuple((left, top, sheet.label_width, high or 0.0) for left, top in places),
    )


def print_jobs(bench: Bench, wish: Wish) -> tuple[PrintJob, ...]:
    """The documents of a wish: one, or on a roll one for each label, since each is as long as it needs.

    Raises Held where no unit's tag may be printed, ExportProblem, PaperProblem.
    """
    bench.workbook.refuse_looking()
    if not wish.paper.on_labels:
        return (_sheet_job(bench, wish),)
    from benchapp.paper.tags.labels import read_label_sheet

    marks = units_to_print(bench, wish.units, None)[0] if wish.paper is Paper.TAGS else wish.units
    sheet = read_label_sheet(wish.sheet)
    if sheet.continuous:
        each = [replace(wish, units=(mark,), copies=1) for mark in marks]
        return tuple(replace(_label_job(bench, one, sheet), copies=wish.copies) for one in each)
    return (_label_job(bench, replace(wish, units=marks), sheet),)


def _label_job(bench: Bench, wish: Wish, sheet: "LabelSheet") -> PrintJob:
    """One document of labels. Stickers leave no trace in the workbook: they are no tags."""
    if wish.paper is Paper.STICKERS:
        pdf = stickers_as_pdf(bench, wish.units, sheet, start_at=wish.start_at, copies=wish.copies, shift=wish.shift)
        return _job(_title("Sticker", wish.units), pdf)
    tags, pdf = tags_as_pdf(bench, wish.units, sheet, start_at=wish.start_at, copies=wish.copies, shift=wish.shift)
    return _job(_title("Tag", wish.units), pdf, tags=printed_rows(bench, tags, by=""))


def _title(what: str, units: Sequence[str]) -> str:
    return f"{what} {units[0]}" if len(units) == 1 else f"{what}s {units[0]} to {units[-1]}"


def _sheet_job(bench: Bench, wish: Wish) -> PrintJob:
    unit = wish.units[0]
    if wish.paper is Paper.RECORD:
        from benchapp.actions.papers.record_content import record_content
        from benchapp.paper.sheets.record import record_sheet

        pdf = record_sheet(record_content(bench, unit), page=wish.sheet)
    else:
        from benchapp.actions.papers.pin_cards import pin_card_of_unit
        from benchapp.paper.sheets.pin_cards import pin_card

        pdf = pin_card(pin_card_of_unit(bench, unit), page=wish.sheet)
    return replace(_job(f"{wish.paper} {unit}", pdf), copies=wish.copies)


def alignment_job(sheet: str, shift: tuple[float, float]) -> PrintJob:
    """A test print for a label sheet, to be measured with a ruler."""
    from benchapp.paper.tags.alignment import alignment_page
    from benchapp.paper.tags.labels import read_label_sheet

    return _job("Test print", alignment_page(read_label_sheet(sheet), shift=shift))


def _job(title: str, pdf: bytes, tags: tuple[TagPrinted, ...] = ()) -> PrintJob:
    from benchapp.paper.drawing.pictures import page_sizes

    width, height = page_sizes(pdf)[0]
    return PrintJob(title=title, pdf=pdf, width=width * MM_PER_POINT, height=height * MM_PER_POINT, tags=tags)


def pages_of(pdf: bytes) -> "tuple[DrawnPage, ...]":
    """The pages of a document as lines, letters and curves, for a printer that is painted on."""
    from benchapp.paper.drawing.page_reader import drawn_pages

    return drawn_pages(pdf)


def record_printed(bench: Bench, job: PrintJob, *, printer: str, by: str) -> ChangeSet:
    """The printer has taken the job: its tags are in the workbook as printed from now on."""
    at = bench.clock()
    rows = [replace(tag, at=at, by=by) for tag in job.tags]
    if rows:
        bench.write(partial(bench.workbook.add_tags_printed, rows))
    words = say("{title}: printed on {printer}.", title=job.title, printer=printer)
    return ChangeSet(units=frozenset(tag.unit for tag in rows), words=words)
