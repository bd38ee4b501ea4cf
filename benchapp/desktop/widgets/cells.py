"""How a cell of a table is drawn: its sign, if it has one, then its words; the first column in bold.

Cells that look alike, of which a board of many units has hundreds, are drawn once and kept as a picture.
"""

from collections.abc import Callable

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPixmap
from PySide6.QtWidgets import QAbstractItemView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import Sign
from benchapp.desktop.widgets.sign import paint_sign

Index = QModelIndex | QPersistentModelIndex
"""What Qt hands to models, views and painters."""
SIGN_ROLE = Qt.ItemDataRole.UserRole
"""The role under which a model gives a cell's `Sign`."""
CellOf = Callable[[int, int], tuple[str, Sign | None]]
"""the words and the sign of the cell in a row and a column"""
_KEPT = 4000
"""pictures of cells that are kept: a board of this many that differ begins anew"""


class CellPainter(QStyledItemDelegate):
    """Draws a cell: the sign, then its word."""

    def __init__(self, look: Look, view: QAbstractItemView, cell: CellOf) -> None:
        super().__init__(view)
        self._look, self._view, self._cell = look, view, cell
        self._pictures: dict[tuple[object, ...], QPixmap] = {}
        self._fonts: dict[bool, tuple[QFont, QFontMetrics]] = {}
        look.changed.connect(self._forget)

    def _forget(self) -> None:
        self._pictures.clear()
        self._fonts.clear()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        column, rect = index.column(), option.rect
        words, sign = self._cell(index.row(), column)
        here = bool(option.state & QStyle.StateFlag.State_Selected)
        if sign is None:
            painter.save()
            if here:
                painter.fillRect(rect, self._look.colour("chosen"))
            self._draw(painter, QRectF(rect), words, None, here=here, bold=column == 0)
            painter.restore()
            return
        size, ratio = rect.size(), self._view.devicePixelRatioF()
        asked = (words, sign.shape, here, size.width(), size.height(), ratio)
        picture = self._pictures.get(asked)
        if picture is None:
            if len(self._pictures) >= _KEPT:
                self._pictures.clear()
            picture = self._pictures[asked] = self._picture(size, ratio, words, sign, here=here)
        painter.drawPixmap(rect.topLeft(), picture)

    def _picture(self, size: QSize, ratio: float, words: str, sign: Sign, *, here: bool) -> QPixmap:
        """The cell on the ground of its table."""
        picture = QPixmap(size * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(self._look.colour("chosen" if here else "sheet"))
        painter = QPainter(picture)
        self._draw(painter, QRectF(0, 0, size.width(), size.height()), words, sign, here=here, bold=False)
        painter.end()
        return picture

    def _draw(self, painter: QPainter, box: QRectF, words: str, sign: Sign | None, *, here: bool, bold: bool) -> None:
        if bold not in self._fonts:
            font = self._look.font(bold=bold)
            self._fonts[bold] = font, QFontMetrics(font)
        font, metrics = self._fonts[bold]
        line, left = metrics.height(), box.left() + metrics.height() * 0.4
        colour = self._look.colour("on_chosen" if here else sign.tone.value if sign else "ink")
        if sign is not None:
            mark = QRectF(left, box.center().y() - line * 0.42, line * 0.84, line * 0.84)
            paint_sign(painter, mark, sign.shape, colour, self._look.colour("chosen" if here else "sheet"))
            left += line * 1.25
        room = box.right() - left - line * 0.2
        if metrics.horizontalAdvance(words) > room:
            words = metrics.elidedText(words, Qt.TextElideMode.ElideRight, int(room))
        painter.setPen(colour)
        painter.setFont(font)
        painter.drawText(QPoint(round(left), round(box.center().y() - line / 2 + metrics.ascent())), words)
