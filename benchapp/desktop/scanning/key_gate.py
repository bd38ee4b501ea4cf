"""Every key that types a sign waits here until it is known whether a finger struck it or a device.

The gate stands before the whole window, its dialogs and menus. What a person typed goes on to where it was typed, in
its order. What came all at once goes nowhere but to `burst`: no field, no list, no button and no menu sees it. A key
that waits belongs to the page on which it was struck: a page that is shown meanwhile never gets it.
"""

import time
from collections.abc import Iterator

import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from benchapp.desktop.keys import take_short_cut
from benchapp.desktop.scanning.strokes import AT_ONCE, ENDS, SLOW, WITH_CARE, Hand, Stroke, goes_on, hand_of, text_of

_E = QEvent.Type
_KEYS = (_E.KeyPress, _E.KeyRelease, _E.ShortcutOverride)
_WITH = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
_END_KEYS = {int(Qt.Key.Key_Return): "\r", int(Qt.Key.Key_Enter): "\r", int(Qt.Key.Key_Tab): "\t"}
_SILENT = (Qt.Key.Key_Shift, Qt.Key.Key_CapsLock, Qt.Key.Key_AltGr, Qt.Key.Key_NumLock)
WAITS = 50
"""milliseconds that a key waits: what may lie between two keys of a device, and what the window system adds"""
WAITS_WITH_CARE = 110
"""the same in a widget, or around it, whose `keys_settle` is true"""
_LATE = 8  # milliseconds: the clock came so late that the window was busy
AFTER_BURST = 150
"""milliseconds after a burst in which an Enter or Tab is still the device's: nobody has read the screen by then"""
RESTS = 90
"""milliseconds after a burst in which any key is still the device's, which stumbled"""


class KeyGate(QObject):
    """Stands before one window, with its dialogs and menus."""

    burst = Signal(str, object)
    """what came all at once, its Enter or Tab (`ENDS`) too, and the widget that had the keyboard"""
    two_at_once = Signal(object)
    """two keys were struck in one where each is an answer: neither was taken; the widget that had the keyboard"""
    came_early = Signal(str)
    """what a person typed before the page that is shown by now was in sight: it was not taken"""
    waiting = 0
    """how many keys of all windows wait"""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._strokes: list[Stroke] = []
        self._held: list[tuple[QObject, QKeyEvent]] = []
        self._of_another_page = False
        self._at: QWidget | None = None
        self._with_care = self._looks_again = False
        self._last: tuple[int, float] = (0, 0.0)
        """of the last stroke: its time by the window system, 0 where it tells none, and when it came here"""
        self._let_go: tuple[int, int] = (0, 0)
        self._seen: tuple[object, int, int] = (None, 0, 0)
        self._replays = False
        self._deaf_until = 0.0
        self._burst_goes_on = False
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

    def turn_page(self) -> None:
        """What waits now was struck before the page that is shown was in sight."""
        self._of_another_page = bool(self._strokes)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == _E.MouseButtonPress:
            self.let_through()  # what was typed before a click goes where it was typed
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
        if self._strokes and not goes_on(self._strokes[-1], stroke, self._slow):
            self.let_through()
        if not self._strokes and self._is_rest_of_burst(sign, apart, now):
            return True
        if sign in ENDS and not self._strokes:
            return False
        if not self._strokes:
            KeyGate.waiting += 1
            self._at = _has_keyboard(watched)
            self._with_care = any(getattr(one, "keys_settle", False) for one in with_parents(self._at))
            self._with_care = self._with_care and self._at is not None and not takes_text(self._at)
        self._strokes.append(stroke)
        self._held.append((watched, event.clone()))
        self._wait()
        return True

    @property
    def _slow(self) -> float:
        """Milliseconds that may lie between two keys of a device, where the keyboard is."""
        return WITH_CARE if self._with_care else SLOW

    def _wait(self) -> None:
        self._looks_again = False
        self._quiet.start(WAITS_WITH_CARE if self._with_care else WAITS)

    def _is_rest_of_burst(self, sign: str, apart: float, now: float) -> bool:
        """Whether a key that came so long after the last one belongs to a burst that is told already."""
        if self._burst_goes_on and apart < RESTS:
            return True
        self._burst_goes_on = False
        return sign in ENDS and now < self._deaf_until

    def _hear_release(self, watched: QObject, event: QKeyEvent) -> bool:
        self._let_go = (event.key(), event.timestamp())
        if not self._strokes:
            return False
        stamp = self._last[0]
        if stamp and event.timestamp() - stamp > self._slow:  # no device would have kept still for so long
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
        if self._looks_again:
            self.let_through()
            return
        late = 1000 * time.monotonic() - self._last[1] > self._quiet.interval() + _LATE
        self._looks_again = True
        self._quiet.start(WAITS if late else 1)

    def let_through(self) -> None:
        """What waits is judged now: it goes on, or is a burst."""
        if not self._strokes:
            return
        KeyGate.waiting -= 1
        self._quiet.stop()
        strokes, held, at, early = self._strokes, self._held, self._at, self._of_another_page
        self._strokes, self._held, self._at, self._of_another_page = [], [], None, False
        at = at if at is not None and shiboken6.isValid(at) and at.isVisible() else None
        hand = hand_of(strokes, WITH_CARE if self._with_care else AT_ONCE)
        if hand is Hand.device:
            self._deaf_until, self._burst_goes_on = 1000 * time.monotonic() + AFTER_BURST, True
            self.burst.emit("".join(stroke.sign for stroke in strokes), at)
        elif early or at is None or at is not _has_keyboard(held[0][0]):
            if typed := text_of(strokes):
                self.came_early.emit(typed)
        elif hand is Hand.two_at_once and not takes_text(at):
            self.two_at_once.emit(at)
        else:
            self._replay(held)

    def _replay(self, held: list[tuple[QObject, QKeyEvent]]) -> None:
        """Give on what a person struck, to where it was struck."""
        self._replays = True
        try:
            for watched, event in held:
                if shiboken6.isValid(watched):
                    _hand_on(watched, event)
        finally:
            self._replays = False


def _hand_on(watched: QObject, event: QKeyEvent) -> None:
    """Do with a key what Qt does: offer it, look for a short cut, then give it to whatever has the keyboard."""
    widget = _has_keyboard(watched)
    if event.type() == _E.KeyPress and widget is not None and QApplication.activePopupWidget() is None:
        offered = QKeyEvent(_E.ShortcutOverride, event.key(), event.modifiers(), event.text())
        offered.ignore()
        QCoreApplication.sendEvent(widget, offered)
        if not offered.isAccepted() and take_short_cut(with_parents(widget), event):
            return
    QCoreApplication.sendEvent(watched, event)


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
