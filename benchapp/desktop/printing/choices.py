"""What is chosen in the print dialog: fields and lists, read as one wish, and said again as they were last time."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QRegularExpression, QSignalBlocker, Signal
from PySide6.QtGui import QIntValidator, QRegularExpressionValidator
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QWidget

from benchapp.actions.papers.print_jobs import MOST_COPIES, Paper, Sheet, Wish, sheets_for
from benchapp.actions.papers.printer_settings import PrinterSettings
from benchapp.desktop.widgets.texts import add_rows, hold_narrow
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from collections.abc import Sequence

    from benchapp.printers.values import Printer

MOST_OFFSET = 20.0
"""millimetres: more is a sheet put in wrongly, no printer's habit (own choice)"""
_OFFSET = QRegularExpression(r"-?\d{0,2}([.,]\d{0,2})?")
_NAMES = {
    Paper.TAGS: "Tags",
    Paper.STICKERS: "Stickers with the shelf mark",
    Paper.RECORD: "Record sheet",
    Paper.PIN_CARD: "Pin card, at true size",
}


class PrintChoices(QWidget):
    """The form of the dialog."""

    changed = Signal()

    def __init__(self, papers: "Sequence[Paper]", units: "Sequence[str]", kept: PrinterSettings) -> None:
        super().__init__()
        self.setObjectName("print-choices")
        self.kept = kept
        self._units = tuple(units)
        self._sheets: dict[Paper, tuple[Sheet, ...]] = {}
        self._printers: tuple[Printer, ...] = ()
        self.paper, self.printer, self.sheet = QComboBox(), QComboBox(), QComboBox()
        self.first, self.copies, self.right, self.down = (QLineEdit() for _ in range(4))
        for box in (self.paper, self.printer, self.sheet):
            hold_narrow(box)
        for one in papers:
            self.paper.addItem(tr(_NAMES[one]), str(one))
        self.copies.setValidator(QIntValidator(1, MOST_COPIES, self))
        for field in (self.right, self.down):
            field.setValidator(QRegularExpressionValidator(_OFFSET, self))
        self.form = QFormLayout(self)
        self.form.setContentsMargins(0, 0, 0, 0)
        add_rows(
            self.form,
            (self.paper, "print-paper", tr("What")),
            (self.printer, "print-printer", tr("Printer")),
            (self.sheet, "print-sheet", tr("Sheet")),
            (self.first, "print-first", tr("First free label")),
            (self.copies, "print-copies", tr("Copies of each")),
            (self.right, "print-right", tr("Move right, in mm")),
            (self.down, "print-down", tr("Move down, in mm")),
        )
        self.form.setRowVisible(self.paper, len(papers) > 1)
        self.copies.setText("1")
        self._offer_sheets()
        self._connect()

    def _connect(self) -> None:
        self.paper.currentIndexChanged.connect(self._change_paper)
        self.printer.currentIndexChanged.connect(self._change_printer)
        self.sheet.currentIndexChanged.connect(self._change_sheet)
        for field in (self.first, self.copies, self.right, self.down):
            field.textEdited.connect(lambda _text: self.changed.emit())

    def offer_printers(self, printers: "tuple[Printer, ...]") -> None:
        """Those to choose from; the last one used is chosen."""
        self._printers = printers
        with QSignalBlocker(self.printer):
            self.printer.clear()
            for one in printers:
                self.printer.addItem(one.title, one.name)
            self.printer.setCurrentIndex(max(self.printer.findData(self.kept.printer), 0) if printers else -1)
        self.printer.setEnabled(bool(printers))
        self._show_offset()
        self._offer_sheets()
        self.changed.emit()

    def chosen_paper(self) -> Paper:
        """What is printed."""
        return Paper(self.paper.currentData())

    def chosen_sheet(self) -> Sheet:
        """What it is printed on."""
        return self.sheets()[max(self.sheet.currentIndex(), 0)]

    def sheets(self) -> tuple[Sheet, ...]:
        """What it can be printed on."""
        paper = self.chosen_paper()
        if paper not in self._sheets:
            self._sheets[paper] = sheets_for(paper)
        return self._sheets[paper]

    def chosen_printer(self) -> "Printer | None":
        """The printer; None where there is none."""
        number = self.printer.currentIndex()
        return self._printers[number] if 0 <= number < len(self._printers) else None

    def take_sheet(self, ident: str) -> None:
        """Choose that sheet."""
        self.sheet.setCurrentIndex(self.sheet.findData(ident))

    def take_label(self, label: int) -> None:
        """Choose the first free label."""
        self.first.setText(str(label))
        self.changed.emit()

    def wish(self) -> Wish:
        """What is chosen now; a field that says nothing counts as it stands at first."""
        return Wish(
            paper=self.chosen_paper(),
            units=self._units,
            sheet=self.chosen_sheet().id,
            start_at=int(self.first.text() or 1),
            copies=int(self.copies.text() or 1),
            shift=self.offset(),
        )

    def offset(self) -> tuple[float, float]:
        """How far the ink is moved, in millimetres; nothing on paper without labels."""
        if not self.chosen_paper().on_labels:
            return 0.0, 0.0
        x, y = (_number(field.text()) for field in (self.right, self.down))
        return x, y

    def wrong(self) -> str:
        """What a field says that cannot be, as a sentence; else nothing."""
        labels = len(self.chosen_sheet().labels)
        if labels and not 1 <= int(self.first.text() or 1) <= labels:
            return tr("This sheet has labels 1 to {count}. Type one of them as the first free label.").format(
                count=labels
            )
        if not 1 <= int(self.copies.text() or 1) <= MOST_COPIES:
            return tr("Type 1 to {most} copies.").format(most=MOST_COPIES)
        if max(map(abs, self.offset())) > MOST_OFFSET:
            return tr("An offset is at most {most:g} mm. If more is needed, the paper lies wrongly.").format(
                most=MOST_OFFSET
            )
        return ""

    def _change_paper(self, _number: int) -> None:
        self._offer_sheets()
        self.changed.emit()

    def _change_printer(self, _number: int) -> None:
        self._show_offset()
        if not self.chosen_paper().on_labels:
            self._offer_sheets()
        self.changed.emit()

    def _change_sheet(self, _number: int) -> None:
        self._show_first()
        self.changed.emit()

    def _offer_sheets(self) -> None:
        """The sheets of this paper; chosen is the one of last time, else for plain paper what the printer is set to."""
        kept = self.kept.sheets.get(str(self.chosen_paper()), "")
        printer = self.chosen_printer()
        if not kept and printer is not None and not self.chosen_paper().on_labels:
            kept = next((one.id for one in self.sheets() if printer.is_set_to(one.width, one.height)), "")
        with QSignalBlocker(self.sheet):
            self.sheet.clear()
            for one in self.sheets():
                self.sheet.addItem(one.title, one.id)
            self.sheet.setCurrentIndex(max(self.sheet.findData(kept), 0))
        labels = self.chosen_paper().on_labels
        for field in (self.right, self.down):
            self.form.setRowVisible(field, labels)
        self._show_first()

    def _show_first(self) -> None:
        """The first label that the last print on such a sheet left free."""
        sheet = self.chosen_sheet()
        self.form.setRowVisible(self.first, bool(sheet.labels))
        self.first.setValidator(QIntValidator(1, max(len(sheet.labels), 1), self))
        label = self.kept.free.get(sheet.id, 1)
        self.first.setText(str(label if label <= len(sheet.labels) else 1))

    def _show_offset(self) -> None:
        printer = self.chosen_printer()
        for field, value in zip(
            (self.right, self.down), self.kept.offset(printer.name if printer else ""), strict=True
        ):
            field.setText(f"{value:g}")


def _number(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return 0.0
