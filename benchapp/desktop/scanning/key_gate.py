"""Every key that types a sign waits here until it is known whether a finger struck it or a device.

The gate stands before the whole window, its dialogs and menus. What a person typed goes on to where it was typed, in
its order. What came all at once goes nowhere but to `burst`: no field, no list, no button and no menu sees it.
"""

import time
from collections.abc import Iterator

import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QWidget

from benchapp.desktop.scanning.strokes import AT_ONCE, ENDS, Hand, Stroke, goes_on, hand_of

_E = QEvent.Type
_KEYS = (_E.KeyPress, _E.KeyRelease, _E.ShortcutOverride)
_WITH = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
_END_KEYS = {int(Qt.Key.Key_Return): "\r", int(Qt.Key.Key_Enter): "\r", int(Qt.Key.Key_Tab): "\t"}
_SILENT = (Qt.Key.Key_Shift, Qt.Key.Key_CapsLock, Qt.Key.Key_AltGr, Qt.Key.Key_NumLock)
WAITS = 45
"""milliseconds that a key waits: what may lie between two keys of a device, and what the window system adds"""
_LATE = 8  # milliseconds: the clock came so late that the window was busy
AFTER_BURST = 150
"""milliseconds after a burst in which an Enter or Tab is still the device's: nobody has read the screen by then"""


class KeyGate(QObject):
    """Stands before one window, with its dialogs and menus."""

    burst = Signal(str, object)
    """what came all at once, its Enter or Tab (`ENDS`) too, and the widget that had the keyboard"""
    two_at_once = Signal(object)
    """two keys were struck in one where each is an answer: neither was taken; the widget that had the keyboard"""
    waiting = 0
    """how many keys of all windows wait"""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._strokes: list[Stroke] = []
        self._held: list[tuple[QObject, QKeyEvent]] = []
        self._at: QWidget | None = None
        self._last: tuple[int, float] = (0, 0.0)
        """of the last stroke: its time by the window system, 0 where it tells none, and when it came here"""
        self._let_go: tuple[int, int] = (0, 0)
        self._seen: tuple[object, int, int] = (None, 0, 0)
        self._replays = False
        self._deaf_until = 0.0
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setTimerType(Qt.TimerType.PreciseTimer)
        self._quiet.timeout.connect(self._time_is_over)
        window.installEventFilter(self)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._follow)
        application.focusWindowChanged.connect(self._stand_before)

    def _follow(self, _before: QWidget | None, now: QWidget | None) -> None:
        self._stand_before(now)

    def _stand_before(self, now: QObject | None) -> None:
        if now is not None:
            now.removeEventFilter(self)  # it stands once before each
            now.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() not in _KEYS or self._replays or not isinstance(event, QKeyEvent):
            return False
        if event.key() in _SILENT or not self._is_of_this_window(watched):
            return False
        seen = (event.type(), event.key(), event.timestamp())
        if event.timestamp() and seen == self._seen:
            return False  # it was let through, and comes by again on its way from the window to the widget
        taken = self._takes(watched, event)
        self._seen = (None, 0, 0) if taken else seen
        return taken

    def _takes(self, watched: QObject, event: QKeyEvent) -> bool:
        """Whether a key stays here; a sign does, and what belongs to one that waits."""
        if event.type() == _E.KeyRelease:
            return self._hear_release(watched, event)
        sign = _sign_of(event)
        if not sign or self._is_repeat(event):
            self.let_through()
            return False
        if event.type() == _E.ShortcutOverride:
            return self._override(event, sign)
        return self._hear_press(watched, event, sign)

    def _override(self, event: QKeyEvent, sign: str) -> bool:
        """No short cut takes a key that waits; it is looked for when the key goes on."""
        if sign in ENDS:
            return False
        event.accept()
        return True

    def _hear_press(self, watched: QObject, event: QKeyEvent, sign: str) -> bool:
        now = 1000 * time.monotonic()
        at = event.timestamp()
        stamp, came = self._last
        apart = at - stamp if at and stamp else now - came
        self._last = (at, now)
        stroke = Stroke(sign, self._strokes[-1].at + apart if self._strokes else now)
        if self._strokes and not goes_on(self._strokes[-1], stroke):
            self.let_through()
        if sign in ENDS and not self._strokes:
            return now < self._deaf_until
        if not self._strokes:
            KeyGate.waiting += 1
            self._at = _has_keyboard(watched)
        self._strokes.append(stroke)
        self._held.append((watched, event.clone()))
        self._quiet.start(WAITS)
        return True

    def _hear_release(self, watched: QObject, event: QKeyEvent) -> bool:
        self._let_go = (event.key(), event.timestamp())
        if not self._strokes:
            return False
        stamp = self._last[0]
        if stamp and event.timestamp() - stamp > AT_ONCE:  # no device would have kept still for so long
            self.let_through()
            return False
        self._held.append((watched, event.clone()))
        return True

    def _is_repeat(self, event: QKeyEvent) -> bool:
        """Whether the keyboard repeats a held key; X may tell it as let go and struck at one time.

        A keyboard repeats after 150 ms at the earliest, so nothing waits here by then; what waits is of a device.
        """
        at = event.timestamp()
        return event.isAutoRepeat() or bool(at and not self._strokes and self._let_go == (event.key(), at))

    def _is_of_this_window(self, watched: QObject) -> bool:
        widget = _has_keyboard(watched)
        while widget is not None:
            if widget.window() is self._window:
                return True
            widget = widget.window().parentWidget()
        return False

    def _time_is_over(self) -> None:
        """Look once more at what stands in line: a busy window hears its clock before the keys that came meanwhile."""
        late = 1000 * time.monotonic() - self._last[1] > WAITS + _LATE
        if self._quiet.interval() == WAITS:
            self._quiet.start(WAITS - 1 if late else 1)
        else:
            self.let_through()

    def let_through(self) -> None:
        """What waits is judged now: it goes on, or is a burst."""
        if not self._strokes:
            return
        KeyGate.waiting -= 1
        self._quiet.stop()
        strokes, held, at = self._strokes, self._held, self._at
        self._strokes, self._held, self._at = [], [], None
        at = at if at is not None and shiboken6.isValid(at) and at.isVisible() else None
        hand = hand_of(strokes)
        if hand is Hand.device:
            self._deaf_until = 1000 * time.monotonic() + AFTER_BURST
            self.burst.emit("".join(stroke.sign for stroke in strokes), at)
        elif hand is Hand.two_at_once and at is not None and not takes_text(at):
            self.two_at_once.emit(at)
        else:
            self._replay(held, at)

    def _replay(self, held: list[tuple[QObject, QKeyEvent]], at: QWidget | None) -> None:
        """Give on what a person struck, to what was shown then: a page that came meanwhile gets none of it."""
        if at is None:
            return
        moved = at is not _has_keyboard(held[0][0])
        self._replays = True
        try:
            for watched, event in held:
                if shiboken6.isValid(watched) and shiboken6.isValid(at):
                    _hand_on(at if moved else watched, event)
        finally:
            self._replays = False


