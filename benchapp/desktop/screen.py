"""What the window asks of each of its screens."""

from PySide6.QtWidgets import QWidget


class Screen(QWidget):
    """One of the screens that the window shows in turn."""

    def take_focus(self) -> None:
        """Put the keyboard where the next key belongs."""
        self.setFocus()

    def refresh(self) -> None:
        """Read again what another window may have changed."""
