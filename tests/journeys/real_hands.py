"""A technician whose keys, clicks and scans come from the X server: eyes in the program, hands outside of it (xdotool).

What is struck goes the way of a real keyboard, with the times of the server. Nothing is sent to a widget.
"""

import subprocess
import time
from collections import Counter
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QPoint, QPointF, QRect
from PySide6.QtGui import QInputEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QPushButton, QScrollArea, QWidget

from benchapp.desktop.held_keys import AGAIN
from benchapp.desktop.scanning.key_gate import AFTER_BURST
from benchapp.desktop.widgets.choices import ChoiceList
from benchapp.desktop.window import Window
from demo.technician import Technician

NAMES = {
    "Enter": "Return",
    "Esc": "Escape",
    "Backspace": "BackSpace",
    "PgUp": "Prior",
    "PgDown": "Next",
    "Space": "space",
    "*": "asterisk",
    "+": "plus",
    "Ctrl": "ctrl",
    "Shift": "shift",
    "Alt": "alt",
}
"""keys by their names on the X server, where these differ"""
SCANNER, FINGERS = 12, 90
"""milliseconds between two keys"""
ARRIVES = 5.0
"""seconds in which what was struck has come to the program"""
Area = Callable[[], QRect]
"""where it is now: what is scrolled moves"""
LET_GO = (QEvent.Type.KeyRelease, QEvent.Type.MouseButtonRelease, QEvent.Type.Wheel)


class _Arrivals(QObject):
    """Notes when something that was pressed and let go has come in whole, once for each."""

    def __init__(self, application: QApplication) -> None:
        super().__init__(application)
        self.seen: set[tuple[int, int]] = set()
        application.installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 - the name is of Qt
        if event.type() in LET_GO and event.spontaneous() and isinstance(event, QInputEvent):
            which = event.key() if event.type() == QEvent.Type.KeyRelease else 0  # type: ignore[attr-defined]
            self.seen.add((event.timestamp(), which))
        return False