def _hand_on(watched: QObject, event: QKeyEvent) -> None:
    """Do with a key what Qt does: offer it, look for a short cut, then give it to whatever has the keyboard."""
    widget = _has_keyboard(watched)
    if event.type() == _E.KeyPress and widget is not None and QApplication.activePopupWidget() is None:
        offered = QKeyEvent(_E.ShortcutOverride, event.key(), event.modifiers(), event.text())
        offered.ignore()
        QCoreApplication.sendEvent(widget, offered)
        if not offered.isAccepted() and _take_short_cut(widget, event):
            return
    QCoreApplication.sendEvent(watched, event)


def _take_short_cut(widget: QWidget, event: QKeyEvent) -> bool:
    struck = QKeySequence(event.keyCombination())
    for owner in with_parents(widget):
        for action in owner.actions():
            if action.isEnabled() and struck in action.shortcuts():
                action.trigger()
                return True
    return False


def with_parents(widget: QWidget | None) -> Iterator[QWidget]:
    """The widget and all around it, as far as its window."""
    at = widget
    while at is not None:
        yield at
        at = None if at.isWindow() else at.parentWidget()


def _has_keyboard(watched: QObject) -> QWidget | None:
    """The widget to which a key goes that comes by `watched`."""
    if isinstance(watched, QWidget):
        return watched
    return QApplication.activePopupWidget() or QApplication.focusWidget() or QApplication.activeWindow()


def takes_text(widget: QWidget) -> bool:
    """Whether what is typed at it is text."""
    return widget.testAttribute(Qt.WidgetAttribute.WA_InputMethodEnabled)


def _sign_of(event: QKeyEvent) -> str:
    """What a key types, Enter and Tab among it; empty for all other keys."""
    if event.modifiers() & _WITH:
        return ""
    end = _END_KEYS.get(event.key(), "")
    text = event.text()
    return end or (text if text.isprintable() else "")
