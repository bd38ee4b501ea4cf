"""The connector's face with the two pins to touch lit, drawn from the connector's data.

A lit pin is filled in its probe's colour, ringed, and named at the end of a leader line ("RED: pin 1"); unlit pins
carry their label. A terminal that is on no connector (the case, a chassis) is drawn as a plate with its name. Red
and black are the usual colours of test leads (common practice, no source).
"""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QAccessible, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.face_painter import FacePainter
from benchapp.desktop.widgets.face_parts import FacePart, probe_word, say_touch
from benchapp.desktop.widgets.kept_painting import KeptPaintings
from benchapp.desktop.widgets.points import Point, PointsView
from benchapp.desktop.widgets.scrolling import height_in_sight
from benchapp.desktop.widgets.spoken import tell_value
from benchapp.desktop.words import tr

_LEAST = 3.8  # of a part, however little of the page is in sight


class FaceView(PointsView):
    """One or two faces, with the probes on them."""

    spoken_role = QAccessible.Role.Graphic

    def __init__(self, look: Look, name: str = "face", parent: QWidget | None = None, *, calls: bool = True) -> None:
        """`calls`: whether the probes are named below each face; where words beside it do, its pins get the room."""
        super().__init__(parent)
        self.setObjectName(name)
        self._look, self._calls = look, calls
        self._painted = KeptPaintings(self, look)
        self._parts: tuple[FacePart, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def parts(self) -> tuple[FacePart, ...]:
        """What is shown now."""
        return self._parts

    def show_parts(self, parts: Sequence[FacePart]) -> None:
        """Show these faces; nothing when there is nothing to touch."""
        self._parts = tuple(parts)
        self.setAccessibleName(tr("Where the probes go"))
        self.setAccessibleDescription("; ".join(self.words()))
        tell_value(self, self.spoken_value())
        self.setVisible(bool(parts))
        self.update()

    def spoken_value(self) -> str:
        """Where each probe goes."""
        return "; ".join(self.words())

    def words(self) -> list[str]:
        """Each probe and where it goes, as read aloud and as drawn."""
        return [
            f"{probe_word(touch.probe)}: {part.title}, {say_touch(part, touch)}"
            if part.face
            else f"{probe_word(touch.probe)}: {part.title}"
            for part in self._parts
            for touch in part.touches
        ]

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 15, int(line * 6.5) * max(1, len(self._parts)))

    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 8, int(line * 6.5) * max(1, len(self._parts)))

    def paintEvent(self, _event: QPaintEvent) -> None:
        size = QSize(self.width(), self._room())
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._painted.of(self._parts, size, self._paint))
        painter.end()

    def _paint(self, painter: QPainter) -> None:
        for part, box in zip(self._parts, self._boxes(), strict=True):
            FacePainter(painter, self._look, box, calls=self._calls).paint(part)

    def _boxes(self) -> list[QRectF]:
        """Where each part is drawn: side by side or one above the other, as the faces come out larger."""
        count, room = max(1, len(self._parts)), float(self._room())
        wide = self.width() / count
        if min(wide, room) > min(self.width(), room / count):
            return [QRectF(index * wide, 0, wide, room) for index in range(len(self._parts))]
        return [QRectF(0, index * room / count, self.width(), room / count) for index in range(len(self._parts))]

    def lit(self) -> list[QRectF]:
        """Where the lit pins of the faces are drawn, in this view."""
        return [
            ring
            for part, box in zip(self._parts, self._boxes(), strict=True)
            if part.face is not None
            for ring in self._measured(box).rings(part)
        ]

    def points(self) -> Sequence[Point]:
        """The pins where they are drawn, those of the first face first; of bare metal what is lit."""
        return [
            Point(terminal=terminal, words=words, at=at, reach=reach)
            for part, box in zip(self._parts, self._boxes(), strict=True)
            for terminal, words, at, reach in self._points_of(part, box)
        ]

    def _points_of(self, part: FacePart, box: QRectF) -> list[tuple[str, str, QPointF, float]]:
        places = self._measured(box).places(part)
        if part.face is None:
            return [
                (touch.terminal, part.title, at, reach)
                for touch, (_, at, reach) in zip(part.touches, places, strict=True)
                if touch.terminal
            ]
        said = {pin.name: pin.say for pin in part.face.pins}
        return [
            (f"{part.connector}.{pin}", f"{part.short or part.title}, {said[pin]}", at, reach)
            for pin, at, reach in places
            if part.connector
        ]

    def _measured(self, box: QRectF) -> FacePainter:
        """What says where things are drawn in that box, without painting."""
        return FacePainter(QPainter(), self._look, box, line=self.fontMetrics().height(), calls=self._calls)

    def _room(self) -> int:
        """The height to draw in: what is in sight of this view before anybody scrolls, else all of it."""
        return height_in_sight(self, int(self.fontMetrics().height() * _LEAST))
