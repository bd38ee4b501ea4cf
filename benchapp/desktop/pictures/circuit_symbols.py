"""The sign of each kind of part, drawn along a line from left to right around a middle point.

Plain forms after IEC 60617 as textbooks show them (from memory).
"""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

Draw = Callable[[QPainter, float], None]


def paint_part(
    painter: QPainter, kind: str, middle: QPointF, turn: float, size: float, ink: QColor, ground: QColor
) -> None:
    """Paint the sign of a kind of part; `turn` in degrees, `size` its length in pixels."""
    painter.save()
    painter.translate(middle)
    painter.rotate(turn)
    painter.setBrush(ground)
    painter.setPen(QPen(ink, 2.2))
    SYMBOLS.get(kind, _box)(painter, size)
    painter.restore()


def _box(painter: QPainter, size: float) -> None:
    painter.drawRect(QRectF(-size / 2, -size / 5, size, size / 2.5))


def _fuse(painter: QPainter, size: float) -> None:
    _box(painter, size)
    painter.drawLine(QPointF(-size / 2, 0), QPointF(size / 2, 0))


def _winding(painter: QPainter, size: float) -> None:
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawRect(QRectF(-size / 2, -2, size, 4))
    painter.restore()
    for number in range(4):
        painter.drawArc(QRectF(-size / 2 + number * size / 4, -size / 6, size / 4, size / 3), 0, 180 * 16)


def _switch(painter: QPainter, size: float) -> None:
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawRect(QRectF(-size / 2, -3, size, 6))
    painter.restore()
    painter.drawLine(QPointF(-size / 2, 0), QPointF(size / 2.6, -size / 3))
    for end in (-size / 2, size / 2):
        painter.drawEllipse(QPointF(end, 0), 2.5, 2.5)


def _diode(painter: QPainter, size: float) -> None:
    half = size / 3
    painter.drawPolygon(QPolygonF([QPointF(-half, -half), QPointF(-half, half), QPointF(half, 0)]))
    painter.drawLine(QPointF(half, -half), QPointF(half, half))


def _capacitor(painter: QPainter, size: float) -> None:
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawRect(QRectF(-size / 9, -3, size / 4.5, 6))
    painter.restore()
    for end in (-size / 9, size / 9):
        painter.drawLine(QPointF(end, -size / 3), QPointF(end, size / 3))


def _joint(painter: QPainter, _size: float) -> None:
    painter.drawEllipse(QPointF(0, 0), 3.5, 3.5)


SYMBOLS: dict[str, Draw] = {
    "fuse": _fuse,
    "winding": _winding,
    "switch": _switch,
    "diode": _diode,
    "capacitor": _capacitor,
    "link": _joint,
    "earth": _joint,
}
