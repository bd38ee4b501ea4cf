"""What stands between the wall and the item, drawn in the order in which it is plugged together."""

from dataclasses import dataclass
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from benchapp.desktop.pictures.drawings import drawing, fitted
from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look


@dataclass(frozen=True, kw_only=True)
class LinePicture(Picture):
    """The things in line from the wall on, each with its name; the one to look at is ringed.

    `apart` is where the line is open: that many things from the wall on, 0 where it is closed.
    """

    things: tuple[tuple[str, str], ...]
    """the name of each in the drawing, and what it is called"""
    marked: str = ""
    apart: int = 0

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        made = drawing("in-line", dark=look.dark)
        places = self._places(box, look)
        centres = [icon.center() for icon, _words in places]
        for number, (start, end) in enumerate(pairwise(centres), start=1):
            dash = Qt.PenStyle.DotLine if number == self.apart else Qt.PenStyle.SolidLine
            painter.setPen(QPen(look.colour("quiet" if number == self.apart else "ink"), 7, dash))
            painter.drawLine(start, end)
        for (thing, words), (icon, room) in zip(self.things, places, strict=True):
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(look.colour("sheet"))
            painter.drawRect(icon.adjusted(2, 2, -2, -2))
            made.render(painter, thing, icon)
            here = thing == self.marked
            if here:
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(look.colour("focus"), 4))
                painter.drawRoundedRect(icon.adjusted(1, 1, -1, -1), 8, 8)
            side = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
            align = side if room.left() > icon.right() else Qt.AlignmentFlag.AlignCenter
            write(painter, look, room, words, factor=1.1, bold=here, colour="focus" if here else "ink", align=align)

    def _places(self, box: QRectF, look: Look) -> list[tuple[QRectF, QRectF]]:
        """Where each thing and its name stand: in a row where the room is wide, else one below the other."""
        count, line = len(self.things), QFontMetricsF(look.font(1.1)).height()
        if box.width() > 1.9 * box.height():
            wide = box.width() / count
            cells = [QRectF(box.left() + i * wide, box.top(), wide, box.height()) for i in range(count)]
            return [
                (
                    fitted(cell.adjusted(4, 0, -4, -2.4 * line), 1, 1),
                    QRectF(cell.left(), cell.bottom() - 2.3 * line, wide, 2.3 * line),
                )
                for cell in cells
            ]
        high = min(box.height() / count, box.width() * 0.5)
        top = box.center().y() - high * count / 2
        left = box.left() + box.width() * 0.06
        icons = [QRectF(left, top + i * high + high * 0.05, high * 0.9, high * 0.9) for i in range(count)]
        return [
            (icon, QRectF(QPointF(icon.right() + line * 0.6, icon.top()), QPointF(box.right(), icon.bottom())))
            for icon in icons
        ]
