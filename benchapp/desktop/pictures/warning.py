"""A warning sign: a yellow triangle with a black edge and what can hurt in it, drawn by us in the manner of ISO 7010.

Which sign a caution has stands in resources/pictures; shapes and colours of warning signs: ISO 3864-1 (from memory).
"""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from benchapp.desktop.pictures.drawings import read_table
from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look

_FLASH = ((52, 34), (38, 60), (49, 60), (43, 82), (62, 52), (51, 52), (57, 34))
"""the flash of electricity, in hundredths of the sign"""
_WAVES = (38, 50, 62)
"""where heat rises over a hot surface, in hundredths of the sign"""
SIGNS = ("electricity", "hot surface", "fumes", "general")


@dataclass(frozen=True, kw_only=True)
class WarningPicture(Picture):
    """One sign with its words below."""

    sign: str
    title: str

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        things = read_table("colours")["things"]
        ink, ground = QColor(things["warning_ink"]), QColor(things["warning"])
        side = min(box.width() * 0.9, box.height() * 0.78)
        room = QRectF(box.center().x() - side / 2, box.top() + (box.height() * 0.82 - side) / 2, side, side)
        words = QRectF(box.left(), room.bottom() + 4, box.width(), box.bottom() - room.bottom() - 4)
        write(painter, look, words, self.title, factor=1.3, bold=True)
        painter.save()
        painter.translate(room.topLeft())
        painter.scale(side / 100, side / 100)
        join = Qt.PenJoinStyle.RoundJoin
        painter.setPen(QPen(ink, 7, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, join))
        painter.setBrush(ground)
        painter.drawPolygon(QPolygonF([QPointF(50, 8), QPointF(95, 88), QPointF(5, 88)]))
        painter.setBrush(ink)
        getattr(self, "_paint_" + self.sign.replace(" ", "_"), self._paint_general)(painter, ink)
        painter.restore()

    def _paint_electricity(self, painter: QPainter, _ink: QColor) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in _FLASH]))

    def _paint_hot_surface(self, painter: QPainter, ink: QColor) -> None:
        """Three waves over a line."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink, 4.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        for x in _WAVES:
            path = QPainterPath(QPointF(x, 72))
            path.cubicTo(QPointF(x - 7, 64), QPointF(x + 7, 58), QPointF(x, 48 if x == 50 else 54))
            painter.drawPath(path)
        painter.drawLine(QPointF(28, 79), QPointF(72, 79))

    def _paint_fumes(self, painter: QPainter, ink: QColor) -> None:
        """An open bottle with vapour over it."""
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawRoundedRect(QRectF(40, 58, 20, 23), 3, 3)
        painter.drawRect(QRectF(46, 51, 8, 9))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink, 3, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        for x in (47, 53):
            path = QPainterPath(QPointF(x, 47))
            path.cubicTo(QPointF(x - 4, 43), QPointF(x + 4, 40), QPointF(x, 34))
            painter.drawPath(path)

    def _paint_general(self, painter: QPainter, _ink: QColor) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawPolygon(QPolygonF([QPointF(45, 34), QPointF(55, 34), QPointF(53, 64), QPointF(47, 64)]))
        painter.drawEllipse(QPointF(50, 74), 5, 5)
