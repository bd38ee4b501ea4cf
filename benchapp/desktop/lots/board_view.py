"""The board on screen.

A table worked by keys, whose column heads can be reached with the arrow up from the first row.

Enter on a row takes the unit, Enter on a column head takes that stage across the lot.
"""

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent, QPainter
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from benchapp.desktop.lots.board_model import BoardModel
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.cells import CellPainter, Index
from benchapp.desktop.words import tr

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class StageHeads(QHeaderView):
    """Column heads of which one can be at hand."""

    def __init__(self, look: Look, parent: QTableView) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setObjectName("board-heads")
        self.setSectionsClickable(True)
        wrapped = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap
        self.setDefaultAlignment(Qt.AlignmentFlag(int(wrapped)))
        self._look = look
        self.at_hand = -1

    def go_to(self, section: int) -> None:
        """Take a head in hand, or (with -1) none."""
        self.at_hand = section
        self.viewport().update()

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        painter.save()
        super().paintSection(painter, rect, section)
        painter.restore()
        if section != self.at_hand:
            return
        painter.save()
        painter.fillRect(rect, self._look.colour("chosen"))
        painter.setPen(self._look.colour("on_chosen"))
        words = str(self.model().headerData(section, Qt.Orientation.Horizontal, Qt.ItemDataRole.DisplayRole))
        line = self.fontMetrics().height()
        room = rect.adjusted(line // 3, 0, -line // 4, 0)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap, words)
        painter.restore()


class BoardView(QTableView):
    """Units down, stages across."""

    unit_taken = Signal(str)
    stage_taken = Signal(str, str)
    moved = Signal(str)
    """another unit is at hand"""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("board")
        self.setAccessibleName(tr("Board: units down, stages across"))
        self.board = BoardModel()
        self.setModel(self.board)
        self.heads = StageHeads(look, self)
        self.setHorizontalHeader(self.heads)
        self.verticalHeader().hide()
        self.setItemDelegate(CellPainter(look, self))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setShowGrid(True)
        self.setWordWrap(False)
        self._look = look
        self.doubleClicked.connect(lambda index: self._take(index.row()))
        self.heads.sectionClicked.connect(self._take_stage)
        look.changed.connect(self.fit)

    def fit(self) -> None:
        """Widths and heights for the text as large as it is now."""
        metrics = QFontMetrics(self._look.font())
        line = metrics.height()
        self.verticalHeader().setDefaultSectionSize(int(line * 1.7))
        lines = 1
        for column in range(self.board.columnCount()):
            head = str(self.board.headerData(column, Qt.Orientation.Horizontal))
            word = max((metrics.horizontalAdvance(word) for word in head.split()), default=0) + line
            width = min(max(word, self._content_width(column, line)), line * 22)
            self.setColumnWidth(column, width)
            room = QRect(0, 0, width - line // 2, line * 10)
            lines = max(lines, round(metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, head).height() / line))
        self.heads.setFixedHeight(int(line * (lines + 0.8)))
        self.heads.setStretchLastSection(True)

    def _content_width(self, column: int, line: int) -> int:
        """The width that the first rows need; a thousand rows have no wider words than the first forty."""
        rows = min(self.board.rowCount(), 40)
        metrics = QFontMetrics(self._look.font(bold=column == 0))
        texts = {str(self.board.index(row, column).data() or "") for row in range(rows)}
        signs = line * 2 if 0 < column < self.board.columnCount() - 1 else line
        return signs + max((metrics.horizontalAdvance(text) for text in texts), default=0)

    def mark(self) -> str:
        """The unit at hand."""
        return self.board.mark_at(self.currentIndex().row())

    def go_to(self, mark: str) -> None:
        """Take a unit in hand, or the first one."""
        row = self.board.row_of(mark)
        self.setCurrentIndex(self.board.index(max(row, 0), 0))

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        self.moved.emit(self.board.mark_at(current.row()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.heads.at_hand >= 0:
            self._key_on_heads(event)
        elif event.key() == Qt.Key.Key_Up and self.currentIndex().row() <= 0:
            self._enter_heads()
        elif event.key() in _ENTER and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._take(self.currentIndex().row())
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.heads.go_to(-1)
        super().focusOutEvent(event)

    def _enter_heads(self) -> None:
        column = max(self.currentIndex().column(), 2)
        if self.board.stage_at(column) is not None:
            self.heads.go_to(column)
            self.clearSelection()

    def _key_on_heads(self, event: QKeyEvent) -> None:
        here, key = self.heads.at_hand, event.key()
        step = {int(Qt.Key.Key_Left): -1, int(Qt.Key.Key_Right): 1}.get(key)
        if step is not None and self.board.stage_at(here + step) is not None:
            self.heads.go_to(here + step)
            self.scrollTo(self.board.index(0, here + step))
        elif key in _ENTER:
            self._take_stage(here)
        elif key == Qt.Key.Key_Down:
            self.heads.go_to(-1)
            self.setCurrentIndex(self.board.index(0, here))
            self.selectRow(0)
        elif step is None:
            super().keyPressEvent(event)

    def _take(self, row: int) -> None:
        if mark := self.board.mark_at(row):
            self.unit_taken.emit(mark)

    def _take_stage(self, column: int) -> None:
        if stage := self.board.stage_at(column):
            self.stage_taken.emit(*stage)
