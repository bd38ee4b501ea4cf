"""The line over the board: a search as it is typed, which units are shown, what comes first."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QToolButton, QWidget

from benchapp.desktop.lots.arranging import Arranging, Only, Order
from benchapp.desktop.widgets.texts import hold_narrow
from benchapp.desktop.widgets.unit_table import ENTER
from benchapp.desktop.words import tr


class SearchField(QLineEdit):
    """Typed into from anywhere on the board; Enter and the arrow down lead back to it, Esc empties it first."""

    left = Signal(bool)
    """back to the board; whether it was by Enter"""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ENTER or event.key() == Qt.Key.Key_Down:
            self.left.emit(event.key() in ENTER)
        elif event.key() == Qt.Key.Key_Escape:
            self.clear()
            self.left.emit(False)
        else:
            super().keyPressEvent(event)


class BoardFilter(QWidget):
    """Says how the board is to be arranged at every key and choice."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("board-filter")
        self.search = SearchField()
        self.search.setObjectName("board-search")
        self.search.setAccessibleName(tr("Search the board: mark, what it stands as, what is due"))
        self.search.setPlaceholderText(tr("Search: type"))
        self.search.setClearButtonEnabled(True)
        for clear in self.search.findChildren(QToolButton):
            clear.setObjectName("board-search-clear")
            clear.setAccessibleName(tr("Clear what is searched for"))
        self.only = _chooser("board-only", tr("Which units are shown"), [tr(one.value) for one in Only])
        self.order = _chooser("board-order", tr("What comes first"), [tr(one.value) for one in Order])
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for part, share in ((self.search, 3), (self.only, 4), (self.order, 4)):
            row.addWidget(part, share)
        self.search.textChanged.connect(lambda _text: self.changed.emit())
        self.only.currentIndexChanged.connect(lambda _number: self.changed.emit())
        self.order.currentIndexChanged.connect(lambda _number: self.changed.emit())

    def arranging(self) -> Arranging:
        """What is asked for now."""
        only, order = tuple(Only)[self.only.currentIndex()], tuple(Order)[self.order.currentIndex()]
        return Arranging(typed=self.search.text().strip(), only=only, order=order)

    def begin(self, text: str) -> None:
        """A letter or digit was struck on the board: the search goes on with it."""
        self.search.setFocus()
        self.search.setText(self.search.text() + text)

    def sort_by(self, order: Order) -> None:
        """Put that first."""
        self.order.setCurrentIndex(tuple(Order).index(order))


def _chooser(name: str, words: str, choices: list[str]) -> QComboBox:
    box = QComboBox()
    box.setObjectName(name)
    box.setAccessibleName(words)
    box.addItems(choices)
    hold_narrow(box)
    return box
