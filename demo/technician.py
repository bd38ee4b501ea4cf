"""A technician with a keyboard and nothing else: strikes keys in a real window and reads what it says.

The played demo and the journeys of the tests drive the window through this one class. It waits until what was asked for
is on disk and shown; it never reaches behind the window to change anything.
"""

import time
from collections.abc import Callable, Mapping

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget

from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.scanning.key_gate import AFTER_BURST, KeyGate
from benchapp.desktop.window import Window

KEYS = {
    "Enter": Qt.Key.Key_Return,
    "Esc": Qt.Key.Key_Escape,
    "Tab": Qt.Key.Key_Tab,
    "Backspace": Qt.Key.Key_Backspace,
    "Up": Qt.Key.Key_Up,
    "Down": Qt.Key.Key_Down,
    "Left": Qt.Key.Key_Left,
    "Right": Qt.Key.Key_Right,
    "Home": Qt.Key.Key_Home,
    "PgUp": Qt.Key.Key_PageUp,
    "PgDown": Qt.Key.Key_PageDown,
    **{f"F{number}": getattr(Qt.Key, f"Key_F{number}") for number in range(1, 13)},
}
MODIFIERS = {
    "Ctrl": Qt.KeyboardModifier.ControlModifier,
    "Alt": Qt.KeyboardModifier.AltModifier,
    "Shift": Qt.KeyboardModifier.ShiftModifier,
}
KEY_TO_KEY, DOWN = 100, 60
"""milliseconds from key to key at 120 words a minute, and how long each is down"""
LOOKING = 500
"""milliseconds that are told to pass before a key that is struck by itself: its page has been looked at"""
PATIENCE = 30.0
"""seconds after which something that should have happened is given up"""


