"""The meter as it has to stand: the dial on its function, the leads in their jacks, and what its display should show.

The shape is of no maker's meter. Black in COM, red in the jack with the function's sign: common practice, no source.
"""

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from benchapp.desktop.pictures.drawings import read_table
from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr
from benchapp.judgement.meters.functions import Function

DIAL = {
    "resistance": "Ω",
    "continuity": "·)))",
    "earth continuity": "Ω",
    "insulation": "MΩ",
    "AC voltage": "V~",
    "DC voltage": "V=",
    "mains voltage": "V~",
    "AC current": "A~",
    "DC current": "A=",
    "protective conductor current": "mA",
    "touch current": "mA",
    "power": "W",
    "frequency": "Hz",
    "capacitance": "F",
    "temperature": "°C",
}
"""The sign of each function at a dial, by the trade's usual signs"""
EARTHED = frozenset({Function.earth_continuity, Function.protective_conductor_current})
"""functions whose sign has the earth symbol beside it (IEC 60417-5017): drawn, since few fonts have it"""
_HEADED = 12.0
"""lines of height from which the meter's name stands over it; below, the page's own words say it"""
_LOOSE = 0.24
"""of the height, for tips that lie apart"""
_SWEEP = 250.0
"""degrees that the positions of a dial take up"""


