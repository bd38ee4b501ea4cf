"""The sale table as Qt's tables want it: an adapter over a tuple of units."""

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt

from benchapp.desktop.theme.signs import sign_for
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index
from benchapp.desktop.words import tr
from benchapp.workbook.values import Unit

SETTLED = ("for sale", "spares or repair", "scrap", "keep")
"""Dispositions with which nothing is due any more."""
COLUMNS = ("Unit", "Now", "What it is", "Grade", "Price", "Due", "Lot")


class SaleModel(QAbstractTableModel):
    """One row per unit."""

    def __init__(self) -> None:
        super().__init__()
        self._units: tuple[Unit, ...] = ()

    def set_units(self, units: Sequence[Unit]) -> None:
        """Show these units; the same marks keep the row at hand."""
        units = tuple(units)
        if [unit.mark for unit in units] == [unit.mark for unit in self._units]:
            self._units = units
            if units:
                self.dataChanged.emit(self.index(0, 0), self.index(len(units) - 1, len(COLUMNS) - 1))
            return
        self.beginResetModel()
        self._units = units
        self.endResetModel()

    def unit_at(self, row: int) -> Unit | None:
        """The unit in that row."""
        return self._units[row] if 0 <= row < len(self._units) else None

    def units(self) -> tuple[Unit, ...]:
        """What is shown."""
        return self._units

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._units)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(COLUMNS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        unit = self._units[index.row()]
        if role == SIGN_ROLE:
            return sign_for(unit.disposition) if index.column() == 1 else None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            due = "" if unit.disposition in SETTLED else unit.due
            texts = (
                unit.mark,
                tr(sign_for(unit.disposition).word),
                unit.title,
                unit.grade,
                unit.price,
                due,
                unit.lot,
            )
            return texts[index.column()]
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return tr(COLUMNS[section])
        return None
