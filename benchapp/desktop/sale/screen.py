"""The sale table.

What is ready and what waits, the tag behind the unit at hand, tags of what is shown as a sheet or printed.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QHBoxLayout, QTableView, QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.keys import add_action
from benchapp.desktop.sale.sale_model import COLUMNS, SaleModel
from benchapp.desktop.sale.tag_export import export_record_sheet, export_tags, print_tags
from benchapp.desktop.sale.tag_picture import TagPicture
from benchapp.desktop.screen import Screen
from benchapp.desktop.theme.signs import DISPOSITIONS
from benchapp.desktop.widgets.cells import CellPainter, Index
from benchapp.desktop.widgets.hints import KeyHints, hint
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import label
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
        head = label("sale-head", "head", tr("&Show"), wrap=False)
        head.setBuddy(self.chooser)
        self.summary = label("sale-summary", "quiet")
        self.units = SaleModel()
        self.table = _SaleTable(context, self.units)
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
        self.table.taken.connect(self.unit_taken)
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
        units = self._context.bench.units()
        self.units.set_units([unit for unit in units if not wanted or unit.disposition == wanted])
        ready = sum(unit.disposition == "for sale" for unit in units)
        self.summary.setText(tr("{ready} of {count} units are for sale.").format(ready=ready, count=len(units)))
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
        if self.units.units():
            export_tags(self._context, self, [unit.mark for unit in self.units.units()], self.chooser.currentText())

    def print_tags(self) -> None:
        """The tags of the units shown, to a printer."""
        if self.units.units():
            print_tags(self._context, self, [unit.mark for unit in self.units.units()])

    def export_sheet(self) -> None:
        """The record sheet of the unit at hand."""
        unit = self.units.unit_at(self.table.currentIndex().row())
        if unit is not None:
            export_record_sheet(self._context, self, unit.mark)

    def _show_tag(self) -> None:
        unit = self.units.unit_at(self.table.currentIndex().row())
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


class _SaleTable(QTableView):
    """The units, worked by keys: Enter takes one."""

    taken = Signal(str)
    moved = Signal()

    def __init__(self, context: AppContext, units: SaleModel) -> None:
        super().__init__()
        self.setObjectName("sale-table")
        self.setAccessibleName(tr("Units"))
        self._units = units
        self._look = context.look
        self.setModel(units)
        self.setItemDelegate(CellPainter(context.look, self))
        self.verticalHeader().hide()
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.horizontalHeader().setStretchLastSection(True)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.doubleClicked.connect(lambda index: self._take(index.row()))
        context.look.changed.connect(self.fit)

    def fit(self) -> None:
        """Widths and heights for the text as large as it is now."""
        line = QFontMetrics(self._look.font()).height()
        self.verticalHeader().setDefaultSectionSize(int(line * 1.7))
        for column in range(len(COLUMNS)):
            metrics = QFontMetrics(self._look.font(bold=column == 0))
            texts = {str(self._units.index(row, column).data() or "") for row in range(min(40, self._units.rowCount()))}
            widest = max((metrics.horizontalAdvance(text) for text in (*texts, tr(COLUMNS[column]))), default=0)
            self.setColumnWidth(
                column, min(widest + line * (2 if column == 1 else 1), line * (12 if self._look.cramped else 18))
            )

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        self.moved.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._take(self.currentIndex().row())
        else:
            super().keyPressEvent(event)

    def _take(self, row: int) -> None:
        unit = self._units.unit_at(row)
        if unit is not None:
            self.taken.emit(unit.mark)
