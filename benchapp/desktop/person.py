"""Whose initials stand under what is recorded here."""

from PySide6.QtCore import QObject, Signal


class Person(QObject):
    """The person at the bench; empty initials are asked for before anything is recorded."""

    changed = Signal(str)

    def __init__(self, initials: str = "") -> None:
        super().__init__()
        self._initials = initials

    @property
    def initials(self) -> str:
        """As typed, without blanks around them."""
        return self._initials

    def set_initials(self, initials: str) -> None:
        """Another person is at the bench."""
        initials = initials.strip()
        if initials != self._initials:
            self._initials = initials
            self.changed.emit(initials)
