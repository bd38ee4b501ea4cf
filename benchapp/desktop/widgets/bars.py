"""What a row of a list may draw under its words: the parts of a whole, or a share with the range it may lie in.

The words of the row say every figure too; a part carries its sign, so that none is told by colour alone.
"""

from dataclasses import dataclass
from typing import Protocol

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import Sign, Tone
from benchapp.desktop.widgets.sign import paint_sign


class Drawing(Protocol):
    """Drawn under the words of a row."""

    @property
    def height(self) -> float:
        """How high it is, in heights of a line."""

    def paint(self, painter: QPainter, room: QRectF, look: Look) -> None:
        """Draw it into that room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsBar:
    """So many units of each sort beside each other, as wide as they are many."""

    parts: tuple[tuple[Sign, int], ...]
    of: int = 0
    """how many the whole bar stands for; by itself all parts together"""
    height: float = 1.3

    def paint(self, painter: QPainter, room: QRectF, look: Look) -> None:
        whole = self.of or sum(units for _sign, units in self.parts)
        left = room.left()
        for sign, units in self.parts:
            wide = room.width() * units / max(whole, 1)
            part = QRectF(left, room.top() + room.height() * 0.12, wide, room.height() * 0.76)
            self._paint_part(painter, part, sign, look)
            left += wide

    def _paint_part(self, painter: QPainter, part: QRectF, sign: Sign, look: Look) -> None:
        empty = sign.tone is Tone.quiet
        colour, ground = look.colour(sign.tone.value), look.colour("sheet")
        painter.setPen(QPen(look.colour("line") if empty else ground, 1.5))
        painter.setBrush(look.colour("raised") if empty else colour)
        painter.drawRect(part.adjusted(1, 0, -1, 0))
        side = part.height() * 0.8
        if part.width() > side * 1.3:
            box = QRectF(part.left() + side * 0.3, part.center().y() - side / 2, side, side)
            paint_sign(painter, box, sign.shape, colour if empty else ground, ground if empty else colour)


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeBar:
    """A share from 0 to 1 as a point on a line, and around it the range in which the true one lies."""

    share: float
    lower: float
    upper: float
    height: float = 1.1

    def paint(self, painter: QPainter, room: QRectF, look: Look) -> None:
        inner = room.adjusted(room.height() / 2, 0, -room.height() / 2, 0)
        middle, tall = room.center().y(), room.height() * 0.5

        def at(share: float) -> float:
            return inner.left() + inner.width() * share

        painter.setPen(QPen(look.colour("line"), 1.5))
        painter.drawLine(QPointF(inner.left(), middle), QPointF(inner.right(), middle))
        for mark in (0.0, 0.5, 1.0):
            painter.drawLine(QPointF(at(mark), middle - tall / 2), QPointF(at(mark), middle + tall / 2))
        painter.setPen(QPen(look.colour("quiet"), tall * 0.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        painter.drawLine(QPointF(at(self.lower), middle), QPointF(at(self.upper), middle))
        painter.setPen(QPen(look.colour("sheet"), 1.5))
        painter.setBrush(look.colour("ink"))
        painter.drawEllipse(QPointF(at(self.share), middle), tall * 0.6, tall * 0.6)
