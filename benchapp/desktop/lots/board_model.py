"""The board as Qt's tables want it: an adapter over one `Board`, which it only reads."""

from PySide6.QtCore import Qt

from benchapp.desktop.theme.signs import Sign, sign_for
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index
from benchapp.desktop.widgets.rows_model import RowsModel
from benchapp.desktop.widgets.texts import tip
from benchapp.desktop.words import tr
from benchapp.lots.board import Board, BoardRow, Cell


class BoardModel(RowsModel[BoardRow]):
    """Unit, disposition, one column per stage, and what is due."""

    def __init__(self) -> None:
        super().__init__(())
        self._stages: tuple[tuple[str, str], ...] = ()
        self._shown: dict[object, tuple[str, Sign | None]] = {}

    def set_board(self, board: Board | None) -> None:
        """Show another board; the same units and stages keep the row at hand."""
        self._stages = tuple(board.columns) if board else ()
        self._shown.clear()
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

    def cell(self, row: int, column: int) -> tuple[str, Sign | None]:
        one = self.rows[row]
        if column == 0:
            return one.mark, None
        if column > len(self._stages) + 1:
            return one.due, None
        if column == 1:
            asked: object = one.shows
        else:
            cell = one.cells[column - 2]
            asked = (cell.word, cell.done, cell.of)  # most units of a lot stand alike
        known = self._shown.get(asked)
        if known is None:
            known = self._shown[asked] = _sign(sign_for(one.shows)) if column == 1 else _stage(cell)
        return known

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return self.cell(index.row(), index.column())[0]
        if role == SIGN_ROLE:
            return self.cell(index.row(), index.column())[1]
        if role == Qt.ItemDataRole.ToolTipRole and self.stage_at(index.column()) is not None:
            return tip(self.rows[index.row()].cells[index.column() - 2].why)
        return None


def _sign(sign: Sign) -> tuple[str, Sign]:
    return tr(sign.word), sign


def _stage(cell: Cell) -> tuple[str, Sign]:
    """The word of a stage, and how far it is where it is begun."""
    word, sign = _sign(sign_for(cell.word))
    begun = str(cell.word) != "done" and 0 < cell.done < cell.of
    return (f"{word} {cell.done}/{cell.of}" if begun else word), sign
