"""The page as it will come out of the printer, on its paper, with the labels; a click says where the first one goes."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.papers.print_jobs import Sheet

_EDGE = 6.0
"""pixels around the paper"""


class PagePreview(QWidget):
    """One page of a document, as large as there is room; paper is white in the dark too."""

    label_chosen = Signal(int)
    """a label of the first page was clicked; 1 is the first"""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("print-preview")
        self.setAccessibleName(tr("The page as it will be printed"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # so that it can be scrolled to by keys where text is large
        self._look = look
        self._picture = QPixmap()
        self._sheet: Sheet | None = None
        self._size = (210.0, 297.0)
        self._used = 0

    def show_page(self, picture: bytes, size: tuple[float, float], sheet: "Sheet", *, used: int, words: str) -> None:
        """Show a page, PNG, of `size` millimetres; the first `used` labels of it are gone. `words` say the same."""
        self._picture = QPixmap()
        self._picture.loadFromData(picture)
        self._size, self._sheet, self._used = size, sheet, used
        self.setAccessibleDescription(words)
        self.update()

    def show_nothing(self) -> None:
        """Show none."""
        self._sheet = None
        self.update()

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 14, line * 18)

    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 8, line * 8)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._sheet is None:
            return
        paper = self._paper()
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        focus = self.hasFocus()
        painter.setPen(QPen(QColor(self._look.tokens.focus if focus else self._look.tokens.line), 5 if focus else 1))
        painter.setBrush(QColor("white"))
        painter.drawRect(paper)
        ratio = self.devicePixelRatioF()
        sharp = self._picture.scaled(
            (paper.size() * ratio).toSize(),
            Qt.AspectRatioMode.IgnoreAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
        painter.drawPixmap(paper, sharp, QRectF(sharp.rect()))
        edge = QPen(QColor("#8a8a8a"), 1, Qt.PenStyle.DashLine)  # on paper, which is white in light and dark
        for number in range(len(self._sheet.labels)):
            painter.setPen(edge)
            used = number < self._used
            painter.setBrush(QColor(120, 120, 120, 90) if used else Qt.BrushStyle.NoBrush)
            box = self._label(number)
            painter.drawRoundedRect(box, 3, 3)
            if used:
                painter.setPen(QPen(QColor("#5a5a5a"), 2))
                painter.drawLine(box.topLeft(), box.bottomRight())
                painter.drawLine(box.bottomLeft(), box.topRight())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._sheet is not None and event.button() == Qt.MouseButton.LeftButton:
            at = event.position()
            for number in range(len(self._sheet.labels)):
                if self._label(number).contains(at):
                    self.label_chosen.emit(number + 1)

    def _paper(self) -> QRectF:
        """Where the paper stands, in the middle."""
        width, height = self._size
        room = QRectF(self.rect()).adjusted(_EDGE, _EDGE, -_EDGE, -_EDGE)
        scale = min(room.width() / width, room.height() / height)
        paper = QRectF(0, 0, width * scale, height * scale)
        paper.moveCenter(QPointF(room.center()))
        return paper

    def _label(self, number: int) -> QRectF:
        assert self._sheet is not None
        paper, (width, height) = self._paper(), self._size
        left, top, wide, high = self._sheet.labels[number]
        across, down = paper.width() / width, paper.height() / height
        return QRectF(paper.left() + left * across, paper.top() + top * down, wide * across, high * down)
