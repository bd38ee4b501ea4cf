"""How large a window or dialog is made: by what it shows, and never past the edges of the screen it stands on."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QDialog, QWidget

_OF_THE_SCREEN = 0.95
"""the frame of a window takes the rest (own choice)"""


def give_room(dialog: QDialog, *, wide: int, high: int) -> None:
    """Make the dialog so many heights of a line wide and high, as far as the screen has room."""
    line = dialog.fontMetrics().height()
    resize_on_screen(dialog, QSize(line * wide, line * high))


def resize_on_screen(window: QWidget, size: QSize) -> None:
    """Give the window this size as far as the screen has room; one that has its place is moved to stay on it."""
    window.resize(size.boundedTo(room_of(window)))
    if window.isVisible() or window.testAttribute(Qt.WidgetAttribute.WA_Moved):
        screen, frame = window.screen().availableGeometry(), window.frameGeometry()
        left = max(min(frame.left(), screen.right() - frame.width()), screen.left())
        top = max(min(frame.top(), screen.bottom() - frame.height()), screen.top())
        window.move(left, top)


def room_of(window: QWidget) -> QSize:
    """The largest size that a window has on its screen, without its frame."""
    return window.screen().availableSize() * _OF_THE_SCREEN
