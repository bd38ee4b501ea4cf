"""One key struck by a finger, told from a scanner's burst: a key takes an answer only when no other comes with it."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

APART = 45
"""milliseconds between two keys of a person, at least; a scanner needs 2 to 30 (common practice, no source)"""


class Strikes(QObject):
    """Waits after each key whether another comes at once; one alone goes to `struck`, several together to `scanned`."""

    scanned = Signal(str)
    """what came in one burst, and was no answer"""
    waiting = 0
    """how many strikes of all windows are being waited for"""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._text = ""
        self._then: Callable[[], object] | None = None
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(APART)
        self._quiet.timeout.connect(self._settle)

    @property
    def pending(self) -> bool:
        """Whether keys came just now of which it is not known yet what they were."""
        return self._quiet.isActive()

    def take(self, text: str, then: Callable[[], object]) -> None:
        """A key with that text was struck; `then` is done where it stays alone."""
        if not self.pending:
            Strikes.waiting += 1
            self._text, self._then = "", then
        else:
            self._then = None
        self._text += text
        self._quiet.start()

    def forget(self) -> None:
        """What was struck was for something that is not shown any more."""
        if self.pending:
            Strikes.waiting -= 1
            self._quiet.stop()

    def _settle(self) -> None:
        Strikes.waiting -= 1
        then, text = self._then, self._text
        self._text, self._then = "", None
        if then is not None:
            then()
        elif text.strip():
            self.scanned.emit(text.strip())
