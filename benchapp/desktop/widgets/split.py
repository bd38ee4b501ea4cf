"""Two things side by side, one above the other where the window is narrow for the text as large as it is.

It never asks for more width than it needs in a column: a page that were made wider by its halves side by side, and
narrower by the column, would go to and fro for ever.
"""

from PySide6.QtCore import QEvent, QSize
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QWidget

from benchapp.desktop.theme.look import Look


class Split(QWidget):
    """Holds two widgets by their shares of the width; below `narrow` (in heights of a line) they stand in a column."""

    def __init__(
        self,
        look: Look,
        first: QWidget,
        second: QWidget,
        *,
        shares: tuple[int, int],
        narrow: int,
        first_below: bool = False,
    ) -> None:
        """`first_below`: in a column the first stands under the second, which is what hands need."""
        super().__init__()
        columns = QBoxLayout.Direction
        self._column = columns.BottomToTop if first_below else columns.TopToBottom
        self._look = look
        self._narrow = narrow
        self._halves = (first, second)
        self._layout = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.addWidget(first, shares[0])
        self._layout.addWidget(second, shares[1])
        look.changed.connect(self._turn)

    def minimumSizeHint(self) -> QSize:
        widest = max(half.minimumSizeHint().width() for half in self._halves)
        return QSize(widest, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn()

    def event(self, event: QEvent) -> bool:
        """What a half needs has changed: its parts came, went or grew."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._turn()
        return super().event(event)

    def _turn(self) -> None:
        needed = sum(half.minimumSizeHint().width() for half in self._halves) + self._layout.spacing()
        narrow = self.width() < max(needed, self._narrow * QFontMetrics(self._look.font()).height())
        direction = self._column if narrow else QBoxLayout.Direction.LeftToRight
        if self._layout.direction() != direction:
            self._layout.setDirection(direction)
