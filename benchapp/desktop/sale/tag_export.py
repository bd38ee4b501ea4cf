"""How tags, record sheets and pin cards leave the program: as PDF files, or straight to a printer."""

import tempfile
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QDialog, QWidget

from benchapp.actions.papers import printing
from benchapp.actions.papers.file_names import name_of_mark
from benchapp.actions.papers.file_writing import refuse_place
from benchapp.actions.papers.pictures import page_pictures
from benchapp.actions.papers.pin_cards import export_pin_card_of_unit
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.widgets.save_dialog import SaveDialog
from benchapp.desktop.words import tr
from benchapp.paper.content import PaperKind

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

    from benchapp.actions.workbench.change_set import ChangeSet


def export_tags(context: AppContext, parent: QWidget, units: Sequence[str], name: str) -> SaveDialog:
    """Ask for a file and write the tags of these units into it."""
    write = partial(printing.export_tags, units=tuple(units), by=context.person.initials)
    return _export(context, parent, write, PaperKind.TAGS, tr("Tags as PDF"), f"tags {name_of_mark(name)}.pdf")


def export_record_sheet(context: AppContext, parent: QWidget, unit: str) -> SaveDialog:
    """Ask for a file and write the unit's record sheet into it."""
    write = partial(printing.export_record_sheet, unit=unit)
    name = f"record {name_of_mark(unit)}.pdf"
    return _export(context, parent, write, PaperKind.RECORD, tr("Record sheet as PDF"), name)


def export_pin_card(context: AppContext, parent: QWidget, unit: str) -> SaveDialog:
    """Ask for a file and write the pin card of the unit's output into it."""
    write = partial(export_pin_card_of_unit, unit=unit)
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


def print_tags(context: AppContext, parent: QWidget, units: Sequence[str]) -> None:
    """Ask for a printer and print the tags of these units as they would stand in the PDF."""
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    dialog = QPrintDialog(printer, parent)
    dialog.setObjectName("print-dialog")

    def work() -> tuple[bytes, ...]:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "tags.pdf"
            printing.export_tags(context.bench, out=path, units=tuple(units), by=context.person.initials)
            return page_pictures(path)

    def put_on_paper(pages: tuple[bytes, ...]) -> None:
        paint_pages(printer, pages)
        context.change_signals.said.emit(tr("Sent to the printer: {count} pages.").format(count=len(pages)))

    dialog.accepted.connect(lambda: context.tasks.read(work, then=put_on_paper))
    dialog.finished.connect(dialog.deleteLater)
    QDialog.open(dialog)  # its own `open` asks for a receiver


def hand_out(context: AppContext, parent: QWidget, what: str, unit: str) -> None:
    """One unit's papers: `print` its tag, `export` it as PDF, its record `sheet` or its `pins` as PDF."""
    if what == "print":
        print_tags(context, parent, [unit])
    elif what == "export":
        export_tags(context, parent, [unit], unit)
    elif what == "pins":
        export_pin_card(context, parent, unit)
    else:
        export_record_sheet(context, parent, unit)


def paint_pages(printer: "QPrinter", pages: Sequence[bytes]) -> None:
    """Paint pictures of pages on the printer, each filling its sheet of paper at true size."""
    from PySide6.QtPrintSupport import QPrinter

    printer.setFullPage(True)
    painter = QPainter(printer)
    for number, png in enumerate(pages):
        if number:
            printer.newPage()
        image = QImage.fromData(png)
        sheet = printer.paperRect(QPrinter.Unit.DevicePixel)
        painter.drawImage(QRectF(0, 0, sheet.width(), sheet.height()), image)
    painter.end()


def _beside(context: AppContext, name: str) -> Path:
    return Path(context.bench.path).parent / name


def _opened(dialog: SaveDialog) -> SaveDialog:
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    dialog.path.setFocus()
    return dialog
