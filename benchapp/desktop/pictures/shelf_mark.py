"""The stickers of two units, side by side: the one that is put away, struck out, and the one that is taken, large."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr

_AWAY = 0.36
"""the share of the width for what is put away"""


@dataclass(frozen=True, kw_only=True)
class ShelfMarkPicture(Picture):
    """Put one away, take the other."""

    away: str
    take: str
    title: str
    """what the unit that is taken is"""

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        gap = box.width() * 0.04
        left = QRectF(box.left(), box.top(), box.width() * _AWAY - gap, box.height())
        right = QRectF(box.left() + box.width() * _AWAY, box.top(), box.width() * (1 - _AWAY), box.height())
        head = min(box.height() * 0.2, look.font(1.6).pointSizeF() * 3)
        write(painter, look, QRectF(left.left(), left.top(), left.width(), head), tr("Put away"), factor=1.3)
        write(painter, look, QRectF(right.left(), right.top(), right.width(), head), tr("Take"), factor=1.6, bold=True)
        left.setTop(left.top() + head)
        right.setTop(right.top() + head)
        _sticker(painter, look, _middle(left, 0.5), self.away, colour="quiet")
        struck = _middle(left, 0.5)
        painter.setPen(QPen(look.colour("quiet"), 5))
        painter.drawLine(struck.bottomLeft(), struck.topRight())
        foot = QRectF(right.left(), right.bottom() - head, right.width(), head)
        right.setBottom(foot.top())
        _sticker(painter, look, right.adjusted(0, 4, -4, -4), self.take, colour="ink")
        write(painter, look, foot, self.title, factor=1.2)


def _middle(box: QRectF, share: float) -> QRectF:
    """So much of a box's height, in its middle."""
    high = box.height() * share
    return QRectF(box.left() + 4, box.center().y() - high / 2, box.width() - 8, high)


def _sticker(painter: QPainter, look: Look, box: QRectF, mark: str, *, colour: str) -> None:
    """A sticker with a mark as large as it has room for."""
    painter.setPen(QPen(look.colour(colour), 3))
    painter.setBrush(look.colour("ground"))
    painter.drawRoundedRect(box, 10, 10)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    hole = min(box.height(), box.width()) * 0.06
    painter.drawEllipse(QPointF(box.left() + hole * 2.2, box.top() + hole * 2.2), hole, hole)
    write(painter, look, box.adjusted(hole * 2, 0, -hole * 2, 0), mark, factor=8.0, bold=True, colour=colour)
