"""Two points chosen on what is drawn: by mouse the nearest one within reach, by keys one after the other.

Any number of pictures may share one pair: the first point is chosen on one, the second on another. Each point is a
button for the keyboard and for a screen reader; Tab reaches one of them, arrows go on from there, Space chooses.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, QPointF, QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.spoken import ANNOUNCER
from benchapp.desktop.words import tr

LEAST_TARGET = 24
"""pixels across of what can be pressed (WCAG 2.2, 2.5.8)"""
_REACH = 1.6
"""lines of text from the middle of a point to where a click still means it"""
_HALF = 0.95
"""lines of text from the middle of a point to the ring that marks it"""
_MOVING = frozenset({QEvent.Type.Paint, QEvent.Type.Resize, QEvent.Type.FontChange, QEvent.Type.Move})
"""after these the points may stand elsewhere"""
_BY = {Qt.Key.Key_Up: -1, Qt.Key.Key_Left: -1, Qt.Key.Key_Down: 1, Qt.Key.Key_Right: 1}


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A terminal as it is drawn: its words, its middle in the view, and how far its drawing reaches (pixels)."""

    terminal: str
    words: str
    at: QPointF
    reach: float = 0.0


class PointsView(QWidget):
    """A view on which terminals may be drawn."""

    def points(self) -> Sequence[Point]:
        """The terminals drawn now, in the order in which the arrow keys go through them; none unless it says so."""
        return ()


class PointPair(QObject):
    """The two terminals that a person chooses, one after the other, on whichever of these views shows them."""

    picked = Signal(str, str)
    """both, in the order in which they were chosen"""
    changed = Signal()

    def __init__(self, look: Look, *views: PointsView) -> None:
        super().__init__()
        self.first = ""
        """the terminal that waits for its second"""
        self.open = False
        """whether points may be chosen now"""
        for view in views:
            PointPicker(view, self, look)

    def let_pick(self, open_now: bool) -> None:
        """Say whether points may be chosen; what was begun is dropped."""
        self.open, self.first = open_now, ""
        self.changed.emit()

    def choose(self, terminal: str) -> None:
        """Choose this one as the first or the second; the first chosen once more is let go."""
        first, self.first = self.first, "" if self.first else terminal
        self.changed.emit()
        if first and first != terminal:
            self.picked.emit(first, terminal)


class PointPicker(QObject):
    """Lets the points of one view be chosen for a pair; made once, it stays with its view."""

    def __init__(self, view: PointsView, pair: PointPair, look: Look) -> None:
        super().__init__(view)
        self._view, self._pair, self._look = view, pair, look
        self._buttons: list[PointButton] = []
        self._of: tuple[Point, ...] = ()
        self._at = 0
        pair.changed.connect(self.place)
        view.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in _MOVING:
            self.place()
        elif event.type() == QEvent.Type.MouseButtonPress and isinstance(event, QMouseEvent):
            return self._press(event)
        return super().eventFilter(watched, event)

    def nearest(self, at: QPointF) -> Point | None:
        """The point nearest to that place of the view, within reach of a finger."""
        least = max(LEAST_TARGET / 2, _REACH * self._view.fontMetrics().height())
        apart = [(math.dist(at.toTuple(), one.at.toTuple()), one) for one in self._view.points()]
        near = [(far, one) for far, one in apart if far <= max(least, one.reach)]
        return min(near, key=lambda found: found[0])[1] if near else None

    def _press(self, event: QMouseEvent) -> bool:
        found = self.nearest(event.position()) if self._pair.open else None
        if found is None or event.button() != Qt.MouseButton.LeftButton:
            return False
        self.choose(found)
        return True

    def choose(self, point: Point) -> None:
        """Take this point into the pair, and say so to whoever does not see it."""
        self._pair.choose(point.terminal)
        if self._pair.first == point.terminal:
            ANNOUNCER.announce(self._view, tr("First point: {point}. Choose the second.").format(point=point.words))

    def place(self) -> None:
        """Put a button on each point, where it is drawn now; none where nothing may be chosen."""
        points = tuple(self._view.points()) if self._pair.open else ()
        while len(self._buttons) < len(points):
            self._add(len(self._buttons))
        self._at = min(self._at, max(0, len(points) - 1))
        half = self._half(points)
        for number, button in enumerate(self._buttons):
            if number < len(points):
                button.show_point(points[number], half, marked=points[number].terminal == self._pair.first)
            button.setVisible(number < len(points))
        if points != self._of:
            self._of = points
            self._lead_tab()

    def _half(self, points: Sequence[Point]) -> int:
        """Half a button: a ring's width where neighbours leave room for it, the least target always."""
        places = [one.at.toTuple() for one in points]
        gap = min((math.dist(a, b) for i, a in enumerate(places) for b in places[i + 1 :]), default=math.inf)
        return round(max(LEAST_TARGET / 2, min(_HALF * self._view.fontMetrics().height() + 3, gap / 2)))

    def _add(self, number: int) -> None:
        button = PointButton(self._view, self._look, f"{self._view.objectName()}-point-{number + 1}")
        button.clicked.connect(lambda _checked=False: self.choose(self._of[number]))
        button.gone_on.connect(lambda by: self._go(number + by))
        button.reached.connect(lambda: self._reach(number))
        self._buttons.append(button)

    def _go(self, number: int) -> None:
        self._buttons[number % len(self._of)].setFocus(Qt.FocusReason.TabFocusReason)

    def _reach(self, number: int) -> None:
        self._at = number
        self._lead_tab()

    def _lead_tab(self) -> None:
        """Tab reaches the point that was at hand last; the view itself hands the keyboard on to it."""
        for number, button in enumerate(self._buttons):
            led = number == self._at and number < len(self._of)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus if led else Qt.FocusPolicy.NoFocus)
        if self._of:
            self._view.setFocusProxy(self._buttons[self._at])


class PointButton(QAbstractButton):
    """One point: clear glass over the picture, ringed where it has the keyboard or waits for its second.

    A click falls through to the view, which knows the nearest point where two are close together.
    """

    gone_on = Signal(int)
    reached = Signal()

    def __init__(self, view: QWidget, look: Look, name: str) -> None:
        super().__init__(view)
        self.setObjectName(name)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._look, self._marked = look, False

    def show_point(self, point: Point, half: int, *, marked: bool) -> None:
        """Stand on that point; `marked` as the first of the pair."""
        place = QRect(round(point.at.x()) - half, round(point.at.y()) - half, 2 * half, 2 * half)
        if place != self.geometry():
            self.setGeometry(place)
        if point.words != self.accessibleName():
            self.setAccessibleName(point.words)
        if marked != self._marked:
            self._marked = marked
            self.setAccessibleDescription(tr("first point") if marked else "")
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        by = _BY.get(Qt.Key(event.key()), 0)
        if by:
            self.gone_on.emit(by)
        elif event.key() == Qt.Key.Key_Space:
            self.click()
        else:
            event.ignore()  # Enter and all else are the page's

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.reached.emit()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if not (self._marked or self.hasFocus()):
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(
            QPen(self._look.colour("focus"), 5)
            if self._marked
            else QPen(self._look.colour("focus"), 2, Qt.PenStyle.DashLine)
        )
        painter.drawEllipse(self.rect().adjusted(3, 3, -3, -3))
        painter.end()
