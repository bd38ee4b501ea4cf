"""What every picture is: words for those who hear it, and a way to paint itself into a box."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from benchapp.desktop.theme.look import Look

_WRAPPED = Qt.TextFlag.TextWordWrap


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A plain value: two that are equal look the same, so one that was painted is kept."""

    words: str
    """what is to be seen, in a sentence or two"""

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        """Paint it into the box."""
        raise NotImplementedError


def write(
    painter: QPainter,
    look: Look,
    box: QRectF,
    words: str,
    *,
    factor: float = 1.0,
    bold: bool = False,
    colour: str = "ink",
    align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignCenter,
) -> None:
    """Write words into a box, smaller where they do not fit, on more lines where the box has room for them."""
    painter.save()
    painter.setPen(look.colour(colour))
    size = factor
    while size > factor * 0.55 and not _fits(look, size, words, box, bold=bold):
        size *= 0.92
    painter.setFont(look.font(size, bold=bold))
    painter.drawText(box, align.value | _WRAPPED.value, words)
    painter.restore()


def _fits(look: Look, factor: float, words: str, box: QRectF, *, bold: bool) -> bool:
    metrics = QFontMetricsF(look.font(factor, bold=bold))
    longest = max((metrics.horizontalAdvance(word) for word in words.split()), default=0.0)
    taken = metrics.boundingRect(QRectF(0, 0, box.width(), 10000.0), _WRAPPED.value, words)
    return longest <= box.width() and taken.height() <= box.height() + 1


def tag(painter: QPainter, look: Look, near: QRectF, words: str, within: QRectF) -> None:
    """A name on a slip beside a marked place: above it, below where there is no room, never over the edge."""
    font = look.font(0.95, bold=True)
    metrics = QFontMetricsF(font)
    wide, high = metrics.horizontalAdvance(words) + metrics.height(), metrics.height() * 1.3
    top = near.top() - high - 3
    if top < within.top():
        top = min(near.bottom() + 3, within.bottom() - high)
    left = min(max(near.center().x() - wide / 2, within.left()), max(within.left(), within.right() - wide))
    slip = QRectF(left, top, min(wide, within.width()), high)
    painter.save()
    painter.setPen(QPen(look.colour("focus"), 2))
    painter.setBrush(look.colour("focus"))
    painter.drawRoundedRect(slip, 4, 4)
    painter.setFont(font)
    painter.setPen(look.colour("sheet"))
    painter.drawText(slip, Qt.AlignmentFlag.AlignCenter, words)
    painter.restore()
