"""Pictures made from the drawings: one with parts marked, and good beside bad."""

from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PySide6.QtSvg import QSvgRenderer

from benchapp.desktop.pictures.drawings import (
    PLAIN,
    Colours,
    drawing,
    named_colours,
    paint_part,
    paint_whole,
    place_of,
    read_table,
)
from benchapp.desktop.pictures.picture import Picture, tag, write
from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import Shape
from benchapp.desktop.widgets.face_painter import FacePainter
from benchapp.desktop.widgets.face_parts import FacePart
from benchapp.desktop.widgets.sign import paint_sign
from benchapp.desktop.words import tr

_VEIL = 0.62  # how far what is not marked falls back


def _holds_others(made: QSvgRenderer, part: str, area: QRectF) -> bool:
    """Whether other named parts lie within this one: painted alone, it would hide them."""
    place = place_of(made, part, area)
    others = (one for one in read_table("pictures")["parts"] if one != part and made.elementExists(one))
    return any(place.contains(place_of(made, one, area)) for one in others)


@dataclass(frozen=True, kw_only=True)
class DrawingPicture(Picture):
    """One drawing, with parts of it marked by ring and name, and below it the colours of the cores, new and before."""

    name: str
    marks: tuple[tuple[str, str], ...] = ()
    """parts of the drawing and what each is called"""
    colours: Colours = PLAIN
    before: Colours = ()
    letters: tuple[tuple[str, str], ...] = ()
    """what stands at a core's terminal, by core"""

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        made = drawing(self.name, self.colours, dark=look.dark)
        line = QFontMetricsF(look.font()).height()
        rows = len(self.colours) if self.before else 0
        beside = box.width() > 1.5 * box.height()
        legend = QRectF(box)
        if rows and beside:
            legend.setLeft(box.right() - box.width() * 0.4)
            box = QRectF(box.left(), box.top(), box.width() * 0.58, box.height())
        elif rows:
            legend.setTop(box.bottom() - min(line * 1.55 * rows, box.height() * 0.4))
            box = QRectF(box.left(), box.top(), box.width(), legend.top() - box.top() - line * 0.4)
        area = paint_whole(painter, made, box.adjusted(0, line * 0.8, 0, 0) if self.marks else box)
        self._mark(painter, look, area, box)
        for core, words in self.letters:
            write(painter, look, place_of(made, f"letter-{core}", area), words, factor=1.25, bold=True)
        if rows:
            self._explain(painter, look, legend)

    def _mark(self, painter: QPainter, look: Look, area: QRectF, box: QRectF) -> None:
        """What is not marked falls back; each marked part is ringed and named."""
        if not self.marks:
            return
        made = drawing(self.name, self.colours, dark=look.dark)
        veil = QColor(look.colour("sheet"))
        veil.setAlphaF(_VEIL)
        painter.fillRect(area, veil)
        places = [(place_of(made, part, area), words) for part, words in self.marks]
        for (part, _words), (place, _) in zip(self.marks, places, strict=True):
            if _holds_others(made, part, area):
                painter.save()
                painter.setClipRect(place, Qt.ClipOperation.IntersectClip)
                made.render(painter, area)
                painter.restore()
            else:
                made.render(painter, part, place)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for place, _words in places:
            painter.setPen(QPen(look.colour("focus"), 3.5))
            painter.drawRoundedRect(place.adjusted(-4, -4, 4, 4), 6, 6)
        if len(places) <= 2:
            tag(painter, look, places[0][0].adjusted(-4, -4, 4, 4), places[0][1], box)

    def _explain(self, painter: QPainter, look: Look, room: QRectF) -> None:
        """A row for each core: its letter, a stripe of its colour with the word, and the colour before."""
        high = room.height() / len(self.colours)
        old, letters = dict(self.before), dict(self.letters)
        for number, (core, words) in enumerate(self.colours):
            row = QRectF(room.left(), room.top() + number * high, room.width(), high)
            mark = QRectF(row.left(), row.top(), high, high)
            write(painter, look, mark, letters.get(core, "") or core[:1].upper(), bold=True)
            half = (row.width() - high) / 2
            now = QRectF(mark.right(), row.top(), half, high)
            self._swatch(painter, look, now, words, words)
            if old.get(core):
                said = tr("before: {colour}").format(colour=old[core])
                self._swatch(painter, look, now.translated(half, 0), old[core], said)

    def _swatch(self, painter: QPainter, look: Look, room: QRectF, colour: str, words: str) -> None:
        wide = min(room.height() * 1.3, room.width() * 0.3)
        core = QRectF(room.left() + 4, room.center().y() - room.height() * 0.17, wide, room.height() * 0.34)
        shades = named_colours(colour)
        painter.setPen(QPen(look.colour("ink"), 1.5))
        painter.setBrush(QColor(shades[0]) if shades else look.colour("line"))
        painter.drawRect(core)
        for number in range(3 if len(shades) > 1 else 0):
            part = core.width() / 6
            painter.fillRect(
                QRectF(core.left() + part * (2 * number + 1), core.top() + 1, part, core.height() - 2),
                QColor(shades[1]),
            )
        left = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        write(painter, look, room.adjusted(wide + 12, 0, -2, 0), words, factor=0.95, align=left)


@dataclass(frozen=True, kw_only=True)
class PairPicture(Picture):
    """One thing twice: as it should be, and as it must not be; each with its sign and a few words."""

    name: str
    good: str
    bad: str
    colours: Colours = PLAIN

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        made = drawing(f"pair-{self.name}", self.colours, dark=look.dark)
        beside = box.width() > 1.25 * box.height()
        for number, (part, words) in enumerate((("good", self.good), ("bad", self.bad))):
            if beside:
                room = QRectF(box.left() + number * box.width() / 2, box.top(), box.width() / 2, box.height())
            else:
                room = QRectF(box.left(), box.top() + number * box.height() / 2, box.width(), box.height() / 2)
            self._paint_one(painter, look, room.adjusted(8, 4, -8, -4), (part, words))
            area = room.adjusted(8, 4, -8, -4 - QFontMetricsF(look.font(1.1)).height() * 1.5)
            paint_part(painter, made, part, area)
        painter.setPen(QPen(look.colour("rule"), 2))
        middle = box.center()
        ends = (
            ((middle.x(), box.top()), (middle.x(), box.bottom()))
            if beside
            else ((box.left(), middle.y()), (box.right(), middle.y()))
        )
        painter.drawLine(QPointF(*ends[0]), QPointF(*ends[1]))

    def _paint_one(self, painter: QPainter, look: Look, room: QRectF, said: tuple[str, str]) -> None:
        part, words = said
        high = QFontMetricsF(look.font(1.1)).height() * 1.4
        foot = QRectF(room.left(), room.bottom() - high, room.width(), high)
        wide = min(QFontMetricsF(look.font(1.1, bold=True)).horizontalAdvance(words), foot.width() - high)
        left = foot.center().x() - (wide + high) / 2
        shape = Shape.tick if part == "good" else Shape.cross
        sign = QRectF(left, foot.top() + high * 0.14, high * 0.72, high * 0.72)
        paint_sign(painter, sign, shape, look.colour(part), look.colour("sheet"))
        text = QRectF(left + high, foot.top(), wide + 4, high)
        write(painter, look, text, words, factor=1.1, bold=True, colour=part)


@dataclass(frozen=True, kw_only=True)
class FacePicture(Picture):
    """The face of a connector with the wires that join its pins; equal where its words are."""

    part: FacePart = field(compare=False)

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        painter.setFont(look.font())
        FacePainter(painter, look, box).paint(self.part)
