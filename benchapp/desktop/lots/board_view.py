"""The board on screen.

A table worked by keys, whose column heads can be reached with the arrow up from the first row.

Enter on a row takes the unit, Enter on a column head takes that stage across the lot.
"""

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent, QPainter
from PySide6.QtWidgets import QHeaderView, QTableView

from benchapp.desktop.lots.arranging import Order
from benchapp.desktop.lots.board_model import BoardModel
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.unit_table import ENTER, UnitTable
from benchapp.desktop.words import tr

_WITH = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


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


class BoardView(UnitTable):
    """Units down, stages across."""

    stage_taken = Signal(str, str)
    typed = Signal(str)
    """a letter or digit was struck: a search begins"""
    order_asked = Signal(object)
    """the head of a column that is no stage was clicked: it comes first"""

    def __init__(self, look: Look) -> None:
        self.board = BoardModel()
        super().__init__(look, "board", tr("Board: units down, stages across"), self.board)
        self.heads = StageHeads(look, self)
        self.setHorizontalHeader(self.heads)
        self.heads.sectionClicked.connect(self._click_head)

    def fit(self) -> None:
        """Widths and heights for the text as large as it is now; the heads wrap."""
        super().fit()
        metrics = QFontMetrics(self.look.font())
        line = metrics.height()
        lines = 1
        for column, head in enumerate(self.board.heads):
            word = max((metrics.horizontalAdvance(word) for word in head.split()), default=0) + line
            sign = line * 2 if 0 < column < len(self.board.heads) - 1 else line
            width = min(max(word, sign + self.widest(column)), line * 22)
            self.setColumnWidth(column, width)
            room = QRect(0, 0, width - line // 2, line * 10)
            lines = max(lines, round(metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, head).height() / line))
        self.heads.setFixedHeight(int(line * (lines + 0.8)))
        self.heads.setStretchLastSection(True)

    def go_to(self, mark: str) -> None:
        """Take a unit in hand, or the first one."""
        row = self.board.row_of(mark)
        self.setCurrentIndex(self.board.index(max(row, 0), 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.heads.at_hand >= 0:
            self._key_on_heads(event)
        elif event.key() == Qt.Key.Key_Up and self.currentIndex().row() <= 0:
            self._enter_heads()
        elif event.text().strip() and event.text().isprintable() and not event.modifiers() & _WITH:
            self.typed.emit(event.text())
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
        elif key in ENTER:
            self._take_stage(here)
        elif key == Qt.Key.Key_Down:
            self.heads.go_to(-1)
            self.setCurrentIndex(self.board.index(0, here))
            self.selectRow(0)
        elif step is None:
            super().keyPressEvent(event)

    def _click_head(self, column: int) -> None:
        if self.board.stage_at(column) is not None:
            self._take_stage(column)
        else:
            self.order_asked.emit({0: Order.mark, 1: Order.stands}.get(column, Order.due))

    def _take_stage(self, column: int) -> None:
        if stage := self.board.stage_at(column):
            self.stage_taken.emit(*stage)
