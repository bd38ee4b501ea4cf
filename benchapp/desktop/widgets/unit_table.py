"""A table with a unit in each row, worked by keys: Enter or a double click takes the unit at hand."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QTableView

from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.cells import CellPainter, Index
from benchapp.desktop.widgets.rows_model import OneRow, RowsModel

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_ROW = 1.7
"""height of a row, in heights of a line"""
_LOOKED_AT = 40
"""rows that widths are made by: a thousand rows have no wider words than the first forty"""


class UnitTable(QTableView):
    """Base of the board and of the sale table."""

    unit_taken = Signal(str)
    moved = Signal()
    """another row is at hand"""

    def __init__(self, look: Look, name: str, words: str, units: RowsModel[OneRow]) -> None:
        super().__init__()
        self.setObjectName(name)
        self.setAccessibleName(words)
        self.look = look
        self._units = units
        self.setModel(units)
        self.setItemDelegate(CellPainter(look, self, units.cell))
        self.verticalHeader().hide()
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.doubleClicked.connect(lambda index: self.take(index.row()))
        look.changed.connect(self.fit)

    def fit(self) -> None:
        """Widths and heights for the text as large as it is now."""
        self.verticalHeader().setDefaultSectionSize(int(QFontMetrics(self.look.font()).height() * _ROW))

    def widest(self, column: int) -> int:
        """The width of the widest text in a column, in pixels."""
        metrics = QFontMetrics(self.look.font(bold=column == 0))
        rows = min(self._units.rowCount(), _LOOKED_AT)
        texts = {self._units.cell(row, column)[0] for row in range(rows)}
        return max((metrics.horizontalAdvance(text) for text in texts), default=0)

    def mark(self) -> str:
        """The unit at hand."""
        return self.mark_at(self.currentIndex().row())

    def mark_at(self, number: int) -> str:
        """The unit in that row; empty where there is none."""
        row = self._units.row_at(number)
        return self._units.known_by(row) if row is not None else ""

    def take(self, row: int) -> None:
        """Take the unit in that row."""
        if mark := self.mark_at(row):
            self.unit_taken.emit(mark)

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        self.moved.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ENTER and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.take(self.currentIndex().row())
        else:
            super().keyPressEvent(event)
