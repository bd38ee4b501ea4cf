"""What a screen reader is told of what we paint ourselves: its role and its value, and what changes by itself."""

from typing import Protocol, runtime_checkable

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QAccessibleInterface, QAccessibleValueChangeEvent
from PySide6.QtWidgets import QAccessibleWidget, QWidget


@runtime_checkable
class Painted(Protocol):
    """A widget that paints itself and says what it is."""

    spoken_role: QAccessible.Role

    def spoken_value(self) -> str:
        """What it shows now, in words."""


class _PaintedInterface(QAccessibleWidget):
    """The role and the value of a painted widget; all else is Qt's own."""

    def text(self, which: QAccessible.Text) -> str:
        """The value in the widget's words."""
        shown = self.object()
        if which == QAccessible.Text.Value and isinstance(shown, Painted):
            return shown.spoken_value()
        return str(super().text(which))


class Announcer(QObject):
    """Hands what has changed by itself to the screen reader, and tells whoever else listens."""

    announced = Signal(str)

    def announce(self, widget: QWidget, words: str) -> None:
        """Have the words said without the reader being led to the widget."""
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(widget, words))
        self.announced.emit(words)


ANNOUNCER = Announcer()


def tell_value(widget: QWidget, value: str) -> None:
    """Tell the screen reader that a painted widget shows another value."""
    QAccessible.updateAccessibility(QAccessibleValueChangeEvent(widget, value))


def _make(_kind: str, thing: QObject) -> QAccessibleInterface | None:
    if isinstance(thing, QWidget) and isinstance(thing, Painted):
        return _PaintedInterface(thing, thing.spoken_role)
    return None


QAccessible.installFactory(_make)
