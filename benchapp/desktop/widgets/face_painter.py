"""Paints the face of a connector: title, outline, pins with their labels, the lit ones ringed, the probes named below.

What has no room is said shorter, on two lines, or left out; nothing covers a lit pin, and no label another.
"""

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.face_parts import FacePart, Touch, probe_word, say_touch

if TYPE_CHECKING:
    from benchapp.wiring.model.faces import Face

_PROBES = ("red", "black")
_CALL = 1.6  # height of a probe's call, in lines
_TALLEST = 15.0  # of a face: larger helps nobody
COMPACT = 10.0  # below this a face has no room for the name of its probe: the lit pin and the instruction say it
_PER_PROBE = 2.0  # and this much more for each further probe on it
_SMALLEST = 0.7  # how far a title shrinks before it is said shorter or on two lines
_FULL = 0.92  # of the width: what stands beside it must not run into it
_HEADS = {True: 1.0, False: 0.9}  # of the running text: the title of a part, and from where it is seen
_LABEL = 0.85  # of the running text: the label of a pin
_LEGIBLE = 0.5  # of the running text at 100 %: smaller labels of pins are left out, all but those of the lit ones


class FacePainter:
    """Paints one part into its box: title above, the face in the middle, the probes named below."""

    def __init__(self, painter: QPainter, look: Look, box: QRectF, *, line: float = 0.0, calls: bool = True) -> None:
        """`calls`: whether the probes are named below it, where there is room."""
        self._painter = painter
        self._look = look
        self._line = line or float(painter.fontMetrics().height())
        self._box = box
        self._rings: list[QPointF] = []
        self._gap = math.inf
        self._pins: list[QRectF] = []
        self._label = _LABEL
        self._calls = calls

    def paint(self, part: FacePart) -> None:
        """Title, face and calls stand close together, in the middle of the box."""
        line, middle = self._line, self._middle(part)
        heads = self._heads(part)
        top = middle.top() - self._gaps(part) / 2 - line * 1.2 * len(heads)
        for words, bold in heads:
            self._write(QRectF(self._box.left(), top, self._box.width(), line * 1.2), words, bold=bold)
            top += line * 1.2
        self._paint_face(part, middle) if part.face else self._paint_plate(part, middle)
        top = middle.bottom() + line * 0.4
        for touch in () if self._compact(part) else part.touches:
            self._paint_call(part, touch, QRectF(middle.left(), top, middle.width(), line * (_CALL - 0.15)))
            top += line * _CALL

    def rings(self, part: FacePart) -> list[QRectF]:
        """Where the rings of the lit pins come, without painting."""
        lit = {touch.spot for touch in part.touches}
        return [self._ring(place) for name, place, _reach in self.places(part) if name in lit]

    def places(self, part: FacePart) -> list[tuple[str, QPointF, float]]:
        """Each pin of the face by name, its middle and how far it reaches (pixels), without painting; a plate's one."""
        box = self._middle(part)
        if part.face is None:
            return [(touch.spot, box.center(), self._line) for touch in part.touches]
        scale = _scale(part.face, box)
        return [
            (pin.name, box.center() + QPointF(pin.x * scale, -pin.y * scale), max(pin.width, pin.height) / 2 * scale)
            for pin in part.face.pins
        ]

    def _heads(self, part: FacePart) -> list[tuple[str, bool]]:
        """The lines above a face, and whether each is bold; the instruction names a face that stands alone."""
        view = [(line, False) for line in self._fitted(part.face.view, bold=False)] if part.face else []
        title = [(line, True) for line in self._fitted(part.title, part.short, bold=True)]
        return view if self._compact(part) and len(part.touches) > 1 and view else [*title, *view]

    def _fitted(self, words: str, short: str = "", *, bold: bool) -> list[str]:
        """The words where they fit into the width when shrunk; else those that say it shorter, else on two lines."""
        for said in (words, short):
            if said and self._width(said, _HEADS[bold] * _SMALLEST, bold=bold) <= self._box.width() * _FULL:
                return [said]
        spaces = [place for place, sign in enumerate(words) if sign == " "]
        middle = min(spaces, key=lambda place: abs(place - len(words) / 2), default=len(words))
        return [line for line in (words[:middle], words[middle + 1 :]) if line]

    def _width(self, words: str, factor: float, *, bold: bool) -> float:
        return QFontMetricsF(self._look.font(factor, bold=bold)).horizontalAdvance(words)

    def _compact(self, part: FacePart) -> bool:
        return not self._calls or self._box.height() < self._line * (COMPACT + _PER_PROBE * (len(part.touches) - 1))

    def _gaps(self, part: FacePart) -> float:
        """Above and below the face, together."""
        return self._line * (0.2 if self._compact(part) else 0.8)

    def _middle(self, part: FacePart) -> QRectF:
        """Where the face or plate itself is drawn."""
        line = self._line
        heads = line * 1.2 * len(self._heads(part))
        calls = 0.0 if self._compact(part) else line * (_CALL * len(part.touches) + 0.2)
        room = self._box.height() - heads - calls - self._gaps(part)
        wanted = max(line, min(room, line * (_TALLEST if part.face else 3.2)))
        top = self._box.top() + max(0.0, (room - wanted) / 2) + heads + self._gaps(part) / 2
        return QRectF(self._box.left() + line * 0.4, top, self._box.width() - line * 0.8, wanted)

    def _write(self, box: QRectF, words: str, *, bold: bool) -> None:
        painter = self._painter
        painter.save()
        painter.setPen(self._look.colour("ink" if bold else "quiet"))
        shrink = min(1.0, _FULL * box.width() / max(self._width(words, _HEADS[bold], bold=bold), 1.0))
        painter.setFont(self._look.font(_HEADS[bold] * max(_SMALLEST, shrink), bold=bold))
        fitted = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, int(box.width()))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, fitted)
        painter.restore()

    def _paint_face(self, part: FacePart, box: QRectF) -> None:
        """Draw the outline and the pins, the lit ones on top."""
        face = part.face
        assert face is not None
        scale = _scale(face, box)
        centre = box.center()
        painter = self._painter
        painter.setPen(QPen(self._look.colour("line"), 2))
        painter.setBrush(self._look.colour("housing"))
        path = QPainterPath()
        path.setFillRule(Qt.FillRule.OddEvenFill)
        for shape in face.shapes:
            if shape.diameter:
                radius = shape.diameter / 2 * scale
                path.addEllipse(QPointF(centre.x() + shape.x * scale, centre.y() - shape.y * scale), radius, radius)
            else:
                path.addPolygon(
                    QPolygonF([QPointF(centre.x() + x * scale, centre.y() - y * scale) for x, y in shape.points])
                )
                path.closeSubpath()
        painter.drawPath(path)
        lit = {touch.spot: touch.probe for touch in part.touches}
        places = {pin.name: QPointF(centre.x() + pin.x * scale, centre.y() - pin.y * scale) for pin in face.pins}
        self._rings = [places[name] for name in lit if name in places]
        self._gap = _nearest(list(places.values()))
        self._pins = [
            QRectF(
                at.x() - pin.width * scale / 2, at.y() - pin.height * scale / 2, pin.width * scale, pin.height * scale
            )
            for pin, at in ((pin, places[pin.name]) for pin in face.pins)
        ]
        self._label = self._label_size([pin.label for pin in face.pins])
        self._paint_joins([(places[a], places[b]) for a, b in part.joined if a in places and b in places])
        for pin in sorted(face.pins, key=lambda pin: pin.name in lit):
            middle = places[pin.name]
            size = QSize(max(int(pin.width * scale), 6), max(int(pin.height * scale), 6))
            self._paint_pin(middle, size, pin.label, round_pin=pin.round, probe=lit.get(pin.name))

    def _paint_pin(self, middle: QPointF, size: QSize, label: str, *, round_pin: bool, probe: str | None) -> None:
        painter, line = self._painter, self._line
        painter.save()
        lit = probe is not None
        least = min(line * 1.1, self._gap * 0.75)  # a lit pin stands out, but never over its neighbour
        if lit:
            reach = max(size.width(), size.height(), least) / 2 + min(line * 0.35, self._gap * 0.12)
            painter.setPen(QPen(self._look.colour("ink"), 3))
            painter.setBrush(self._look.colour("sheet"))
            painter.drawEllipse(middle, reach, reach)
            width, height = max(size.width(), least), max(size.height(), least)
        else:
            width, height = float(size.width()), float(size.height())
        box = QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)
        painter.setPen(QPen(self._look.colour("ink"), 1.5 if lit else 0.8))
        painter.setBrush(self._look.colour(f"probe_{probe}" if probe in _PROBES else "focus" if lit else "metal"))
        painter.drawEllipse(box) if round_pin else painter.drawRoundedRect(box, 2, 2)
        if lit:
            across = self._width(label, _LABEL, bold=True) or 1.0
            painter.setFont(self._look.font(_LABEL * min(1.0, height / (line * 1.1), 0.9 * width / across), bold=True))
            painter.setPen(self._look.colour(f"on_probe_{probe}" if probe in _PROBES else "sheet"))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, label)
        elif self._label:
            painter.setFont(self._look.font(self._label))
            painter.setPen(self._look.colour("ink"))
            painter.drawText(self._beside(box, label), Qt.AlignmentFlag.AlignCenter, label)
        painter.restore()

    def _paint_joins(self, ends: Sequence[tuple[QPointF, QPointF]]) -> None:
        """A wire from pin to pin, sagging below them, so that it is seen beside a lit pin."""
        for start, end in ends:
            wire = QPainterPath(start)
            sag = QPointF(0, math.dist(start.toTuple(), end.toTuple()) * 0.45)
            wire.cubicTo(start + sag, end + sag, end)
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            for colour, width in (("ink", 0.5), ("doubt_wash", 0.26)):
                self._painter.setPen(QPen(self._look.colour(colour), max(3.0, self._line * width)))
                self._painter.drawPath(wire)

    def _label_size(self, labels: Sequence[str]) -> float:
        """How large the labels of pins that are not lit can be beside each other; 0 where nobody could read them."""
        widest = max((self._width(one, _LABEL, bold=False) for one in labels), default=0.0)
        size = _LABEL * min(1.0, 0.75 * self._gap / max(widest, 1.0))
        return size if size >= _LEGIBLE * 100 / self._look.percent else 0.0

    def _beside(self, pin: QRectF, label: str) -> QRectF:
        """Where a pin's label goes: below it, or above where it would cover another pin or be covered by a lit one."""
        high, wide = self._line * self._label / _LABEL, self._width(label, self._label, bold=False)
        below = QRectF(pin.center().x() - wide / 2, pin.bottom() + 1, wide, high)
        above = below.translated(0, -below.height() - pin.height() - 2)
        taken = [*(self._ring(at) for at in self._rings), *(one for one in self._pins if not one.intersects(pin))]
        free = (place for place in (below, above) if not any(place.intersects(one) for one in taken))
        unlit = (p for p in (below, above) if not any(p.intersects(self._ring(at)) for at in self._rings))
        place = next(free, None) or next(unlit, below)
        return place.adjusted(-self._line, 0, self._line, 0)

    def _ring(self, middle: QPointF) -> QRectF:
        """Where the ring of a lit pin reaches at least."""
        reach = min(self._line * 1.1, self._gap * 0.75) / 2 + min(self._line * 0.35, self._gap * 0.12)
        return QRectF(middle.x() - reach, middle.y() - reach, 2 * reach, 2 * reach)

    def _paint_plate(self, part: FacePart, box: QRectF) -> None:
        """Bare metal without a connector: a hatched plate with one place to touch."""
        painter, line = self._painter, self._line
        plate = QRectF(0, 0, min(box.width() * 0.7, line * 8), min(box.height() * 0.6, line * 4))
        plate.moveCenter(box.center())
        painter.save()
        painter.setPen(QPen(self._look.colour("line"), 2))
        painter.setBrush(self._look.colour("housing"))
        painter.drawRoundedRect(plate, 4, 4)
        painter.restore()
        for touch in part.touches:
            self._paint_pin(plate.center(), QSize(int(line), int(line)), "", round_pin=True, probe=touch.probe)

    def _paint_call(self, part: FacePart, touch: Touch, box: QRectF) -> None:
        """Name the probe on its own colour, with a leader to its pin."""
        painter = self._painter
        painter.save()
        probe = touch.probe if touch.probe in _PROBES else ""
        painter.setFont(self._look.font(1.0, bold=True))
        room = box.width() - self._line * 0.4
        words, needed = self._call_words(part, touch, room)
        if needed > room:
            painter.setFont(self._look.font(room / needed, bold=True))
        width = min(box.width(), needed + self._line)
        label = QRectF(box.center().x() - width / 2, box.top(), width, box.height())
        painter.setPen(QPen(self._look.colour("ink"), 1.5))
        painter.setBrush(self._look.colour(f"probe_{probe}" if probe else "focus"))
        painter.drawRoundedRect(label, 4, 4)
        painter.setPen(self._look.colour(f"on_probe_{probe}" if probe else "sheet"))
        painter.drawText(label, Qt.AlignmentFlag.AlignCenter, words)
        painter.restore()

    def _call_words(self, part: FacePart, touch: Touch, room: float) -> tuple[str, int]:
        """The probe and where it goes, or where that has no room the probe alone: its place is lit; and the width."""
        probe = probe_word(touch.probe)
        full = f"{probe}: {say_touch(part, touch) if part.face else touch.spot}"
        measure = self._painter.fontMetrics().horizontalAdvance
        words = full if measure(full) <= room else probe
        return words, measure(words)


def _scale(face: "Face", box: QRectF) -> float:
    """Pixels for a millimetre."""
    return min(box.width() / max(face.width, 1e-6), box.height() / max(face.height, 1e-6)) * 0.96


def _nearest(places: Sequence[QPointF]) -> float:
    """The distance of the two places that are nearest to each other, in pixels."""
    apart = [math.dist(a.toTuple(), b.toTuple()) for i, a in enumerate(places) for b in places[i + 1 :]]
    return min(apart, default=math.inf)
