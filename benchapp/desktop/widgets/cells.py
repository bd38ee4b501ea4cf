"""How a cell of a table is drawn: its sign, if it has one, then its words; the first column in bold."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QAbstractItemView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.sign import paint_sign

Index = QModelIndex | QPersistentModelIndex
"""What Qt hands to models, views and painters."""
SIGN_ROLE = Qt.ItemDataRole.UserRole
"""The role under which a model gives a cell's `Sign`."""


class CellPainter(QStyledItemDelegate):
    """Draws a cell: the sign, then its word."""

    def __init__(self, look: Look, view: QAbstractItemView) -> None:
        super().__init__(view)
        self._look = look

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        here = bool(option.state & QStyle.StateFlag.State_Selected)
        sign, words = index.data(SIGN_ROLE), index.data()
        line = option.fontMetrics.height()
        box = QRectF(option.rect)
        painter.save()
        if here:
            painter.fillRect(option.rect, self._look.colour("chosen"))
        left = line * 0.4
        colour = self._look.colour("on_chosen" if here else "ink")
        if sign is not None:
            colour = self._look.colour("on_chosen" if here else sign.tone.value)
            mark = QRectF(box.left() + left, box.center().y() - line * 0.42, line * 0.84, line * 0.84)
            paint_sign(painter, mark, sign.shape, colour, self._look.colour("chosen" if here else "sheet"))
            left += line * 1.25
        painter.setPen(QPen(colour))
        if index.column() == 0:
            painter.setFont(self._look.font(1.0, bold=True))
        room = box.adjusted(left, 0, -line * 0.2, 0)
        shown = painter.fontMetrics().elidedText(str(words or ""), Qt.TextElideMode.ElideRight, int(room.width()))
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, shown)
        painter.restore()
