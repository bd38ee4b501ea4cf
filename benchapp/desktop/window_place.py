"""Where a window stands and how large it is: kept for the next start, and never off the screens there are."""

from PySide6.QtCore import QByteArray, QSettings
from PySide6.QtWidgets import QMainWindow

from benchapp.desktop.widgets.room import resize_on_screen

_KEY = "window-geometry"


def keep_place(settings: QSettings, window: QMainWindow) -> None:
    """Keep where it stands, its size, and whether it fills the screen."""
    settings.setValue(_KEY, window.saveGeometry())


def put_back(settings: QSettings, window: QMainWindow) -> None:
    """Put the window, not yet shown, where it stood."""
    kept = settings.value(_KEY)
    if isinstance(kept, QByteArray):
        window.restoreGeometry(kept)


def show_in_place(window: QMainWindow) -> None:
    """Show it; now that its frame is known, nothing of it lies past the edges of its screen."""
    window.show()
    keep_on_screen(window)


def keep_on_screen(window: QMainWindow) -> None:
    """Take back what a page that was laid out anew has added to the window past the edges of its screen."""
    layout = window.layout()
    if layout is not None:
        layout.activate()
    if not (window.isMaximized() or window.isFullScreen()):
        resize_on_screen(window, window.size())
