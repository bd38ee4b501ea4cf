"""The sale table.

What is ready and what waits, the tag behind the unit at hand, tags of what is shown as a sheet or printed.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QShowEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QVBoxLayout, QWidget

from benchapp.actions.workbench.titles import titled
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.keys import add_action
from benchapp.desktop.sale.sale_model import COLUMNS, SaleModel
from benchapp.desktop.sale.tag_export import export_record_sheet, export_tags, print_papers
from benchapp.desktop.sale.tag_picture import TagPicture
from benchapp.desktop.screen import Screen
from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import DISPOSITIONS
from benchapp.desktop.widgets.hints import KeyHints, hint
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.widgets.unit_table import UnitTable
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet

_NARROW = 50


class SaleScreen(Screen):
    """All units of the workbook by disposition, with the tag of the one at hand."""

    unit_taken = Signal(str)

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("sale")
        self._context = context
        self._behind = False
        self.chooser = QComboBox()
        self.chooser.setObjectName("sale-chooser")
        self.chooser.setAccessibleName(tr("Show"))
        self.chooser.addItem(tr("all units"), "")
        for disposition in DISPOSITIONS:
            self.chooser.addItem(tr(disposition), disposition)
        head = label("sale-head", "head", tr("Sho&w"), wrap=False)
        head.setBuddy(self.chooser)
        self.summary = label("sale-summary", "quiet")
        self.units = SaleModel()
        self.table = SaleTable(context.look, self.units)
        self.tag = TagPicture(context)
        self.hints = KeyHints(context.look, "sale-hints")
        self.hints.show_hints(
            [
                hint("enter", tr("the unit at the bench: disposition, grade, price")),
                *map(hint, ("print shown", "export shown", "sheet shown", "others")),
            ]
        )
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(120)
        self._lay_out(head)
        self._connect()
        self.read()

    def _lay_out(self, head: QWidget) -> None:
        row = QHBoxLayout()
        row.addWidget(head)
        row.addWidget(self.chooser)
        row.addWidget(self.summary, 1)
        layout = QVBoxLayout(self)
        layout.addLayout(row)
        layout.addWidget(Split(self._context.look, self.table, self.tag, shares=(3, 2), narrow=_NARROW), 1)
        layout.addWidget(self.hints)

    def _connect(self) -> None:
        self.chooser.currentIndexChanged.connect(lambda _number: self.read())
        self.table.unit_taken.connect(self.unit_taken)
        self.table.moved.connect(self._later.start)
        self._later.timeout.connect(self._show_tag)
        self._context.change_signals.changed.connect(self._hear)
        add_action(self, "print shown", self.print_tags)
        add_action(self, "export shown", self.export_tags)
        add_action(self, "sheet shown", self.export_sheet)

    def read(self) -> None:
        """Read the units again."""
        self._behind = False
        wanted = self.chooser.currentData()
        workbook = self._context.bench.workbook
        units = workbook.units_of(wanted) if wanted else workbook.units()
        self.units.set_rows(list(titled(self._context.bench, units)))
        counts = workbook.counts()
        ready, count = counts.get("for sale", 0), sum(counts.values())
        words = tr("For sale: {ready} of {count} unit(s).", "", count)
        self.summary.setText(words.format(ready=ready, count=count))
        self.table.fit()
        if not self.table.currentIndex().isValid():
            self.table.setCurrentIndex(self.units.index(0, 0))
        self._later.start()

    def take_focus(self) -> None:
        """Put the keyboard on the table."""
        self.table.setFocus()
        self._later.start()

    def export_tags(self) -> None:
        """The tags of the units shown, as one PDF."""
        if self.units.rows:
            export_tags(self._context, self, [unit.mark for unit in self.units.rows], self.chooser.currentText())

    def print_tags(self) -> None:
        """The tags of the units shown, to a printer."""
        if self.units.rows:
            print_papers(self._context, self, [unit.mark for unit in self.units.rows])

    def export_sheet(self) -> None:
        """The record sheet of the unit at hand."""
        unit = self.units.row_at(self.table.currentIndex().row())
        if unit is not None:
            export_record_sheet(self._context, self, unit.mark)

    def _show_tag(self) -> None:
        unit = self.units.row_at(self.table.currentIndex().row())
        if unit is not None and self.isVisible():
            self.tag.show_unit(unit.mark, unit.last_entry)

    def _hear(self, changes: "ChangeSet") -> None:
        self._behind = self._behind or bool(changes.units or changes.lots)
        if self._behind and self.isVisible():
            self.read()

    def refresh(self) -> None:
        """Read again what another window may have changed."""
        self.read()

    def showEvent(self, event: QShowEvent) -> None:
        if self._behind:
            self.read()
        super().showEvent(event)


class SaleTable(UnitTable):
    """The units of the workbook with what becomes of them."""

    def __init__(self, look: Look, units: SaleModel) -> None:
        super().__init__(look, "sale-table", tr("Units"), units)
        self.horizontalHeader().setStretchLastSection(True)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def fit(self) -> None:
        """Widths and heights for the text as large as it is now; a wide screen leaves the tag its room."""
        super().fit()
        line = QFontMetrics(self.look.font()).height()
        most = line * (12 if self.look.cramped else 18)
        for column, name in enumerate(COLUMNS):
            metrics = QFontMetrics(self.look.font(bold=column == 0))
            wanted = max(self.widest(column), metrics.horizontalAdvance(tr(name)))
            self.setColumnWidth(column, min(wanted + line * (2 if column == 1 else 1), most))
