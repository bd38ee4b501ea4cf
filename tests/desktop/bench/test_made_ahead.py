"""Pages are made while nobody waits: nothing of them is seen, and the keyboard stays where it is."""

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication


class Shown(QObject):
    """Notes every window that is shown."""

    def __init__(self):
        super().__init__()
        self.names = []

    def eventFilter(self, watched, event):  # noqa: N802 - Qt's own name
        if event.type() == QEvent.Type.Show and watched.isWidgetType() and watched.isWindow():
            self.names.append(watched.objectName() or type(watched).__name__)
        return False


def test_no_window_is_shown_while_the_pages_are_made(technician):
    for percent in (100, 200):
        technician.window.look.set_percent(percent)
        technician.take_unit("TB-001")
        shown = Shown()
        QApplication.instance().installEventFilter(shown)
        technician.window.bench.pages.make_all()
        QApplication.instance().removeEventFilter(shown)
        assert shown.names == []
        assert technician.at_keyboard().window() is technician.window
