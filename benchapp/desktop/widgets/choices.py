"""A list of rows worked by keys: checkpoints, actions, answers, conditions.

Each row may carry a key, a sign and a second line.

The list only shows rows and says which key was struck on which row; pages decide nothing but what to ask next.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import Sign
from benchapp.desktop.widgets.bars import Drawing
from benchapp.desktop.widgets.cells import Index
from benchapp.desktop.widgets.rows_model import RowsModel
from benchapp.desktop.widgets.sign import paint_sign
from benchapp.desktop.words import tr

_ROW = Qt.ItemDataRole.UserRole
_LARGER = 1.15
_SIGNED = 7.2
"""width of a sign with its word, or of the caps of a row, in heights of a line"""
_LEAST_CAPS = 1.6
_HEIGHTS = 256
"""heights of rows that a list keeps"""
_BAR = 0.8
"""height of the bar of a share, in heights of a line"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cap:
    """A key that answers a row, drawn on the row itself; a click on it is the key."""

    key: str
    sign: Sign


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line: the key that chooses it, its sign, its words and a second, quieter line.

    `bare` draws the sign without its word, where the words say the same; a `head` stands in bold over other rows.
    `share` (0 to 1) draws a bar of that length under the words, which say the figure too; `drawing` anything else.
    `caps` stand in place of the sign while the row has no answer, or is at hand.
    """

    words: str
    detail: str = ""
    key: str = ""
    sign: Sign | None = None
    bare: bool = False
    head: bool = False
    share: float | None = None
    drawing: Drawing | None = None
    caps: tuple[Cap, ...] = ()

    def spoken(self) -> str:
        """The row as a screen reader says it."""
        sign = tr(self.sign.word) if self.sign and not self.bare else ""
        parts = (self.key, sign, self.words, self.detail)
        return ", ".join(part for part in parts if part)


class ChoiceModel(RowsModel[Row]):
    """What a list shows of its rows, and says of them aloud."""

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return row.words
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return row.spoken()
        return row if role == _ROW else None


class ChoiceList(QListView):
    """Rows of which one is at hand; `chosen` on Enter, `struck` for every other key with a text."""

    chosen = Signal(int)
    """Enter was struck on a row; -1 where no row was chosen"""
    picked = Signal(int)
    """a row that a click had taken in hand was clicked once more: the first click takes none"""
    struck = Signal(int, str)
    row_changed = Signal()

    def __init__(
        self,
        look: Look,
        name: str,
        title: str = "",
        *,
        passive: bool = False,
        led: bool = False,
        of_answers: bool = False,
    ) -> None:
        """A passive list is only read: no row is at hand and it takes no keys. In a led one the page moves the row.

        In a list of answers no row is at hand until a person has gone to one: Enter takes none that was not chosen.
        """
        super().__init__()
        self._passive, self._of_answers = passive, of_answers
        self._pressed = ""
        """the key on whose cap the mouse went down"""
        self._clicked = -1
        """the row that a click took in hand"""
        if passive:
            self.setSelectionMode(QListView.SelectionMode.NoSelection)
        if passive or led:
            self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setObjectName(name)
        self.setAccessibleName(title)
        self._rows = ChoiceModel()
        self.setModel(self._rows)
        self._painter = _RowPainter(look, self)
        self.setItemDelegate(self._painter)
        self.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setUniformItemSizes(False)
        self.setWordWrap(True)
        self.clicked.connect(self._click)
        self.doubleClicked.connect(self._click)
        self._look = look
        self._grow()
        look.changed.connect(self._grow)

    def _grow(self) -> None:
        """Rows are read from where the hands are: a little larger than running text."""
        self.setFont(self._look.font(_LARGER))
        self._painter.forget_heights()
        self.scheduleDelayedItemsLayout()
        self._fit()

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show these rows, the first one at hand when they are others than before."""
        if [row.words for row in rows] != [row.words for row in self.rows()]:
            self._clicked = -1
        self._rows.set_rows(rows)
        if rows and not self._passive and not self._of_answers and not self.currentIndex().isValid():
            self.go_to(0)
        self._fit()

    def rows(self) -> tuple[Row, ...]:
        """What is shown now."""
        return self._rows.rows

    def row_at_hand(self) -> int:
        """The number of the row at hand, -1 when there is none."""
        if self._of_answers and not self.selectionModel().hasSelection():
            return -1  # Qt calls the first row current when the keyboard comes to the list
        return self.currentIndex().row()

    def go_to(self, number: int) -> None:
        """Take a row in hand and show it."""
        if 0 <= number < self._rows.rowCount():
            self.setCurrentIndex(self._rows.index(number, 0))

    def _click(self, index: Index) -> None:
        """Pick the row where the click before this one took it in hand."""
        again = self._clicked == index.row()
        self._clicked = -1 if again else index.row()
        if again:
            self.picked.emit(index.row())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click on a cap takes the row in hand and strikes its key; any other click is the list's own."""
        index = self.indexAt(event.position().toPoint())
        self._pressed = self.key_at(event.position()) if event.button() == Qt.MouseButton.LeftButton else ""
        if self._pressed:
            self.go_to(index.row())
            self.setFocus()
        else:
            super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed = self._pressed, ""
        if pressed:
            self.struck.emit(self.row_at_hand(), pressed)
        else:
            super().mouseReleaseEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """The second press of a double click strikes no cap: what stands there may be the next page's."""
        if not self.key_at(event.position()):
            super().mouseDoubleClickEvent(event)

    def key_at(self, place: QPointF) -> str:
        """The key of the cap that is drawn there; empty where there is none."""
        index = self.indexAt(place.toPoint())
        if not index.isValid() or self._passive:
            return ""
        return self._painter.key_at(index.data(_ROW), self.visualRect(index), place)

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        self.row_changed.emit()

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 24, min(self._content_height(), line * 8))

    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 14, min(self.sizeHint().height(), line * 7))

    def _content_height(self) -> int:
        """What the rows need at this width; the list is never higher."""
        # The rows are asked themselves: a list that lays itself out while it is being resized never comes to an end.
        return sum(self._painter.height_of(row) for row in self.rows()) + 2 * self.frameWidth() + 4

    def _fit(self) -> None:
        self.setMaximumHeight(max(self._content_height(), self.fontMetrics().height() * 2))
        self.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()
        self._fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, text, row = event.key(), event.text(), self.row_at_hand()
        entered = key in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if entered:
            self.chosen.emit(row)
        elif text and text.isprintable() and not event.modifiers() & _WITH:
            self.struck.emit(row, text)
        elif row < 0 and key in _TO_FIRST:
            self.go_to(0 if key == Qt.Key.Key_Down else self._rows.rowCount() - 1)
        else:
            super().keyPressEvent(event)


