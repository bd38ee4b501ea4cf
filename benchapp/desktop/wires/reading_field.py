"""Where a reading is typed: the star key of a number pad is OL, its plus key asks the meter on the wire."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit

from benchapp.desktop.keys import key_text


class ReadingField(QLineEdit):
    """Takes digits, units and `OL`."""

    shown_asked = Signal()
    over_range = Signal()
    entered = Signal()
    """the keyboard came here"""
    on_wire = False
    """whether a meter on a wire can be asked"""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text() == key_text("over range"):
            self.over_range.emit()
            return
        if self.on_wire and event.text() == key_text("take shown"):
            self.shown_asked.emit()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.entered.emit()
