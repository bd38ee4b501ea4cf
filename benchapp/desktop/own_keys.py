"""The program's own keys where a field has the keyboard: Qt's fields claim some of them for their own editing.

A key of the table with Ctrl goes to its action; what a field needs of the clipboard stays the field's.
"""

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from benchapp.desktop.keys import BEFORE_FIELDS


class OwnKeys(QObject):
    """Watches whatever has the keyboard, in a window and in its pages: none of them claims a key of ours."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._watch)

    def _watch(self, _before: QWidget | None, now: QWidget | None) -> None:
        if now is not None:
            now.removeEventFilter(self)  # the filter stands once on each, whatever had the keyboard before
            now.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
            return super().eventFilter(watched, event)
        if event.keyCombination().toCombined() not in BEFORE_FIELDS:
            return False
        event.ignore()
        return True
