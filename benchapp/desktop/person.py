"""Whose initials stand under what is recorded here."""

from PySide6.QtCore import QObject, Signal

from benchapp.desktop.keys import key_text
from benchapp.desktop.words import tr


class Person(QObject):
    """The person at the bench; empty initials are asked for before anything is recorded."""

    changed = Signal(str)
    arrived = Signal(str)
    """another person is at the bench, their initials typed to the end"""

    def __init__(self, initials: str = "") -> None:
        super().__init__()
        self._initials = self._here = initials

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

    def arrive(self) -> None:
        """The initials are typed to the end: tell whoever shows what is due of this person."""
        if self._initials != self._here:
            self._here = self._initials
            self.arrived.emit(self._initials)


def initials_first() -> str:
    """What a dialog says that cannot be answered by nobody: the initials of who is here stand in the window behind."""
    words = tr("Your own initials come first: close this, give them with {key}, then come back.")
    return words.format(key=key_text("initials"))
