"""What becomes of a burst: a meter's reading in a field that waits for it, the unit of that tag, or a sentence."""

from collections.abc import Callable
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QWidget

from benchapp.desktop.scanning.key_gate import KeyGate, with_parents
from benchapp.desktop.words import tr

Takes = Callable[[str], object]
SHOWN = 40
"""signs of a burst that are shown"""


@runtime_checkable
class TakesBursts(Protocol):
    """A widget that may want what came all at once while the keyboard was in it."""

    def take_burst(self, text: str) -> bool:
        """Take it, or say why not; False where it is none of this widget's."""


class BurstRouter(QObject):
    """Hands each burst of one window to where it belongs.

    `scanner` gives what takes the code of a unit's tag; None while there is no workbook to look in.
    """

    def __init__(self, window: QWidget, scanner: Callable[[], Takes | None], say: Callable[[str], object]) -> None:
        super().__init__(window)
        self._scanner, self._say = scanner, say
        self.say_on_page: Callable[[str], object] | None = None
        """says it on the page of the bench where that is in sight, else at the foot"""
        self.gate = KeyGate(window)
        self.gate.burst.connect(self.take)
        self.gate.two_at_once.connect(self._tell_two)

    def take(self, text: str, at: QWidget | None) -> None:
        """Hand on what a device typed."""
        for widget in with_parents(at):
            if isinstance(widget, TakesBursts) and widget.take_burst(text):
                return
        code = " ".join(text.split())
        popup, dialog = QApplication.activePopupWidget(), QApplication.activeModalWidget()
        if popup is not None:
            popup.close()
        if isinstance(dialog, QDialog):
            words = tr(
                "“{code}” came all at once, as a scanner types: nothing was taken. "
                "If you typed it, type it again; to scan, close this first."
            )
            self._tell(words.format(code=code[:SHOWN]), dialog)
        elif (scanned := self._scanner()) is not None:
            scanned(code)
        else:
            words = tr(
                "“{code}” came all at once, as a scanner types: nothing was taken. "
                "If you typed it, type it again; to scan, open a workbook first."
            )
            self._say(words.format(code=code[:SHOWN]))

    def _tell_two(self, at: QWidget) -> None:
        self._tell(tr("Two keys were struck at once: neither was taken. One key, please."), at)

    def _tell(self, words: str, at: QWidget) -> None:
        """Say it once: in the dialog where it has a line for that, on the page in sight, else at the foot."""
        line = getattr(at.window(), "complaint", None)
        if isinstance(line, QLabel):
            line.setText(words)
            line.show()
        elif self.say_on_page is None or isinstance(at.window(), QDialog):
            self._say(words)
        else:
            self.say_on_page(words)
        QApplication.beep()