class Technician:
    """Works a window by keys. Names of keys are those the window shows: "Enter", "F5", "Ctrl+Z"."""

    def __init__(self, window: Window, after: Callable[[], None] | None = None) -> None:
        self.window = window
        self._after = after or (lambda: None)
        self._fingers = 1000
        """when the last key was struck, in milliseconds"""

    # hands
    def strike(self, *keys: str) -> None:
        """Strike keys one after the other, waiting for each to have its effect."""
        for key in keys:
            self._fingers += LOOKING
            *held, last = key.split("+") if key != "+" else ["+"]
            modifiers = Qt.KeyboardModifier.NoModifier
            for name in held:
                modifiers |= MODIFIERS[name]
            target = self.at_keyboard()
            if last in KEYS:
                QTest.keyClick(target, KEYS[last], modifiers)
            elif modifiers in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier):
                self._type_sign(last if last != "Space" else " ", target)
            else:
                QTest.keyClick(target, last, modifiers)
            self.settle()

    def type(self, text: str) -> None:
        """Type a text where the keyboard is, as fingers do: one key after the other."""
        target = self.at_keyboard()
        for sign in text:
            self._type_sign(sign, target)
        self.settle()

    def _type_sign(self, sign: str, target: QWidget) -> None:
        """Press and let go; the times are told as a window system does, so that nobody has to wait for them."""
        self._fingers += KEY_TO_KEY
        self._send(sign, target, self._fingers, DOWN)

    def scan(self, code: str, *, apart: int = 12, end: str = "\r") -> None:
        """Hold a scanner to a code: it types it where the keyboard is, that many milliseconds from key to key."""
        target = self.at_keyboard()
        self._fingers += KEY_TO_KEY
        for sign in code + end:
            self._send(sign, target, self._fingers, 1)
            self._fingers += apart
        self.settle()
        QTest.qWait(AFTER_BURST + 50)  # a person's next key comes no sooner

    def _send(self, sign: str, target: QWidget, at: int, down: int) -> None:
        key = {"\r": Qt.Key.Key_Return, "\t": Qt.Key.Key_Tab}.get(sign, Qt.Key(ord(sign.upper())))
        for kind, later in (
            (QEvent.Type.ShortcutOverride, 0),
            (QEvent.Type.KeyPress, 0),
            (QEvent.Type.KeyRelease, down),
        ):
            event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, sign)
            event.setTimestamp(at + later)
            QCoreApplication.sendEvent(target, event)

    def retype(self, text: str) -> None:
        """Type a text in place of what stands in the field."""
        self.strike("Ctrl+A", "Backspace")
        self.type(text)

    def at_keyboard(self) -> QWidget:
        """The widget that has the keyboard."""
        if (
            QApplication.activeWindow() is None
        ):  # without a window manager nobody hands the keyboard back after a dialog
            (QApplication.activeModalWidget() or self.window).activateWindow()
            QCoreApplication.processEvents()
        return QApplication.focusWidget() or QApplication.activeModalWidget() or self.window

    def tab_to(self, name: str) -> None:
        """Go with Tab to the control of that object name."""
        for _ in range(80):
            if self.at_keyboard().objectName() == name:
                return
            self.strike("Tab")
        raise AssertionError(f"Tab never comes to {name!r}; it stands at {self.at_keyboard().objectName()!r}.")

    def tick(self, name: str) -> None:
        """Go to a box and see that it is ticked; the page may have ticked it already."""
        box = self.page.findChild(QAbstractButton, name)
        if box is not None and box.isChecked():
            return
        self.tab_to(name)
        self.strike("Space")

    # eyes
    @property
    def page(self) -> BenchPage:
        """The page of the bench that is shown."""
        page = self.window.bench.page
        assert page is not None, "no unit is on the bench"
        return page

    @property
    def view(self) -> UnitView:
        """What the page shows of the unit."""
        view = self.window.bench.view
        assert view is not None, "no unit is on the bench"
        return view

    @property
    def due(self) -> str:
        """What is due: step, caution, meter ..."""
        return str(self.view.state.due.kind)

    @property
    def address(self) -> str:
        """The address of the step at hand."""
        return self.view.step.address if self.view.step else ""

    def reads(self, name: str) -> str:
        """The text of the control of that object name, wherever it is in the window."""
        widget = self.window.findChild(QWidget, name)
        assert widget is not None, f"there is nothing called {name!r}"
        text = getattr(widget, "text", None)
        return str(text()) if callable(text) else widget.accessibleDescription()

    @property
    def complaint(self) -> str:
        """What the bench complains about; empty when it does not."""
        return self.window.bench.complaint.text() if self.window.bench.complaint.isVisible() else ""

    @property
    def said(self) -> str:
        """What was done last, as the foot of the window says."""
        return self.window.said.text()

    def settle(self) -> None:
        """Wait until everything asked for is on disk and shown."""
        tasks, until = self.window.tasks, time.monotonic() + PATIENCE
        QCoreApplication.processEvents()
        keyboard = self.window.keyboard
        while tasks.under_way or self.window.holds_answer or KeyGate.waiting or keyboard.held_keys.waits:
            QCoreApplication.processEvents()
            time.sleep(0.0005)  # lets the threads that work have the interpreter
            assert time.monotonic() < until, "the window does not come to rest"
        QCoreApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        self._after()

    # a few things a technician does
    def give_initials(self, initials: str) -> None:
        """Say whose work it is."""
        self.strike("F7")
        self.retype(initials)
        self.strike("Enter")

    def take_in(self, *, name: str, equipment: str, count: int, first: str, initials: str) -> None:
        """Take in a lot; `equipment` is its id, found in the list by going down it."""
        self.strike("F2", "Ctrl+N")
        self.type(name)
        self.tab_to("new-lot-equipment")
        box = self.at_keyboard()
        for _ in range(box.count()):  # type: ignore[attr-defined]
            if box.currentData() == equipment:  # type: ignore[attr-defined]
                break
            self.strike("Down")
        assert box.currentData() == equipment, f"{equipment} is not offered"  # type: ignore[attr-defined]
        self.tab_to("new-lot-count")
        self.retype(str(count))
        self.tab_to("new-lot-first")
        self.type(first)
        self.tab_to("new-lot-initials")
        self.retype(initials)
        self.strike("Enter")

    def take_unit(self, mark: str) -> None:
        """Go down the board to a unit and take it."""
        self.strike("F2", "Ctrl+Home")
        for _ in range(self.window.lots.board.board.rowCount()):
            if self.window.lots.board.mark() == mark:
                break
            self.strike("Down")
        assert self.window.lots.board.mark() == mark, f"{mark} is not on this board"
        self.strike("Enter")
        self.take_in_hand()

    def take_in_hand(self) -> None:
        """Where the window says to put the unit before away: take the one that comes, and type the end of its mark."""
        if self.window.bench.page is not None and self.page.name == "change":
            self.type(self.view.mark[-3:])
            self.strike("Enter")

    def open_the_bench(self, leads: Mapping[str, str], room: str = "Sula Vance") -> None:
        """Prove every meter on a proving unit, note its leads, say who else is there; the RCD read, tried and reset."""
        self.strike("F8")
        for meter in self.view.plan.meters:
            self.tab_to(f"opening-proved-{meter}")
            self.strike("Space")
            self.tab_to(f"opening-leads-{meter}")
            self.retype(leads.get(meter, ""))
        self.tab_to("opening-source")
        self.strike("Down")
        self.tab_to("opening-room")
        self.retype(room)
        self.tab_to("opening-rcd-rating")
        self.retype("30")
        self.tab_to("opening-rcd")
        self.strike("Space")
        self.tab_to("opening-rcd-reset")
        self.strike("Space")
        self.tab_to("opening-record")
        self.strike("Space")

    def mark_rows(self, marks: Mapping[str, str] | None = None) -> None:
        """Mark the rows of an inspection: good, except those named; what is bad is recorded with Enter."""
        keys = {"good": "1", "bad": "2", "does not apply": "3"}
        for name in list(self.page.names):  # type: ignore[attr-defined]
            self.strike(keys[(marks or {}).get(name, "good")])
        if "bad" in (marks or {}).values():
            self.strike("Enter")

    def confirm_rows(self) -> None:
        """Carry out and confirm every row of a work or set-up page; where parts are named, Enter takes them too."""
        page = self.page
        for _ in [name for name in page.names if name not in page.marks]:  # type: ignore[attr-defined]
            self.strike("Enter")
        if page is self.page and getattr(page, "waits_for_enter", False):
            self.strike("Enter")
