"""An adapter over a tuple of rows for Qt's lists and tables, in which the row at hand stays where it can."""

from collections.abc import Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt

from benchapp.desktop.theme.signs import Sign
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index

OneRow = TypeVar("OneRow")


class RowsModel(QAbstractTableModel, Generic[OneRow]):
    """Rows below heads; what a cell shows is said by `data` of each model."""

    def __init__(self, heads: Sequence[str] = ("",)) -> None:
        super().__init__()
        self.rows: tuple[OneRow, ...] = ()
        self.heads = tuple(heads)

    def known_by(self, _row: OneRow) -> str:
        """What makes a row the same one as before, whatever else of it has changed."""
        return ""

    def set_rows(self, rows: Sequence[OneRow], heads: Sequence[str] | None = None) -> None:
        """Show other rows; where each is known by the same as before, the row at hand stays."""
        heads = self.heads if heads is None else tuple(heads)
        same = heads == self.heads and [*map(self.known_by, rows)] == [*map(self.known_by, self.rows)]
        if not same:
            self.beginResetModel()
        self.rows, self.heads = tuple(rows), heads
        if not same:
            self.endResetModel()
        elif rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(heads) - 1))

    def cell(self, row: int, column: int) -> tuple[str, Sign | None]:
        """The words and the sign of a cell, as a painter asks for both at once."""
        index = self.index(row, column)
        return str(index.data() or ""), index.data(SIGN_ROLE)

    def row_at(self, number: int) -> OneRow | None:
        """The row of that number, from 0; None where there is none."""
        return self.rows[number] if 0 <= number < len(self.rows) else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.heads)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        across = orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole
        return self.heads[section] if across else None
