"""Keys that are held down: a keyboard's repeats take no answer, and a key of the page before gives nothing to the next.

What was typed before a page was in sight is no answer to it either: it is handed back, to be said. Only what moves or
rubs out may repeat. The filter sits on whatever has the keyboard, and on the window itself.
"""

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

_K = Qt.Key
MAY_REPEAT = frozenset(
    int(key)
    for key in (
        *(_K.Key_Up, _K.Key_Down, _K.Key_Left, _K.Key_Right, _K.Key_Home, _K.Key_End),
        *(_K.Key_PageUp, _K.Key_PageDown, _K.Key_Backspace, _K.Key_Delete),
    )
)
AGAIN = 400
"""milliseconds within which the key that turned a page is its own double strike: nobody has read the new page by then
(common practice, no source)"""
_KEYS = (QEvent.Type.KeyPress, QEvent.Type.KeyRelease, QEvent.Type.ShortcutOverride)


_HELD_BESIDE = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


class HeldKeys(QObject):
    """Watches the keys of one window and of the dialogs before it."""

    came_early = Signal(str)
    """what was typed before the page was in sight, and was not taken"""
    in_sight = Signal()
    """the page is in sight from here on: what was struck before now belongs to none"""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._down: set[int] = set()
        self._of_another_page: set[int] = set()
        self._let_go: dict[int, tuple[int, bool]] = {}
        """by key: when it was let go (milliseconds of the window system), and whether it was of another page"""
        self._struck = self._turned = (0, 0)
        """the key struck last, and the one that turned the page: when (milliseconds of the window system)"""
        self._waits, self._early = False, ""
        self._over = QTimer(self)
        self._over.setSingleShot(True)
        self._over.setInterval(0)
        self._over.timeout.connect(self._take_again)
        window.installEventFilter(self)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._watch)

    @property
    def waits(self) -> bool:
        """Whether an answer is being recorded, or its next page is not in sight yet: a key typed now is none of it."""
        return self._waits

    def turn_page(self) -> None:
        """What is down now gives nothing until it is let go and struck again."""
        self._of_another_page |= self._down
        self._turned = self._struck
        self.wait(over=True)

    def wait(self, *, over: bool = False) -> None:
        """Take no typed key while an answer is recorded; it is `over` once what came meanwhile was heard."""
        self._waits = True
        if over:
            self._over.start()

    def _take_again(self) -> None:
        QGuiApplication.sync()  # what was struck before now arrives now
        if self._over.isActive():
            return  # another page was turned to meanwhile
        self.in_sight.emit()
        self._waits, early, self._early = False, self._early, ""
        if early:
            self.came_early.emit(early)

    def _comes_early(self, event: QKeyEvent) -> bool:
        """Whether it is typed before its page is in sight; keys that stop, and all that is no typing, go through."""
        if not self._waits or not event.text() or event.key() == _K.Key_Escape or event.modifiers() & _HELD_BESIDE:
            return False
        if event.type() == QEvent.Type.KeyPress:
            self._early += event.text() if event.text().isprintable() else ""
        if event.type() != QEvent.Type.KeyRelease:
            self._down.add(event.key())
            self._of_another_page.add(event.key())
        return event.type() != QEvent.Type.KeyRelease

    def _watch(self, _before: QWidget | None, now: QWidget | None) -> None:
        if now is not None:
            now.removeEventFilter(self)  # the filter stands once on each, whatever had the keyboard before
            now.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() not in _KEYS or not isinstance(event, QKeyEvent):
            return super().eventFilter(watched, event)
        key = event.key()
        if self._comes_early(event):
            event.accept()
            return True
        if event.isAutoRepeat() or self._comes_at_once(event):
            if event.type() != QEvent.Type.KeyRelease and (key in self._of_another_page or key not in MAY_REPEAT):
                event.accept()
                return True
        elif self._is_double(event):
            self._of_another_page.add(key)
            event.accept()
            return True
        elif event.type() == QEvent.Type.KeyRelease:
            self._let_go[key] = (event.timestamp(), key in self._of_another_page)
            self._down.discard(key)
            self._of_another_page.discard(key)
        else:
            self._down.add(key)
            self._of_another_page.discard(key)
            if key != self._turned[0]:
                self._turned = (0, 0)  # the hand is on the new page: what it strikes from here on is meant
            self._struck = (key, event.timestamp())
        return False

    def _is_double(self, event: QKeyEvent) -> bool:
        """Whether the key that turned the page is struck at once again; a field takes what is typed into it."""
        key, before = self._turned
        if event.type() == QEvent.Type.KeyRelease or event.key() != key or not before:
            return False
        typed = event.text().isprintable() and isinstance(QApplication.focusWidget(), QLineEdit)
        return not typed and 0 < event.timestamp() - before < AGAIN

    def _comes_at_once(self, event: QKeyEvent) -> bool:
        """Whether the key was let go at the same time: then it was never let go, and is what it was before.

        X tells a repeat so, and Qt does not always see that it is one. A scanner's double digit comes a little later.
        """
        key, at = event.key(), event.timestamp()
        let_go, of_another_page = self._let_go.get(key, (0, False))
        if event.type() == QEvent.Type.KeyRelease or not at or at != let_go:
            return False
        self._down.add(key)
        if of_another_page:
            self._of_another_page.add(key)
        return True
