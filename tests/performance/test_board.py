"""How long the board of a large lot takes to be painted, against a bare table of Qt with the same texts.

Both are measured in turn within one run; the bare table has Qt's own delegate and no style sheet.
"""

import time
from statistics import median

import pytest
from PySide6.QtCore import QAbstractTableModel, QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QTableView

from benchapp.desktop.lots.arranging import Arranging, arranged
from benchapp.desktop.lots.board_view import BoardView
from benchapp.desktop.theme.look import Look
from benchapp.lots.board import UnitRow, lot_board
from benchapp.sequences.planning.state import StageState, StageStatus

pytestmark = pytest.mark.performance

UNITS, COLUMNS = 500, 12
TURNS = 15
SIZE = (1200, 700)


class BareModel(QAbstractTableModel):
    """The texts as they are."""

    def __init__(self, heads, texts):
        super().__init__()
        self.heads, self.texts = heads, texts

    def rowCount(self, _parent=None):  # noqa: N802 - Qt's own name
        return len(self.texts)

    def columnCount(self, _parent=None):  # noqa: N802
        return len(self.heads)

    def data(self, index, role=0):
        return self.texts[index.row()][index.column()] if role == Qt.ItemDataRole.DisplayRole else None

    def headerData(self, section, orientation, role=0):  # noqa: N802
        across = orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole
        return self.heads[section] if across else None


def made_board():
    """Units that stand in every way, so that cells differ as in a real lot; no two are due alike."""
    status, stands = list(StageStatus), ("quarantine", "hold", "for sale")
    return lot_board(
        [
            UnitRow(
                mark=f"TB-{number:03}",
                disposition=stands[number % 3],
                live="mains" if number % 50 == 7 else "",
                due=f"Look at the plug from outside, number {number}",
                stages=tuple(
                    StageState(id=f"s{one}", title=f"Stage {one}", status=status[(number * one) % 7], done=2, of=5)
                    for one in range(COLUMNS - 3)
                ),
            )
            for number in range(UNITS)
        ]
    )


def painted():
    QCoreApplication.sendPostedEvents(None, QEvent.Type.UpdateRequest)
    QCoreApplication.processEvents()


def shown_in(make):
    """Seconds from nothing to a painted table; it is gone afterwards."""
    begun = time.perf_counter()
    table = make()
    table.resize(*SIZE)
    table.show()
    painted()
    took = time.perf_counter() - begun
    table.close()
    table.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    return took


def test_board_of_a_large_lot_is_painted_as_fast_as_a_bare_table(qapp):
    look, board = Look(qapp, dark=False), made_board()
    first = BoardView(look)
    first.board.set_board(board)
    heads = list(first.board.heads)
    texts = [[first.board.cell(row, column)[0] for column in range(COLUMNS)] for row in range(UNITS)]

    def bare():
        table = QTableView()
        table.kept = BareModel(heads, texts)
        table.setModel(table.kept)
        return table

    def ours():
        table = BoardView(look)
        table.board.set_board(board)
        table.fit()
        return table

    sheet, floors, mine = qapp.styleSheet(), [], []
    for _ in range(TURNS):
        qapp.setStyleSheet("")
        floors.append(shown_in(bare))
        qapp.setStyleSheet(sheet)
        mine.append(shown_in(ours))
    typed = typing_times(look, board)
    look.forget()
    words = f"\nbare table of {UNITS} x {len(heads)}, {1000 * median(floors):.1f} ms; board"
    print(
        f"{words} {1000 * median(mine):.1f} ms: {min(mine) / min(floors):.2f} x, medians {_times(mine, floors):.2f} x"
    )
    print(f"a letter of a search to the rows painted: {1000 * median(typed):.1f} ms, {_times(typed, floors):.2f} x")
    assert min(mine) <= 1.5 * min(floors)
    assert median(mine) <= 1.5 * median(floors)
    assert median(typed) <= 1.5 * median(floors)


def typing_times(look, board):
    """Seconds from each letter typed into the search until the rows that are left are painted."""
    table = BoardView(look)
    table.board.set_board(board)
    table.fit()
    table.resize(*SIZE)
    table.show()
    painted()
    times = []
    for typed in ("1", "12", "1", "", "f", "fa", "fai", "", "number 4", ""):
        begun = time.perf_counter()
        table.board.set_board(arranged(board, Arranging(typed=typed)))
        table.go_to("TB-001")
        painted()
        times.append(time.perf_counter() - begun)
    table.close()
    table.deleteLater()
    return times


def _times(mine, floors):
    return median(mine) / median(floors)
