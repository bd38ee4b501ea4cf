"""The board as Qt's tables want it: an adapter over one `Board`, which it only reads."""

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt

from benchapp.desktop.theme.signs import Sign, sign_for
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index
from benchapp.desktop.words import tr
from benchapp.lots.board import Board


class BoardModel(QAbstractTableModel):
    """Unit, disposition, one column per stage, and what is due."""

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._columns: tuple[tuple[str, str], ...] = ()

    def set_board(self, board: Board | None) -> None:
        """Show another board; the same units and stages keep the row at hand."""
        same = self._board is not None and board is not None and _outline(self._board) == _outline(board)
        if same:
            self._board = board
            if board and board.rows:
                last = self.index(len(board.rows) - 1, self.columnCount() - 1)
                self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self._board = board
        self._columns = tuple(board.columns) if board else ()
        self.endResetModel()

    def mark_at(self, row: int) -> str:
        """The shelf mark in that row."""
        return self._board.rows[row].mark if self._board and 0 <= row < len(self._board.rows) else ""

    def row_of(self, mark: str) -> int:
        """The row of a unit, -1 when it is not here."""
        rows = self._board.rows if self._board else ()
        return next((number for number, row in enumerate(rows) if row.mark == mark), -1)

    def stage_at(self, column: int) -> tuple[str, str] | None:
        """The stage (id, title) of a column; None for the other columns."""
        number = column - 2
        return self._columns[number] if 0 <= number < len(self._columns) else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() or self._board is None else len(self._board.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() or self._board is None else len(self._columns) + 3

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if role not in (
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.ToolTipRole,
            SIGN_ROLE,
        ):
            return None
        assert self._board is not None
        row = self._board.rows[index.row()]
        if index.column() == 0:
            return None if role == SIGN_ROLE else row.mark
        if index.column() == 1:
            return self._sign(sign_for(row.disposition), role)
        if index.column() == self.columnCount() - 1:
            return None if role == SIGN_ROLE else row.due
        cell = row.cells[index.column() - 2]
        if role == SIGN_ROLE:
            return sign_for(cell.word)
        word = tr(sign_for(cell.word).word)
        begun = str(cell.word) != "done" and 0 < cell.done < cell.of
        if role == Qt.ItemDataRole.ToolTipRole:
            return cell.why
        return f"{word} {cell.done}/{cell.of}" if begun else word

    def _sign(self, sign: Sign, role: int) -> object:
        if role == SIGN_ROLE:
            return sign
        return None if role == Qt.ItemDataRole.ToolTipRole else tr(sign.word)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if orientation != Qt.Orientation.Horizontal or role != Qt.ItemDataRole.DisplayRole:
            return None
        if section == 0:
            return tr("Unit")
        if section == 1:
            return tr("Now")
        stage = self.stage_at(section)
        return stage[1] if stage else tr("Due")


def _outline(board: Board) -> tuple[object, ...]:
    return tuple(board.columns), tuple(row.mark for row in board.rows)
