"""How a sign is drawn: the shapes of `theme.signs`, for widgets and for cells of a table."""

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPaintEvent, QPen, QPixmap, QPolygonF, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import Shape, Sign, sign_for
from benchapp.desktop.words import tr

_UNSCALED = (QTransform.TransformationType.TxNone, QTransform.TransformationType.TxTranslate)
_GAP = 0.45  # between shape and word, in heights of the shape


def paint_sign(painter: QPainter, box: QRectF, shape: Shape, colour: QColor, ground: QColor) -> None:
    """Draw the shape filling the largest square inside `box`; marks on a filled shape are drawn in `ground`."""
    side = min(box.width(), box.height())
    if painter.transform().type() in _UNSCALED:
        ratio = painter.device().devicePixelRatio()
        kept = _kept(shape, colour.rgba(), ground.rgba(), round(side * ratio), ratio)
        painter.drawPixmap(box.center() - QPointF(side, side) / 2, kept)
        return
    _draw(painter, box.center(), side, shape, colour, ground)


@lru_cache(maxsize=256)
def _kept(shape: Shape, colour: int, ground: int, pixels: int, ratio: float) -> QPixmap:
    """The shape in a square of so many pixels: a page has many of a few."""
    pixmap = QPixmap(pixels, pixels)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter, side = QPainter(pixmap), pixels / ratio
    _draw(painter, QPointF(side, side) / 2, side, shape, QColor.fromRgba(colour), QColor.fromRgba(ground))
    painter.end()
    return pixmap


def _draw(painter: QPainter, middle: QPointF, side: float, shape: Shape, colour: QColor, ground: QColor) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(middle)
    painter.scale(side / 20, side / 20)
    _Brush(painter, colour, ground).draw(shape)
    painter.restore()


