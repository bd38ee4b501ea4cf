"""The circuit on a card, with two points that a person can choose by mouse or by keys."""

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.pictures.circuit_picture import CircuitPicture
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr

_INSET = 13.0
"""from the edge of the view to where the diagram begins, as the card has it"""
_BY = {Qt.Key.Key_Up: -1, Qt.Key.Key_Left: -1, Qt.Key.Key_Down: 1, Qt.Key.Key_Right: 1}


class CircuitView(PictureView):
    """Shows a `CircuitPicture`; Tab reaches it, arrows go from terminal to terminal, Space or a click chooses one."""

    picked = Signal(str, str)
    """the two terminals that were chosen, one after the other"""

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(look, name, parent)
        self.setAccessibleName(tr("Circuit"))
        self._first = ""
        self._at = 0
        self._pickable = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def let_pick(self, pickable: bool) -> None:
        """Whether points may be chosen here now."""
        self._pickable, self._first = pickable, ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if pickable else Qt.FocusPolicy.NoFocus)

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 18, line * 10)

    def _shown(self) -> CircuitPicture | None:
        picture = self.picture()
        return picture if isinstance(picture, CircuitPicture) else None

    def _box(self) -> QRectF:
        return QRectF(_INSET, _INSET, self.width() - 2 * _INSET, self.seen_height() - 2 * _INSET)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        shown = self._shown()
        if shown is not None and self._pickable:
            self._choose(shown.nearest(event.position(), self._box(), self._look))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        shown, by = self._shown(), _BY.get(Qt.Key(event.key()), 0)
        if shown is None or not self._pickable:
            super().keyPressEvent(event)
        elif by:
            self._at = (self._at + by) % len(shown.diagram.terminals)
            self._say_where(shown)
        elif event.key() == Qt.Key.Key_Space:
            self._choose(shown.diagram.terminals[self._at])
        else:
            super().keyPressEvent(event)

    def _choose(self, terminal: str) -> None:
        if not terminal or terminal == self._first:
            return
        if self._first:
            first, self._first = self._first, ""
            self.picked.emit(first, terminal)
        else:
            self._first = terminal
        self.update()

    def _say_where(self, shown: CircuitPicture) -> None:
        node = shown.diagram.terminals[self._at]
        self.setAccessibleDescription(f"{dict(shown.labels).get(node, node)}. {shown.words}")
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        shown = self._shown()
        if shown is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = self.fontMetrics().height()
        terminals = shown.diagram.terminals
        for node, pen in (
            (self._first, QPen(self._look.colour("focus"), 5)),
            (
                terminals[self._at] if self.hasFocus() and terminals else "",
                QPen(self._look.colour("focus"), 2, Qt.PenStyle.DashLine),
            ),
        ):
            if node:
                painter.setPen(pen)
                painter.drawEllipse(shown.place(node, self._box(), self._look), line * 0.95, line * 0.95)
        painter.end()
