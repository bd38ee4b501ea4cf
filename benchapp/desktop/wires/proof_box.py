"""The tick that a meter was proved: its plus key asks the meter on the wire what it reads of the known source."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QCheckBox

from benchapp.desktop.keys import key_text


class ProofBox(QCheckBox):
    """Ticked by a person, or by a reading that a person took."""

    shown_asked = Signal()
    entered = Signal()
    """the keyboard came here"""
    on_wire = False
    """whether a meter on a wire can be asked"""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.on_wire and event.text() == key_text("take shown"):
            self.shown_asked.emit()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.entered.emit()
