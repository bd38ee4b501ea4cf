"""The board as Qt's tables want it: an adapter over one `Board`, which it only reads."""

from PySide6.QtCore import Qt

from benchapp.desktop.theme.signs import Sign, sign_for
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index
from benchapp.desktop.widgets.rows_model import RowsModel
from benchapp.desktop.widgets.texts import tip
from benchapp.desktop.words import tr
from benchapp.lots.board import Board, BoardRow


class BoardModel(RowsModel[BoardRow]):
    """Unit, disposition, one column per stage, and what is due."""

    def __init__(self) -> None:
        super().__init__(())
        self._stages: tuple[tuple[str, str], ...] = ()

    def set_board(self, board: Board | None) -> None:
        """Show another board; the same units and stages keep the row at hand."""
        self._stages = tuple(board.columns) if board else ()
        heads = (tr("Unit"), tr("Now"), *(title for _stage, title in self._stages), tr("Due")) if board else ()
        self.set_rows(board.rows if board else (), heads)

    def known_by(self, row: BoardRow) -> str:
        return row.mark

    def row_of(self, mark: str) -> int:
        """The row of a unit, -1 when it is not here."""
        return next((number for number, row in enumerate(self.rows) if row.mark == mark), -1)

    def stage_at(self, column: int) -> tuple[str, str] | None:
        """The stage (id, title) of a column; None for the other columns."""
        number = column - 2
        return self._stages[number] if 0 <= number < len(self._stages) else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if role not in (
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.ToolTipRole,
            SIGN_ROLE,
        ):
            return None
        row = self.rows[index.row()]
        if index.column() == 0:
            return None if role == SIGN_ROLE else row.mark
        if index.column() == 1:
            return self._sign(sign_for(row.shows), role)
        if index.column() == self.columnCount() - 1:
            return None if role == SIGN_ROLE else row.due
        cell = row.cells[index.column() - 2]
        if role == SIGN_ROLE:
            return sign_for(cell.word)
        word = tr(sign_for(cell.word).word)
        begun = str(cell.word) != "done" and 0 < cell.done < cell.of
        if role == Qt.ItemDataRole.ToolTipRole:
            return tip(cell.why)
        return f"{word} {cell.done}/{cell.of}" if begun else word

    def _sign(self, sign: Sign, role: int) -> object:
        if role == SIGN_ROLE:
            return sign
        return None if role == Qt.ItemDataRole.ToolTipRole else tr(sign.word)
