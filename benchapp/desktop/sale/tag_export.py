"""How tags, record sheets and pin cards leave the program: as PDF files, or straight to a printer."""

import tempfile
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QWidget

from benchapp.actions.papers import printing
from benchapp.actions.papers.pictures import page_pictures
from benchapp.actions.papers.pin_cards import export_pin_card_of_unit
from benchapp.desktop.app_context import Desk
from benchapp.desktop.widgets.save_dialog import SaveDialog
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

    from benchapp.actions.workbench.change_set import Changes


def export_tags(desk: Desk, parent: QWidget, units: Sequence[str], name: str) -> SaveDialog:
    """Ask for a file and write the tags of these units into it."""
    write = partial(printing.export_tags, units=tuple(units), by=desk.person.initials)
    return _export(desk, parent, write, tr("Tags as PDF"), f"tags {name}.pdf")


def export_record_sheet(desk: Desk, parent: QWidget, unit: str) -> SaveDialog:
    """Ask for a file and write the unit's record sheet into it."""
    write = partial(printing.export_record_sheet, unit=unit)
    return _export(desk, parent, write, tr("Record sheet as PDF"), f"record {unit}.pdf")


def export_pin_card(desk: Desk, parent: QWidget, unit: str) -> SaveDialog:
    """Ask for a file and write the pin card of the unit's output into it."""
    write = partial(export_pin_card_of_unit, unit=unit)
    return _export(desk, parent, write, tr("Pin card as PDF"), f"pin card {unit}.pdf")


def _export(desk: Desk, parent: QWidget, write: "Callable[..., Changes]", title: str, name: str) -> SaveDialog:
    """Ask for a file, `name` beside the workbook at first, and let `write` put the paper there."""

    def save(dialog: SaveDialog, path: Path) -> None:
        desk.errands.do(
            desk.bench,
            write,
            out=path,
            then=lambda changes: (dialog.written(), desk.hub.said.emit(changes.words or _written(path))),
            refused=dialog.complain,
        )

    return _opened(SaveDialog(parent, title, _beside(desk, name), save))


def print_tags(desk: Desk, parent: QWidget, units: Sequence[str]) -> None:
    """Ask for a printer and print the tags of these units as they would stand in the PDF."""
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    dialog = QPrintDialog(printer, parent)
    dialog.setObjectName("print-dialog")

    def work() -> tuple[bytes, ...]:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "tags.pdf"
            printing.export_tags(desk.bench, out=path, units=tuple(units), by=desk.person.initials)
            return page_pictures(path)

    def put_on_paper(pages: tuple[bytes, ...]) -> None:
        paint_pages(printer, pages)
        desk.hub.said.emit(tr("Sent to the printer: {count} pages.").format(count=len(pages)))

    dialog.accepted.connect(lambda: desk.errands.read(work, then=put_on_paper))
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()


def hand_out(desk: Desk, parent: QWidget, what: str, unit: str) -> None:
    """One unit's papers: `print` its tag, `export` it as PDF, its record `sheet` or its `pins` as PDF."""
    if what == "print":
        print_tags(desk, parent, [unit])
    elif what == "export":
        export_tags(desk, parent, [unit], unit)
    elif what == "pins":
        export_pin_card(desk, parent, unit)
    else:
        export_record_sheet(desk, parent, unit)


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


def _beside(desk: Desk, name: str) -> Path:
    return Path(desk.bench.path).parent / name


def _written(path: Path) -> str:
    return tr("Written: {path}").format(path=path)


def _opened(dialog: SaveDialog) -> SaveDialog:
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    dialog.path.setFocus()
    return dialog