@dataclass(frozen=True, kw_only=True)
class MeterPicture(Picture):
    """One meter: its positions, the one to turn to, what its display should show, its jacks, its leads."""

    title: str
    positions: tuple[str, ...]
    position: str
    expects: str = ""
    """what the display should show with a sound item, leads included; empty where nothing tells it"""
    jacks: tuple[str, ...] = ("COM", "V Ω")
    polar: bool = True
    """whether it matters which lead goes where: else neither is drawn red or black"""
    together: bool = False
    """the tips touch each other"""
    loose: bool = False
    """the tips touch nothing: the dial may be turned"""

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        line = QFontMetricsF(look.font()).height()
        if box.height() > line * _HEADED:
            head = QRectF(box.left(), box.top(), box.width(), line * 1.3)
            write(painter, look, head, self.title, bold=True)
            box = box.adjusted(0, line * 1.5, 0, 0)
        if self.loose:
            free = box.height() * _LOOSE
            self._paint_loose(painter, look, QRectF(box.left(), box.bottom() - free, box.width(), free))
            box = box.adjusted(0, 0, 0, -free)
        body = self._body(box)
        painter.setPen(QPen(look.colour("ink"), 3))
        painter.setBrush(look.colour("raised"))
        painter.drawRoundedRect(body, 12, 12)
        inner = body.adjusted(10, 10, -10, -10)
        across, down = inner.width(), inner.height()
        if across > 1.3 * down:
            screen = QRectF(inner.left(), inner.top(), across * 0.46, down * 0.5)
            dial = QRectF(inner.left() + across * 0.48, inner.top(), across * 0.52, down)
            jacks = QRectF(inner.left(), inner.top() + down * 0.56, across * 0.46, down * 0.44)
        else:
            screen = QRectF(inner.left(), inner.top(), across, down * 0.23)
            dial = QRectF(inner.left(), screen.bottom() + 4, across, down * 0.5)
            jacks = QRectF(inner.left(), dial.bottom() + 2, across, inner.bottom() - dial.bottom() - 2)
        self._paint_screen(painter, look, screen)
        self._paint_dial(painter, look, dial)
        self._paint_jacks(painter, look, jacks)

    def _paint_loose(self, painter: QPainter, look: Look, room: QRectF) -> None:
        """Two probes that lie apart below the meter."""
        tokens = ("probe_black", "probe_red") if self.polar else ("focus", "focus")
        long, thick = room.width() * 0.3, max(4.0, room.height() * 0.16)
        for side, token in zip((-1, 1), tokens, strict=True):
            grip = QPointF(room.center().x() + side * room.width() * 0.06, room.top() + room.height() * 0.25)
            end = grip + QPointF(side * long * 0.75, 0)
            painter.setPen(QPen(look.colour("ink"), thick + 3, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
            painter.drawLine(grip, end)
            painter.setPen(QPen(look.colour(token), thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
            painter.drawLine(grip, end)
            painter.setPen(QPen(look.colour("ink"), 3, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
            painter.drawLine(end + QPointF(side * thick * 0.6, 0), end + QPointF(side * long * 0.25, 0))
        words = QRectF(room.left(), room.top() + room.height() * 0.45, room.width(), room.height() * 0.5)
        write(painter, look, words, tr("first: both tips off, touching nothing"), factor=1.2, bold=True)

    def _body(self, room: QRectF) -> QRectF:
        """Upright where there is height, lying where there is not."""
        shape = 0.72 if room.height() > room.width() * 0.95 else 1.75
        high = min(room.height(), room.width() / shape)
        wide = high * shape
        return QRectF(room.center().x() - wide / 2, room.center().y() - high / 2, wide, high)

    def _paint_screen(self, painter: QPainter, look: Look, room: QRectF) -> None:
        painter.setPen(QPen(look.colour("ink"), 2))
        painter.setBrush(QColor(read_table("colours")["things"]["display"]))
        painter.drawRoundedRect(room, 4, 4)
        if not self.expects:
            return
        head = QRectF(room.left(), room.top(), room.width(), room.height() * 0.34)
        ink = read_table("colours")["things"]["paper_ink"]
        painter.save()
        painter.setPen(QColor(ink))
        for place, words, factor, bold in (
            (head, tr("should show about"), 0.8, False),
            (room.adjusted(4, room.height() * 0.3, -4, -2), self.expects, 2.0, True),
        ):
            size = factor
            while size > 0.5 and QFontMetricsF(look.font(size, bold=bold)).horizontalAdvance(words) > place.width():
                size *= 0.92
            painter.setFont(look.font(size, bold=bold))
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, words)
        painter.restore()

    def _paint_dial(self, painter: QPainter, look: Look, room: QRectF) -> None:
        """The knob points at the position asked for, which stands on a plate of its own colour."""
        centre, reach = room.center(), min(room.width() * 0.5, room.height() * 0.5)
        count = len(self.positions)
        painter.setPen(QPen(look.colour("ink"), 2.5))
        painter.setBrush(look.colour("housing"))
        painter.drawEllipse(centre, reach * 0.55, reach * 0.55)
        for number, position in enumerate(self.positions):
            turn = math.radians(-90 + (_SWEEP * (number / (count - 1) - 0.5) if count > 1 else 0.0))
            way = QPointF(math.cos(turn), math.sin(turn))
            here = position == self.position
            place = centre + way * reach * 0.8
            side = reach * (0.36 if here else 0.3)
            plate = QRectF(place.x() - side * 0.62, place.y() - side / 2, side * 1.24, side)
            if here:
                painter.setPen(QPen(look.colour("focus"), 2))
                painter.setBrush(look.colour("focus"))
                painter.drawRoundedRect(plate, 4, 4)
                painter.setPen(QPen(look.colour("ink"), reach * 0.12, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
                painter.drawLine(centre - way * reach * 0.3, centre + way * reach * 0.48)
            words, colour = DIAL.get(position, position), "sheet" if here else "quiet"
            if position in EARTHED:
                beside = plate.adjusted(plate.width() * 0.58, side * 0.22, -side * 0.1, -side * 0.22)
                plate = plate.adjusted(0, 0, -plate.width() * 0.4, 0)
                _paint_earth(painter, beside, look.colour(colour))
            write(painter, look, plate, words, factor=1.2 if here else 0.9, bold=here, colour=colour)

    def _paint_jacks(self, painter: QPainter, look: Look, room: QRectF) -> None:
        if not self.jacks:
            return
        count = len(self.jacks)
        tokens = ("probe_black", "probe_red") if self.polar else ("focus", "focus")
        high = min(room.height() * 0.5, room.width() / count * 0.5)
        centres = []
        for number, words in enumerate(self.jacks):
            centre = QPointF(room.left() + room.width() * (number + 0.5) / count, room.top() + high * 0.55)
            centres.append(centre)
            painter.setPen(QPen(look.colour("ink"), 2.5))
            painter.setBrush(look.colour(tokens[number % 2]))
            painter.drawEllipse(centre, high * 0.5, high * 0.5)
            foot, wide = centre.y() + high * 0.5, room.width() / count
            label = QRectF(centre.x() - wide / 2, foot, wide, room.bottom() - foot)
            write(painter, look, label, words, factor=0.95, bold=True)
        if self.together and count > 1:
            path = QPainterPath(centres[0])
            path.cubicTo(centres[0] + QPointF(0, high), centres[-1] + QPointF(0, high), centres[-1])
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(look.colour("focus"), 4, Qt.PenStyle.DashLine))
            painter.drawPath(path)


def _paint_earth(painter: QPainter, room: QRectF, colour: QColor) -> None:
    """A stem on three lines, each shorter than the one above it (IEC 60417-5017)."""
    middle, wide = room.center(), min(room.width(), room.height())
    painter.setPen(QPen(colour, max(1.2, wide * 0.09), Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawLine(QPointF(middle.x(), middle.y() - wide * 0.5), middle)
    for number, share in enumerate((0.5, 0.32, 0.14)):
        down = middle.y() + wide * 0.2 * number
        painter.drawLine(QPointF(middle.x() - wide * share, down), QPointF(middle.x() + wide * share, down))
