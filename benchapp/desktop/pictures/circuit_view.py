"""The circuit on a card, and where its terminals are drawn there."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize
from PySide6.QtWidgets import QWidget

from benchapp.desktop.pictures.circuit_picture import CircuitPicture
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.points import Point
from benchapp.desktop.words import tr

_INSET = 13.0
"""from the edge of the view to where the diagram begins, as the card has it"""


class CircuitView(PictureView):
    """Shows a `CircuitPicture`."""

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(look, name, parent)
        self.setAccessibleName(tr("Circuit"))

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 18, line * 10)

    def points(self) -> Sequence[Point]:
        """The terminals where they are drawn, from top to bottom on the left, in between, on the right."""
        shown = self.picture()
        if not isinstance(shown, CircuitPicture):
            return ()
        box = QRectF(_INSET, _INSET, self.width() - 2 * _INSET, self.seen_height() - 2 * _INSET)
        said = dict(shown.spoken)
        return [
            Point(terminal=one, words=said.get(one, one), at=shown.place(one, box, self._look))
            for one in shown.diagram.terminals
        ]
