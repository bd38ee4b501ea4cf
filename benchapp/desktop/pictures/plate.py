"""The rating plate as it should read by our record of the design."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from benchapp.desktop.pictures.drawings import fitted
from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr


@dataclass(frozen=True, kw_only=True)
class PlatePicture(Picture):
    """A plate with its lines (what and value), and the mark of its protection class."""

    lines: tuple[tuple[str, str], ...]
    double_insulated: bool = False

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        line = QFontMetricsF(look.font()).height()
        head = QRectF(box.left(), box.top(), box.width(), line * 1.6)
        write(painter, look, head, tr("The rating plate should say"), bold=True)
        plate = fitted(box.adjusted(0, line * 2, 0, 0), 1.5, 1).adjusted(4, 4, -4, -4)
        painter.setPen(QPen(look.colour("ink"), 3))
        painter.setBrush(look.colour("raised"))
        painter.drawRoundedRect(plate, 10, 10)
        painter.setBrush(look.colour("sheet"))
        for corner in (plate.topLeft(), plate.topRight(), plate.bottomLeft(), plate.bottomRight()):
            middle = plate.center()
            inward = QPointF(12 if corner.x() < middle.x() else -12, 12 if corner.y() < middle.y() else -12)
            painter.drawEllipse(corner + inward, 4, 4)
        inner = plate.adjusted(line * 1.2, line * 0.8, -line * 1.2, -line * 0.8)
        high = inner.height() / max(len(self.lines), 1)
        for number, (what, value) in enumerate(self.lines):
            row = QRectF(inner.left(), inner.top() + number * high, inner.width(), high)
            left = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
            write(painter, look, row.adjusted(0, 0, -row.width() * 0.6, 0), what, colour="quiet", align=left)
            room = row.adjusted(row.width() * 0.42, 0, 0, 0)
            if not value and self.double_insulated:
                _square_in_square(painter, look, room)
            else:
                write(painter, look, room, value, factor=1.5, bold=True, align=left)


def _square_in_square(painter: QPainter, look: Look, room: QRectF) -> None:
    """IEC 60417-5172: double insulated."""
    side = min(room.height() * 0.8, room.width())
    outer = QRectF(room.left(), room.center().y() - side / 2, side, side)
    painter.setPen(QPen(look.colour("ink"), 3))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(outer)
    painter.drawRect(outer.adjusted(side * 0.25, side * 0.25, -side * 0.25, -side * 0.25))
