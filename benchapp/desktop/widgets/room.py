"""How large a dialog is made: by the size of its text, and no larger than the screen it stands on."""

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QDialog

_OF_THE_SCREEN = 0.95
"""the frame of a window takes the rest (own choice)"""


def give_room(dialog: QDialog, *, wide: int, high: int) -> None:
    """Make the dialog so many heights of a line wide and high, as far as the screen has room."""
    line = dialog.fontMetrics().height()
    room = dialog.screen().availableSize() * _OF_THE_SCREEN
    dialog.resize(QSize(line * wide, line * high).boundedTo(room))