class _Brush:
    """Draws one shape in a square from -10 to 10."""

    def __init__(self, painter: QPainter, colour: QColor, ground: QColor) -> None:
        self._painter = painter
        self._colour = colour
        self._ground = ground

    def draw(self, shape: Shape) -> None:
        getattr(self, "_" + shape.value.replace(" ", "_"))()

    def _stroke(self, colour: QColor, width: float = 2.4) -> None:
        pen = QPen(colour, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
        self._painter.setPen(pen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush)

    def _fill(self) -> None:
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(QBrush(self._colour))

    def _line(self, *points: tuple[float, float]) -> None:
        self._painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in points]))

    def _ring(self) -> None:
        self._stroke(self._colour)
        self._painter.drawEllipse(QRectF(-6.5, -6.5, 13, 13))

    def _half(self) -> None:
        self._ring()
        self._fill()
        self._painter.drawPie(QRectF(-6.5, -6.5, 13, 13), 90 * 16, 180 * 16)

    def _tick(self) -> None:
        self._fill()
        self._painter.drawEllipse(QRectF(-9, -9, 18, 18))
        self._stroke(self._ground, 2.8)
        self._line((-4.5, 0.3), (-1.2, 3.8), (4.8, -3.6))

    def _cross(self) -> None:
        self._fill()
        self._painter.drawRect(QRectF(-8.5, -8.5, 17, 17))
        self._stroke(self._ground, 2.8)
        self._line((-4, -4), (4, 4))
        self._line((-4, 4), (4, -4))

    def _wave_up(self) -> None:
        self._triangle(up=True)

    def _wave_down(self) -> None:
        self._triangle(up=False)

    def _triangle(self, *, up: bool) -> None:
        turn = 1 if up else -1
        self._fill()
        corners = [QPointF(0, -9.5 * turn), QPointF(9.5, 8 * turn), QPointF(-9.5, 8 * turn)]
        self._painter.drawPolygon(QPolygonF(corners))
        self._stroke(self._ground, 2.2)
        wave = QPainterPath(QPointF(-4, 3.6 * turn))
        wave.cubicTo(QPointF(-1.5, -1.2 + 3 * turn), QPointF(1.5, 2.8 + 3 * turn), QPointF(4, 3 * turn))
        self._painter.drawPath(wave)

    def _gate(self) -> None:
        self._stroke(self._colour, 2.4)
        self._line((-7, -7.5), (-7, 7.5))
        self._line((7, -7.5), (7, 7.5))
        self._line((-7, -3), (7, -3))
        self._line((-7, 3), (7, 3))

    def _turn(self) -> None:
        self._stroke(self._colour, 2.4)
        self._painter.drawArc(QRectF(-7, -7, 14, 14), 60 * 16, 270 * 16)
        self._fill()
        self._painter.drawPolygon(QPolygonF([QPointF(1, -10), QPointF(8.5, -5.5), QPointF(0.5, -2)]))

    def _dash(self) -> None:
        self._stroke(self._colour, 3)
        self._line((-6, 0), (6, 0))

    def _query(self) -> None:
        self._stroke(self._colour, 2)
        self._painter.drawEllipse(QRectF(-8.5, -8.5, 17, 17))
        mark = QPainterPath(QPointF(-2.6, -2.6))
        mark.cubicTo(QPointF(-2.4, -6.4), QPointF(3.6, -5.6), QPointF(2.6, -2))
        mark.cubicTo(QPointF(2.2, -0.6), QPointF(0, -0.4), QPointF(0, 1.6))
        self._painter.drawPath(mark)
        self._fill()
        self._painter.drawEllipse(QRectF(-1.3, 3.4, 2.6, 2.6))

    def _coin(self) -> None:
        self._fill()
        path = QPainterPath()
        path.addPolygon(QPolygonF([QPointF(-9, 0), QPointF(-4, -7), QPointF(9, -7), QPointF(9, 7), QPointF(-4, 7)]))
        path.closeSubpath()
        path.addEllipse(QPointF(-4.2, 0), 1.9, 1.9)
        self._painter.drawPath(path)

    def _bolt(self) -> None:
        self._fill()
        path = QPainterPath()
        path.addPolygon(
            QPolygonF([QPointF(x, y) for x, y in ((-4.5, -9), (4.5, -9), (9, 0), (4.5, 9), (-4.5, 9), (-9, 0))])
        )
        path.closeSubpath()
        path.addEllipse(QPointF(0, 0), 3.6, 3.6)
        self._painter.drawPath(path)

    def _flash(self) -> None:
        self._fill()
        corners = ((2.5, -10), (-6.5, 1.5), (-0.8, 1.5), (-3, 10), (6.5, -2.5), (0.8, -2.5))
        self._painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in corners]))

    def _hand(self) -> None:
        self._fill()
        corners = ((-4, -9), (4, -9), (9, -4), (9, 4), (4, 9), (-4, 9), (-9, 4), (-9, -4))
        self._painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in corners]))
        self._stroke(self._ground, 2.8)
        self._line((-4, 0), (4, 0))


class SignLabel(QWidget):
    """A sign with its word beside it; read aloud as the word."""

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._look = look
        self._sign: Sign | None = None
        self._words = ""

    def show_state(self, state: str, words: str = "") -> None:
        """Show the sign of a state, with its own word or with `words`; an empty state shows nothing."""
        self._sign = sign_for(state) if state else None
        self._words = words or (tr(self._sign.word) if self._sign else "")
        self.setAccessibleName(self._words)
        self.updateGeometry()
        self.update()

    def words(self) -> str:
        """What a person reads here."""
        return self._words

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        height = metrics.height()
        return QSize(int(height * (1 + _GAP)) + metrics.horizontalAdvance(self._words) + 4, int(height * 1.25))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._sign is None:
            return
        tokens = self._look.tokens
        colour = QColor(getattr(tokens, self._sign.tone.value))
        painter = QPainter(self)
        side = self.fontMetrics().height()
        box = QRectF(1, (self.height() - side) / 2, side, side)
        paint_sign(painter, box, self._sign.shape, colour, QColor(tokens.sheet))
        painter.setPen(colour)
        left = int(side * (1 + _GAP))
        painter.drawText(self.rect().adjusted(left, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self._words)
        painter.end()
