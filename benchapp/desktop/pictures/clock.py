"""A dial that empties while a wait runs: the share of time that is left, seen from across the bench."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QHideEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr

_MARKS = 12
_STEP = 500
"""milliseconds between two looks"""
_WHOLE = 360 * 16  # Qt counts sixteenths of a degree


class Clock(QWidget):
    """Shows how much of a time has passed; the words beside it say the same."""

    def __init__(self, look: Look, name: str = "clock") -> None:
        super().__init__()
        self.setObjectName(name)
        self.setAccessibleName(tr("Clock"))
        self._look = look
        self._share = self._needed = self._passed = 0.0
        self._tick = QTimer(self)
        self._tick.setInterval(_STEP)
        self._tick.timeout.connect(self._step)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def show_time(self, passed: float, needed: float) -> None:
        """So many seconds of so many have passed."""
        self._share = min(1.0, passed / needed) if needed > 0 else 1.0
        left = tr("{share} % of the time has passed").format(share=round(100 * self._share))
        self.setAccessibleDescription(left)
        self.update()

    def count(self, seconds: float) -> None:
        """Count so many seconds from now, and be in sight meanwhile; none takes the clock away."""
        self._needed, self._passed = seconds, 0.0
        self.setVisible(seconds > 0)
        self.show_time(0.0, seconds)
        (self._tick.start if seconds > 0 else self._tick.stop)()

    def counting(self) -> bool:
        """Whether the time is not over yet."""
        return self._tick.isActive()

    def _step(self) -> None:
        self._passed += self._tick.interval() / 1000
        self.show_time(self._passed, self._needed)
        if self._passed >= self._needed:
            self._tick.stop()

    def hideEvent(self, event: QHideEvent) -> None:
        self._tick.stop()
        super().hideEvent(event)

    def sizeHint(self) -> QSize:
        side = self.fontMetrics().height() * 8
        return QSize(side, side)

    def minimumSizeHint(self) -> QSize:
        side = self.fontMetrics().height() * 4
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side = min(self.width(), self.height()) - 8.0
        face = QRectF(4, (self.height() - side) / 2, side, side)
        painter.setPen(QPen(self._look.colour("ink"), 3))
        painter.setBrush(self._look.colour("sheet"))
        painter.drawEllipse(face)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("focus"))
        inner = face.adjusted(side * 0.08, side * 0.08, -side * 0.08, -side * 0.08)
        painter.drawPie(inner, 90 * 16, round((1.0 - self._share) * _WHOLE))
        painter.setPen(QPen(self._look.colour("ink"), 3))
        painter.translate(face.center())
        for _mark in range(_MARKS):
            painter.drawLine(QPointF(0, -side * 0.49), QPointF(0, -side * 0.43))
            painter.rotate(360 / _MARKS)
        painter.end()
