"""Shows one picture on a card, painted once for each size and look and kept."""

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QAccessible, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.pictures.picture import Picture
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.kept_painting import KeptPaintings
from benchapp.desktop.widgets.points import PointsView
from benchapp.desktop.widgets.scrolling import height_in_sight
from benchapp.desktop.widgets.spoken import tell_value
from benchapp.desktop.words import tr

_EDGE = 6.0


class PictureView(PointsView):
    """A card with one picture; away where there is none."""

    spoken_role = QAccessible.Role.Graphic

    def __init__(self, look: Look, name: str = "picture", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(tr("Picture"))
        self._look = look
        self._picture: Picture | None = None
        self._painted = KeptPaintings(self, look)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.hide()

    def picture(self) -> Picture | None:
        """What is shown now."""
        return self._picture

    def show_picture(self, picture: Picture | None) -> None:
        """Show this picture; none where there is nothing to show."""
        if picture != self._picture:
            self._picture = picture
            self.setAccessibleDescription(self.spoken_value())
            tell_value(self, self.spoken_value())
            self.update()
        self.setVisible(picture is not None)

    def spoken_value(self) -> str:
        """What is to be seen."""
        return self._picture.words if self._picture is not None else ""

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 18, line * 12)

    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 8, line * 6)

    def seen_height(self) -> int:
        """The height that the picture is painted into."""
        return min(self.height(), height_in_sight(self, self.minimumSizeHint().height()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._picture is None:
            return
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._rendered(self._picture))
        painter.end()

    def _rendered(self, picture: Picture) -> QPixmap:
        """The picture as it was painted before for this size and look, else painted now."""
        size = QSize(self.width(), self.seen_height())
        return self._painted.of(picture, size, lambda painter: self._paint(painter, picture, size))

    def _paint(self, painter: QPainter, picture: Picture, size: QSize) -> None:
        painter.setPen(QPen(self._look.colour("line"), 1.5))
        painter.setBrush(self._look.colour("sheet"))
        card = QRectF(QPointF(1, 1), QPointF(size.width() - 1, size.height() - 1))
        painter.drawRoundedRect(card, _EDGE, _EDGE)
        picture.paint(painter, card.adjusted(_EDGE * 2, _EDGE * 2, -_EDGE * 2, -_EDGE * 2), self._look)