_TO_FIRST = (Qt.Key.Key_Down, Qt.Key.Key_Up)
_WITH = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


class _RowPainter(QStyledItemDelegate):
    """Draws a row: key cap, sign with its word, words that wrap, second line."""

    def __init__(self, look: Look, view: ChoiceList) -> None:
        super().__init__(view)
        self._look = look
        self._view = view
        self._heights: dict[tuple[Row, int], int] = {}
        """by row and width of the list: Qt asks many times while a page is laid out"""

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(self._view.viewport().width(), self.height_of(index.data(_ROW)))

    def height_of(self, row: Row) -> int:
        """What the row needs at the width of its list, the room of a scroll bar left free whether there is one or not.

        Else a list that just fits grows with its scroll bar and shrinks without it, for ever.
        """
        width = self._view.width() - 2 * self._view.frameWidth() - self._view.verticalScrollBar().sizeHint().width()
        found = self._heights.get((row, width))
        if found is None:
            if len(self._heights) >= _HEIGHTS:
                self._heights.clear()
            found = self._heights[row, width] = self._height_at(width, row)
        return found

    def forget_heights(self) -> None:
        """Text of another size needs other heights."""
        self._heights.clear()

    def _height_at(self, width: int, row: Row) -> int:
        metrics = QFontMetrics(self._look.font(_LARGER))
        line = metrics.height()
        space = QRect(0, 0, int(max(width - self._left(row, line) - line, line * 6)), 10000)
        texts = [text for text in (row.words, row.detail) if text]
        height = sum(metrics.boundingRect(space, Qt.TextFlag.TextWordWrap, text).height() for text in texts)
        bar = (0.0 if row.share is None else line * _BAR) + (line * row.drawing.height if row.drawing else 0.0)
        return int(height + bar + line * 0.7)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(_ROW)
        here = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setFont(self._look.font(_LARGER))
        line = float(painter.fontMetrics().height())
        box = QRectF(option.rect)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if here:
            painter.fillRect(box, self._look.colour("chosen"))
        ink = self._look.colour("on_chosen" if here else "ink")
        inner = box.adjusted(line * 0.5, line * 0.35, -line * 0.5, -line * 0.35)
        self._paint_head(painter, row, inner, line, here=here)
        text = inner.adjusted(self._left(row, line) - line * 0.5, 0, 0, 0)
        painter.setPen(ink)
        painter.setFont(self._look.font(_LARGER, bold=row.head))
        used = painter.drawText(text, Qt.TextFlag.TextWordWrap, row.words).height()
        if row.share is not None:
            self._paint_share(
                painter, QRectF(text.left(), text.top() + used, text.width(), line * _BAR), row.share, here=here
            )
            used += int(line * _BAR)
        if row.drawing is not None:
            high = line * row.drawing.height
            row.drawing.paint(painter, QRectF(text.left(), text.top() + used, text.width(), high), self._look)
            used += int(high)
        if row.detail:
            painter.setPen(self._look.colour("on_chosen" if here else "quiet"))
            painter.drawText(text.adjusted(0, used, 0, 0), Qt.TextFlag.TextWordWrap, row.detail)
        painter.setPen(QPen(self._look.colour("rule"), 1))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        painter.restore()

    def _paint_head(self, painter: QPainter, row: Row, inner: QRectF, line: float, *, here: bool) -> None:
        left = inner.left()
        if row.caps:
            self._paint_caps(painter, row, inner, line, here=here)
            return
        if row.key:
            cap = self._key_box(inner, line)
            painter.setPen(QPen(self._look.colour("line"), 1.5))
            painter.setBrush(self._look.colour("sheet"))
            painter.drawRoundedRect(cap, 3, 3)
            painter.setPen(self._look.colour("ink"))
            painter.drawText(cap, Qt.AlignmentFlag.AlignCenter, row.key)
            left += line * 2
        if row.sign:
            colour = self._look.colour("on_chosen" if here else row.sign.tone.value)
            ground = self._look.colour("chosen" if here else "sheet")
            paint_sign(painter, QRectF(left, inner.top(), line, line), row.sign.shape, colour, ground)
            if not row.bare:
                painter.setPen(colour)
                word = QRectF(left + line * 1.4, inner.top(), line * 6, line)
                painter.drawText(word, Qt.AlignmentFlag.AlignVCenter, tr(row.sign.word))

    def _cap_boxes(self, row: Row, inner: QRectF, line: float) -> list[tuple[Cap, QRectF]]:
        wide = line * (_SIGNED - 0.4) / max(len(row.caps), _LEAST_CAPS)
        tall = line * 1.35
        return [
            (cap, QRectF(inner.left() + number * wide, inner.top() - line * 0.15, wide - line * 0.15, tall))
            for number, cap in enumerate(row.caps)
        ]

    def _key_box(self, inner: QRectF, line: float) -> QRectF:
        return QRectF(inner.left(), inner.top() - line * 0.1, line * 1.4, line * 1.2)

    def key_at(self, row: Row, room: QRect, at: QPointF) -> str:
        """The key of the cap under the mouse; empty where there is none."""
        line = float(QFontMetrics(self._look.font(_LARGER)).height())
        inner = QRectF(room).adjusted(line * 0.5, line * 0.35, -line * 0.5, -line * 0.35)
        caps = [(cap.key, box) for cap, box in self._cap_boxes(row, inner, line)]
        if row.key and not row.caps:
            caps.append((row.key, self._key_box(inner, line)))
        return next((key for key, box in caps if box.contains(at)), "")

    def _paint_caps(self, painter: QPainter, row: Row, inner: QRectF, line: float, *, here: bool) -> None:
        """The keys that answer the row: each with what it means; the one that was struck is filled."""
        for cap, box in self._cap_boxes(row, inner, line):
            given = row.sign == cap.sign
            painter.setPen(QPen(self._look.colour("ink" if here else "line"), 2 if here else 1.2))
            painter.setBrush(self._look.colour("sheet"))
            painter.drawRoundedRect(box, 4, 4)
            side = min(line * 0.85, box.width() * 0.45)
            painter.setPen(self._look.colour("ink" if here else "quiet"))
            text = QRectF(box.left(), box.top(), box.width() - side - 3, box.height())
            painter.drawText(text, Qt.AlignmentFlag.AlignCenter, cap.key)
            mark = QRectF(box.right() - side - 4, box.center().y() - side / 2, side, side)
            tone = cap.sign.tone.value if given or (here and row.sign not in [one.sign for one in row.caps]) else "line"
            paint_sign(painter, mark, cap.sign.shape, self._look.colour(tone), self._look.colour("sheet"))
            if given:
                painter.setPen(QPen(self._look.colour(cap.sign.tone.value), 3))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRoundedRect(box, 4, 4)

    def _paint_share(self, painter: QPainter, room: QRectF, share: float, *, here: bool) -> None:
        """A bar in its frame: the frame is the whole, the filled length the share."""
        bar = room.adjusted(1, room.height() * 0.3, -1, -room.height() * 0.2)
        painter.setPen(QPen(self._look.colour("on_chosen" if here else "line"), 1.5))
        painter.setBrush(self._look.colour("chosen" if here else "sheet"))
        painter.drawRect(bar)
        filled = QRectF(bar.left(), bar.top(), bar.width() * min(max(share, 0.0), 1.0), bar.height())
        painter.fillRect(filled, self._look.colour("on_chosen" if here else "ink"))

    def _left(self, row: Row, line: float) -> int:
        """Where the words begin."""
        sign = _SIGNED if row.caps else 0.0 if row.sign is None else 1.6 if row.bare else _SIGNED
        return int(line * (0.5 + (2 if row.key else 0) + sign))
