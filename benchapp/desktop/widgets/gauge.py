"""The live gauge.

The band with its guard zones, a needle that moves as digits are typed, and the judgement in a word.

This lot's earlier readings stand above the band as dots, so that a unit unlike its siblings is seen at once. What
is shown is computed elsewhere (`evaluate`); this file only draws it.
"""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QBrush, QColor, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import JUDGEMENTS, sign_for
from benchapp.desktop.widgets.gauge_scale import Scale, scale_for, zones
from benchapp.desktop.widgets.sign import paint_sign
from benchapp.desktop.widgets.spoken import ANNOUNCER, tell_value
from benchapp.desktop.words import tr

_PATTERNS = {
    "pass": Qt.BrushStyle.SolidPattern,
    "guard": Qt.BrushStyle.BDiagPattern,
    "fail": Qt.BrushStyle.SolidPattern,
}
_LINES = 6.8  # its height: word, dots, track, and two rows of texts below
_WASHES = {"pass": "good_wash", "guard": "doubt_wash", "fail": "bad_wash"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A value with its text below the gauge: a limit, or what is expected."""

    value: float
    text: str
    expected: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeContent:
    """What the gauge shows, in SI; `over_range` draws the needle at the right end whatever the value."""

    lower: float | None = None
    upper: float | None = None
    guard: float = 0.0
    marks: tuple[Mark, ...] = ()
    value: float | None = None
    over_range: bool = False
    judgement: str = ""
    sentence: str = ""
    siblings: tuple[float, ...] = ()


class Gauge(QWidget):
    """Draws one `GaugeContent`."""

    spoken_role = QAccessible.Role.Indicator

    def __init__(self, look: Look, name: str = "gauge", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self._look = look
        self._content = GaugeContent()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def content(self) -> GaugeContent:
        """What is shown now."""
        return self._content

    def show_content(self, content: GaugeContent) -> None:
        """Show the band and, once there is one, the reading on it."""
        judged = content.judgement != self._content.judgement and bool(content.judgement)
        self._content = content
        if judged:  # a screen reader says it without being led here
            ANNOUNCER.announce(self, content.sentence)
        self.setAccessibleName(tr("Gauge"))
        self.setAccessibleDescription(content.sentence)
        tell_value(self, self.spoken_value())
        self.update()

    def spoken_value(self) -> str:
        """The limits and what is expected, then the judgement."""
        marks = [mark.text for mark in self._content.marks]
        sign = sign_for(self._content.judgement) if self._content.judgement in JUDGEMENTS else None
        return "; ".join([*marks, *([tr(sign.word)] if sign is not None else [])])

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 24, int(line * _LINES))

    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 12, int(line * _LINES))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = float(self.fontMetrics().height())
        self._paint_word(painter, QRectF(0, 0, self.width(), line * 1.9))
        scale = scale_for(self._content.lower, self._content.upper)
        if scale is not None:
            track = QRectF(line * 0.8, line * 3.2, self.width() - line * 1.6, line * 1.3)
            self._paint_track(painter, track, scale)
            self._paint_siblings(painter, track, scale, line)
            self._paint_marks(painter, track, scale, line)
            self._paint_needle(painter, track, scale, line)
        painter.end()

    def _paint_word(self, painter: QPainter, box: QRectF) -> None:
        content = self._content
        painter.save()
        if content.judgement in JUDGEMENTS:
            sign = sign_for(content.judgement)
            colour = self._look.colour(sign.tone.value)
            side = box.height() * 0.82
            paint_sign(
                painter,
                QRectF(2, box.top() + (box.height() - side) / 2, side, side),
                sign.shape,
                colour,
                self._ground(),
            )
            painter.setFont(self._look.font(1.6, bold=True))
            painter.setPen(colour)
            painter.drawText(box.adjusted(side * 1.3, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, tr(sign.word).upper())
        else:
            painter.setPen(self._look.colour("quiet"))
            wraps = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap | Qt.TextFlag.TextDontClip
            painter.drawText(box, int(wraps), tr("The judgement appears here as you type."))
        painter.restore()

    def _paint_track(self, painter: QPainter, track: QRectF, scale: Scale) -> None:
        content = self._content
        painter.save()
        for zone in zones(scale, content.lower, content.upper, content.guard):
            box = QRectF(
                track.left() + zone.start * track.width(),
                track.top(),
                (zone.end - zone.start) * track.width(),
                track.height(),
            )
            painter.fillRect(box, self._look.colour(_WASHES[zone.meaning]))
            if zone.meaning == "guard":
                painter.fillRect(box, QBrush(self._look.colour("doubt"), Qt.BrushStyle.BDiagPattern))
        painter.setPen(QPen(self._look.colour("line"), 1.5))
        painter.drawRect(track)
        painter.setPen(QPen(self._look.colour("ink"), 2.5))
        for limit in (content.lower, content.upper):
            if limit is not None:
                x = track.left() + scale.position(limit) * track.width()
                painter.drawLine(QPointF(x, track.top() - 4), QPointF(x, track.bottom() + 4))
        painter.restore()

    def _paint_siblings(self, painter: QPainter, track: QRectF, scale: Scale, line: float) -> None:
        painter.save()
        painter.setPen(QPen(self._look.colour("ink"), 1.2))
        painter.setBrush(self._look.colour("sheet"))
        radius = line * 0.2
        stacked: dict[int, int] = {}
        for value in self._content.siblings:
            x = track.left() + scale.position(value) * track.width()
            column = round(x / (2 * radius))
            level = stacked.get(column, 0)
            stacked[column] = level + 1
            y = track.top() - radius * 1.8 - min(level, 2) * radius * 1.7
            painter.drawEllipse(QPointF(x, y), radius, radius)
        painter.restore()

    def _paint_marks(self, painter: QPainter, track: QRectF, scale: Scale, line: float) -> None:
        painter.save()
        metrics = QFontMetricsF(painter.font())
        taken: list[QRectF] = []
        for mark in sorted(self._content.marks, key=lambda mark: mark.expected):
            x = track.left() + scale.position(mark.value) * track.width()
            width = metrics.horizontalAdvance(mark.text) + line * 0.4
            left = min(max(0.0, x - width / 2), self.width() - width)
            box = QRectF(left, track.bottom() + line * 0.35, width, line)
            while any(box.intersects(other) for other in taken) and box.bottom() < self.height():
                box.translate(0, line)
            taken.append(box)
            if mark.expected:
                self._paint_expected(painter, x, track)
            painter.setPen(self._look.colour("quiet" if mark.expected else "ink"))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, mark.text)
        painter.restore()

    def _paint_expected(self, painter: QPainter, x: float, track: QRectF) -> None:
        """A notch in the lower edge where the reading is expected."""
        size = track.height() * 0.3
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("quiet"))
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(x - size * 0.7, track.bottom()),
                    QPointF(x + size * 0.7, track.bottom()),
                    QPointF(x, track.bottom() - size),
                ]
            )
        )

    def _paint_needle(self, painter: QPainter, track: QRectF, scale: Scale, line: float) -> None:
        content = self._content
        if content.value is None and not content.over_range:
            return
        off_scale = 1 if content.over_range else scale.beyond(content.value or 0.0)
        x = track.left() + (1.0 if content.over_range else scale.position(content.value or 0.0)) * track.width()
        painter.save()
        colour = self._look.colour("ink")
        painter.setPen(QPen(self._ground(), 7))
        painter.drawLine(QPointF(x, track.top() - line * 0.3), QPointF(x, track.bottom()))
        painter.setPen(QPen(colour, 3.5))
        painter.drawLine(QPointF(x, track.top() - line * 0.3), QPointF(x, track.bottom()))
        painter.setBrush(colour)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawPolygon(_needle_head(x, track.top() - line * 0.15, line * 0.55, off_scale))
        painter.restore()

    def _ground(self) -> QColor:
        return self._look.colour("sheet")


def _needle_head(x: float, y: float, size: float, off_scale: int) -> QPolygonF:
    """A triangle pointing down at the value; at an end of the scale it points outward: the value lies beyond."""
    if off_scale:
        reach = size * 1.3 * off_scale
        return QPolygonF([QPointF(x, y - size), QPointF(x, y), QPointF(x + reach, y - size / 2)])
    return QPolygonF([QPointF(x - size * 0.7, y - size), QPointF(x + size * 0.7, y - size), QPointF(x, y)])
