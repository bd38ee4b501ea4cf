"""A label that wraps, and that gives room away where text is large: there each of its lines is cut where it ends."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.texts import PlainLabel, tip

_FRAME = 24
"""pixels at both sides together that the style sheet may take"""


class ShortLabel(PlainLabel):
    """Whatever is cut stays whole in the tooltip and for a screen reader."""

    def __init__(self, look: Look, name: str, kind: str, parent: QWidget | None = None) -> None:
        super().__init__("", parent)
        self.setObjectName(name)
        self.setProperty("kind", kind)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self._look = look
        self._lines: tuple[str, ...] = ()
        look.changed.connect(self._fit)

    def show_lines(self, *lines: str) -> None:
        """Show these lines: one after the other in a text that wraps, or one below the other and none of them wraps."""
        self._lines = tuple(line for line in lines if line)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._look.cramped:
            self._fit()

    def _fit(self) -> None:
        cramped, whole = self._look.cramped, "   ".join(self._lines)
        self.setWordWrap(not cramped)
        self.ensurePolished()
        room, metrics = self.width() - _FRAME, self.fontMetrics()
        cut = (metrics.elidedText(line, Qt.TextElideMode.ElideRight, room) for line in self._lines)
        self.setText("\n".join(cut) if cramped else whole)
        self.setToolTip(tip(whole) if cramped else "")
        self.setAccessibleName(whole)
