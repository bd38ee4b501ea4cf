"""How tags, stickers, record sheets and pin cards leave the program: as PDF files, or to a printer."""

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from benchapp.actions.papers import printing
from benchapp.actions.papers.file_names import name_of_mark
from benchapp.actions.papers.file_writing import refuse_place
from benchapp.actions.papers.pin_cards import export_pin_card_of_unit
from benchapp.actions.papers.print_jobs import Paper, Wish
from benchapp.actions.papers.stickers import export_stickers
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.widgets.save_dialog import SaveDialog
from benchapp.desktop.words import tr
from benchapp.paper.content import PaperKind

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.printing.dialog import PrintDialog


LABELS = (Paper.TAGS, Paper.STICKERS)
"""what is printed for several units at once, the usual one first"""


def export_tags(
    context: AppContext, parent: QWidget, units: Sequence[str], name: str, wish: Wish | None = None
) -> SaveDialog:
    """Ask for a file and write the tags of these units into it, as a `wish` has them where it is given."""
    chosen = wish or Wish(paper=Paper.TAGS, units=tuple(units), sheet=printing.USUAL_SHEET)
    write = partial(
        printing.export_tags,
        units=chosen.units,
        by=context.person.initials,
        sheet=chosen.sheet,
        start_at=chosen.start_at,
        copies=chosen.copies,
    )
    return _export(context, parent, write, PaperKind.TAGS, tr("Tags as PDF"), f"tags {name_of_mark(name)}.pdf")


def _export_stickers(context: AppContext, parent: QWidget, wish: Wish) -> SaveDialog:
    """Ask for a file and write the stickers of a wish into it."""
    write = partial(export_stickers, units=wish.units, sheet=wish.sheet, start_at=wish.start_at, copies=wish.copies)
    name = f"stickers {name_of_mark(wish.units[0])}.pdf"
    return _export(context, parent, write, PaperKind.STICKERS, tr("Stickers as PDF"), name)


def export_record_sheet(context: AppContext, parent: QWidget, unit: str, page: str = "A4") -> SaveDialog:
    """Ask for a file and write the unit's record sheet into it."""
    write = partial(printing.export_record_sheet, unit=unit, page=page)
    name = f"record {name_of_mark(unit)}.pdf"
    return _export(context, parent, write, PaperKind.RECORD, tr("Record sheet as PDF"), name)


def export_pin_card(context: AppContext, parent: QWidget, unit: str, page: str = "A4") -> SaveDialog:
    """Ask for a file and write the pin card of the unit's output into it."""
    write = partial(export_pin_card_of_unit, unit=unit, page=page)
    name = f"pin card {name_of_mark(unit)}.pdf"
    return _export(context, parent, write, PaperKind.PIN_CARD, tr("Pin card as PDF"), name)


def _export(
    context: AppContext, parent: QWidget, write: "Callable[..., ChangeSet]", kind: PaperKind, title: str, name: str
) -> SaveDialog:
    """Ask for a file, `name` beside the workbook at first, and let `write` put the paper there."""

    def save(dialog: SaveDialog, path: Path) -> None:
        def written(changes: "ChangeSet") -> None:
            dialog.accept()
            context.change_signals.said.emit(changes.words or tr("Written: {path}").format(path=path))

        context.tasks.do(context.bench, write, out=path, then=written, refused=dialog.complain)

    stands_there = partial(refuse_place, kind=kind)
    return _opened(SaveDialog(parent, title, _beside(context, name), save, stands_there=stands_there))


def print_papers(
    context: AppContext, parent: QWidget, units: Sequence[str], papers: Sequence[Paper] = (Paper.TAGS,)
) -> "PrintDialog":
    """Ask for sheet and printer, and print the first of `papers` for the units, or which of them is chosen there."""
    from benchapp.desktop.printing.dialog import PrintDialog

    dialog = PrintDialog(context, parent, papers, units, partial(_export_wish, context, parent))
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    dialog.begin()
    return dialog


def _export_wish(context: AppContext, parent: QWidget, wish: Wish) -> SaveDialog:
    """Ask for a file and write into it what would have been printed."""
    if wish.paper is Paper.RECORD:
        return export_record_sheet(context, parent, wish.units[0], page=wish.sheet)
    if wish.paper is Paper.STICKERS:
        return _export_stickers(context, parent, wish)
    if wish.paper is Paper.PIN_CARD:
        return export_pin_card(context, parent, wish.units[0], page=wish.sheet)
    return export_tags(context, parent, wish.units, wish.units[0], wish)


def hand_out(context: AppContext, parent: QWidget, what: str, unit: str, page: str = "") -> None:
    """One unit's papers: `print` them, `export` its tag as PDF, its record `sheet` or its `pins` as PDF.

    What is printed from the record's page is the record first of all.
    """
    if what == "print":
        first = Paper.RECORD if page == "record" else Paper.TAGS
        print_papers(context, parent, [unit], sorted(Paper, key=lambda paper: paper is not first))
    elif what == "export":
        export_tags(context, parent, [unit], unit)
    elif what == "pins":
        export_pin_card(context, parent, unit)
    else:
        export_record_sheet(context, parent, unit)


def _beside(context: AppContext, name: str) -> Path:
    return Path(context.bench.path).parent / name


def _opened(dialog: SaveDialog) -> SaveDialog:
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    dialog.path.setFocus()
    return dialog