class RealHands(Technician):
    """Works the window by real keys; `done` counts them, and clicks and scans."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        self.done: Counter[str] = Counter()
        self._arrivals = _Arrivals(application)
        self._struck: tuple[str, float, object] = ("", 0.0, None)
        """the last key, when, and what was shown before it"""

    def strike(self, *keys: str) -> None:
        for key in keys:
            self._look_up(key)
            names = [NAMES.get(name, name) for name in (key.split("+") if key != "+" else ["+"])]
            names[-1] = names[-1].lower() if len(names[-1]) == 1 else names[-1]
            self._send(["key", "--clearmodifiers", "+".join(names)], "key", 1)

    def _look_up(self, what: str) -> None:
        """Before the same is struck or clicked once more, a person looks at the page that it has brought."""
        last, when, shown = self._struck
        apart = AGAIN + 60 if what == last and shown != self._shown() else FINGERS
        time.sleep(max(0.0, when + apart / 1000 - time.monotonic()))
        self._struck = (what, 0.0, self._shown())

    def _shown(self) -> tuple[object, ...]:
        bench = self.window.bench
        return QApplication.activeModalWidget(), bench.page, bench.view and bench.view.state.last_entry

    def type(self, text: str) -> None:
        if text:
            self._send(["type", "--delay", str(FINGERS), text], "key", len(text))

    def scan(self, code: str, *, apart: int = SCANNER, end: str = "\n") -> None:
        """The program waits for the tool meanwhile, so that the burst comes to it whole, as from the wire."""
        time.sleep(0.2)  # the hand takes the scanner up
        self._send(["type", "--delay", str(apart), code + end], "scan", 1)
        time.sleep((AFTER_BURST + 50) / 1000)
        self.settle()

    def _send(self, words: list[str], what: str, count: int) -> None:
        """Have the tool do it, and wait until it has come to the program and had its effect."""
        self.done[what] += count
        before, until = len(self._arrivals.seen), time.monotonic() + ARRIVES
        subprocess.run(["xdotool", *words], check=True, timeout=60)
        self._struck = (self._struck[0], time.monotonic(), self._struck[2])
        while len(self._arrivals.seen) < before + count and time.monotonic() < until:
            QCoreApplication.processEvents()
            time.sleep(0.002)
        self.settle()
        while not self._in_front() and time.monotonic() < until:
            self.settle()  # a person types into a dialog once it stands there

    def _in_front(self) -> bool:
        dialog = QApplication.activeModalWidget()
        return dialog is None or dialog.isActiveWindow()


class ScannerInHand(RealHands):
    """The same, who goes from unit to unit by the scanner."""

    def take_unit(self, mark: str) -> None:
        self.scan(mark)
        self.take_in_hand()

    def take_in_hand(self) -> None:
        if self.window.bench.page is not None and self.page.name == "change":
            self.scan(self.view.mark)


CONTROLS = {
    ("caution", "y"): "caution-understood",
    ("reading", "Enter"): "reading-take",
    ("ask", "Enter"): "ask-record",
    ("wait", "Enter"): "wait-button",
    ("inspect", "Enter"): "inspect-finish",
    ("work", "Enter"): "work-finish",
    ("set-up", "Enter"): "set-up-finish",
    ("search", "Enter"): "search-take",
    ("repair", "Enter"): "repair-record",
    ("fault", "Enter"): "fault-record",
    ("fault", "F10"): "fault-search",
    ("change", "Enter"): "change-take",
}
"""by page and key: the button that does the same"""
SCREENS = {"F2": "go-lots", "F4": "go-bench", "F11": "go-sale"}
IN_MENUS = {"F6": ("Bench", "outcome"), "d": ("Bench", "destroyed")}


class MouseAlone(RealHands):
    """Works by mouse; only readings, and what has no list, are typed."""

    def strike(self, *keys: str) -> None:
        for key in keys:
            if key in SCREENS:
                self.click(self._named(SCREENS[key]))
            elif QApplication.activeModalWidget() is not None:
                self._in_dialog(key)
            elif key in IN_MENUS:
                self._by_menu(*IN_MENUS[key])
            elif (self.page.name, key) == ("repair", "Enter") and self._unticked() is not None:
                self._cap(self.page.list, self._unticked(), "Enter")  # type: ignore[attr-defined]
            elif (self.page.name, key) in CONTROLS:
                self.click(self._named(CONTROLS[self.page.name, key]))
            elif key == "Ctrl+Enter":
                suspects = self.page.suspects  # type: ignore[attr-defined]
                self._row(suspects, suspects.row_at_hand())
            elif key.isdecimal():
                self._row(self.page.list, int(key) - 1)  # type: ignore[attr-defined]
            elif key != "Enter":  # grade and price count with the answer that is clicked next
                raise AssertionError(f"no mouse way for {key} on {self.page.name}")

    def _unticked(self) -> int | None:
        """The first line of the repair's list that is not ticked."""
        page: Any = self.page
        return next((number for number, name in enumerate(page.names) if name not in page.marks), None)

    def retype(self, text: str) -> None:
        """Mark what stands in the field with three clicks, and type."""
        field = self.at_keyboard()
        if getattr(field, "text", str)():
            self.click(field, times=3)
        self.type(text)

    def tab_to(self, name: str) -> None:
        target = self._named(name)
        if target is not self.at_keyboard() and not isinstance(target, (QPushButton, QAbstractItemView)):
            self.click(target)

    def tick(self, name: str) -> None:
        box = self.page.findChild(QWidget, name)
        if box is not None and not box.isChecked():  # type: ignore[attr-defined]
            self.click(box, left=True)

    def mark_rows(self, marks=None) -> None:
        for number, name in enumerate(list(self.page.names)):  # type: ignore[attr-defined]
            wanted = {"good": "1", "bad": "2", "does not apply": "3"}[(marks or {}).get(name, "good")]
            self._cap(self.page.list, number, wanted)  # type: ignore[attr-defined]
        if "bad" in (marks or {}).values():
            self.click(self._named("inspect-finish"))

    def confirm_rows(self) -> None:
        page = self.page
        for number, name in enumerate(page.names):  # type: ignore[attr-defined]
            if name not in page.marks:  # type: ignore[attr-defined]
                self._cap(page.list, number, "Enter")  # type: ignore[attr-defined]
        if page is self.page and getattr(page, "waits_for_enter", False):
            self.click(self._named(f"{page.name}-finish"))

    def take_unit(self, mark: str) -> None:
        self.strike("F2")
        board = self.window.lots.board
        row = next(at for at in range(board.board.rowCount()) if board.board.index(at, 0).data() == mark)
        for _ in range(2):
            self.click(board, lambda: board.visualRect(board.board.index(row, 0)))
        self.take_in_hand()

    # clicking
    def click(self, widget: QWidget, area: Area | None = None, *, times: int = 1, left: bool = False) -> None:
        """Click into the middle of it, or of an area of it; what is out of sight is brought there by the wheel."""
        view = widget.viewport() if isinstance(widget, QAbstractItemView) else widget
        where = area or view.rect
        self._scroll_to(view, where)
        room = where()
        at = view.mapToGlobal(QPoint(room.left() + 12, room.center().y()) if left else room.center())
        self._look_up("click")
        self._send(["mousemove", str(at.x()), str(at.y()), "click", "--repeat", str(times), "1"], "click", times)

    def _scroll_to(self, view: QWidget, where: Area) -> None:
        """Turn the wheel over what holds it until its middle is in sight."""
        for _ in range(60):
            middle = where().center()
            if view.rect().contains(middle) and view.visibleRegion().contains(middle):
                return
            seat = view if not view.rect().contains(middle) else _scrolled_by(view)
            assert seat is not None, f"{view.objectName()} is never in sight"
            down = view.mapTo(seat, middle).y() > seat.height() / 2
            at = seat.mapToGlobal(QPoint(seat.width() - 8, seat.height() // 2))
            self._send(["mousemove", str(at.x()), str(at.y()), "click", "5" if down else "4"], "wheel", 1)
        raise AssertionError(f"no wheel brings {view.objectName()} into sight")

    def _row(self, rows: ChoiceList, number: int) -> None:
        """The first click takes it in hand, the second acts."""
        before = self._shown()
        for _ in range(2):
            self.click(rows, lambda: _end_of(rows.visualRect(rows.model().index(number, 0))))
            if self._shown() != before:
                return

    def _cap(self, rows: ChoiceList, number: int, key: str) -> None:
        """The key that is drawn on a row; a row without one is clicked twice."""
        if not any(cap.key == key for cap in rows.rows()[number].caps):
            self._row(rows, number)
            return

        def place() -> QRect:
            room = rows.visualRect(rows.model().index(number, 0))
            high = room.top() + 20
            across = [x for x in range(room.left(), room.right(), 2) if rows.key_at(QPointF(x, high)) == key]
            return QRect(across[0], high - 4, across[-1] - across[0], 8) if across else room

        self.click(rows, place)

    def _in_dialog(self, key: str) -> None:
        """Enter is the button that a dialog offers."""
        dialog = QApplication.activeModalWidget()
        assert dialog is not None
        assert key == "Enter", f"no mouse way for {key} in a dialog"
        button = next(one for one in dialog.findChildren(QPushButton) if one.isDefault() and one.isVisible())
        self.click(button)

    def _by_menu(self, title: str, row: str) -> None:
        bar = self.window.findChild(QWidget, "menu-bar")
        action = next(one for one in bar.actions() if one.text().replace("&", "") == title)
        self.click(bar, lambda: bar.actionGeometry(action))
        menu = action.menu()
        item = next(one for one in menu.actions() if one.objectName() == f"menu-item-{row}")
        self.click(menu, lambda: menu.actionGeometry(item))

    def _named(self, name: str) -> QWidget:
        holder = QApplication.activeModalWidget() or self.window
        found = [one for one in holder.findChildren(QWidget, name) if one.isVisible()]
        assert found, f"there is nothing called {name!r} on {self.page.name}"
        return found[0]


def _scrolled_by(widget: QWidget) -> QWidget | None:
    """What its wheel moves: the part in sight of the area that holds it."""
    above = widget.parentWidget()
    while above is not None and not isinstance(above, QScrollArea):
        above = above.parentWidget()
    return above.viewport() if above is not None else None


def _end_of(room: QRect) -> QRect:
    """The end of a row, where no key is drawn."""
    return QRect(room.right() - 60, room.top(), 40, room.height())
