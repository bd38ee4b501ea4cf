"""What a widget painted before, kept for when the same is to be seen again."""

from collections import OrderedDict
from collections.abc import Callable, Hashable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from benchapp.desktop.theme.look import Look

KEPT = 12
"""paintings that are kept of each widget"""


class KeptPaintings:
    """The last paintings of one widget, by what is seen, its size and the look."""

    def __init__(self, widget: QWidget, look: Look) -> None:
        self._widget = widget
        self._look = look
        self._painted: OrderedDict[object, QPixmap] = OrderedDict()

    def of(self, seen: Hashable, size: QSize, paint: Callable[[QPainter], None]) -> QPixmap:
        """The painting of what is `seen` in that size: the one kept, else painted now on a clear ground.

        `seen` is all that the painting depends on, beside the size and the look.
        """
        tokens, ratio = self._look.tokens, self._widget.devicePixelRatioF()
        key = (seen, size.width(), size.height(), ratio, tokens, self._look.percent)
        found = self._painted.get(key)
        if found is None:
            found = self._painted[key] = self._paint(size, ratio, paint)
            while len(self._painted) > KEPT:
                self._painted.popitem(last=False)
        self._painted.move_to_end(key)
        return found

    def _paint(self, size: QSize, ratio: float, paint: Callable[[QPainter], None]) -> QPixmap:
        pixmap = QPixmap(size * ratio)
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        painter.setFont(self._widget.font())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint(painter)
        painter.end()
        return pixmap
