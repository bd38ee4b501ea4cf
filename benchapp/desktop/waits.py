"""The clocks of all units that wait, in a line below every screen; each counts from the record and ends with a tone."""

from collections.abc import Callable, Iterable
from functools import partial
from math import ceil
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QPushButton, QWidget

from benchapp.desktop.widgets.texts import key_button, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.actions.workbench.waits import Waiting
    from benchapp.desktop.app_context import AppContext
    from benchapp.desktop.bench.unit_view import UnitView

_EVERY = 500
"""milliseconds between two looks at the clock"""
_LOOK_AFTER = 1500
"""milliseconds after the opening before the units that were begun are looked at"""
_LINE = 4
"""clocks that have room beside each other; the others are counted"""


class WaitsLine(QWidget):
    """A button for each unit that waits, with the time that is left; it leads to the unit."""

    def __init__(self, take_unit: Callable[[str], object]) -> None:
        super().__init__()
        self.setObjectName("waits")
        self._take_unit = take_unit
        self._context: AppContext | None = None
        self._waiting: dict[str, Waiting] = {}
        self._over: set[str] = set()
        self._to_look: list[str] = []
        self._buttons: dict[str, QPushButton] = {}
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.addWidget(label("waits-head", "quiet", tr("Waiting:"), wrap=False))
        self.more = label("waits-more", "quiet", wrap=False)
        self._row.addWidget(self.more)
        self._row.addStretch(1)
        self._tick = QTimer(self)
        self._tick.setInterval(_EVERY)
        self._tick.timeout.connect(self._paint)
        self._first_look = QTimer(self)
        self._first_look.setSingleShot(True)
        self._first_look.setInterval(_LOOK_AFTER)
        self._first_look.timeout.connect(self.look_for_all)
        self.hide()

    def begin(self, context: "AppContext") -> None:
        """Follow this workbook; waits that were begun before it was opened are found a little later."""
        self._context = context
        context.change_signals.changed.connect(self._hear)
        self._first_look.start()

    def look_for_all(self) -> None:
        """Find the waits of all units that were begun."""
        from benchapp.actions.workbench.waits import units_at_work

        if self._context is not None and self.window().isVisible():
            bench = self._context.bench
            self._context.tasks.read(lambda: tuple(units_at_work(bench)), then=self._look_at)

    def see(self, view: "UnitView", _page: str) -> None:
        """A unit is shown: whether it waits is known anew."""
        from benchapp.actions.workbench.waits import waiting_of

        self._keep(view.mark, waiting_of(view.mark, view.plan, view.state))

    @property
    def shown(self) -> dict[str, str]:
        """What the line says, by unit."""
        return {mark: button.text() for mark, button in self._buttons.items()}

    def _hear(self, changes: "ChangeSet") -> None:
        self._look_at(mark for mark in (*changes.units, *changes.renamed) if mark in self._waiting)

    def _look_at(self, marks: Iterable[str]) -> None:
        self._to_look.extend(mark for mark in marks if mark not in self._to_look)
        self._look_at_one()

    def _look_at_one(self) -> None:
        """One after the other, so that whoever takes a unit meanwhile waits for one at most."""
        from benchapp.actions.workbench.waits import waiting_of

        if self._context is None or not self._to_look or not self.window().isVisible():
            return
        bench, mark = self._context.bench, self._to_look.pop(0)

        def look() -> "tuple[str, Waiting | None]":
            return mark, waiting_of(mark, bench.plan(mark), bench.state(mark))

        self._context.tasks.read(look, then=self._looked, refused=partial(self._gone, mark))

    def _looked(self, found: "tuple[str, Waiting | None]") -> None:
        self._keep(*found)
        self._look_at_one()

    def _gone(self, mark: str, _sentence: str) -> None:
        self._keep(mark, None)
        self._look_at_one()

    def _keep(self, mark: str, waiting: "Waiting | None") -> None:
        if waiting == self._waiting.get(mark):
            return
        self._waiting.pop(mark, None)
        self._over.discard(mark)
        if waiting is not None:
            self._waiting[mark] = waiting
            if self._left(waiting) <= 0:
                self._over.add(mark)  # it was over before anybody looked: no tone for what is past
        self._lay_out()

    def _left(self, waiting: "Waiting") -> float:
        from benchapp.sequences.planning.entry_times import seconds_between

        assert self._context is not None
        return waiting.seconds - max(0.0, seconds_between(waiting.began, self._context.bench.clock()))

    def _lay_out(self) -> None:
        """A button for each of the first clocks, those that end first before the others."""
        for button in self._buttons.values():
            self._row.removeWidget(button)
            button.deleteLater()
        self._buttons = {}
        ordered = sorted(self._waiting.values(), key=self._left)
        for place, waiting in enumerate(ordered[:_LINE], 1):
            made = key_button(f"wait-{waiting.mark}", "")
            made.clicked.connect(partial(self._ask, waiting.mark))
            self._buttons[waiting.mark] = made
            self._row.insertWidget(place, made)
        rest = len(ordered) - _LINE
        self.more.setText(tr("and {count} more").format(count=rest) if rest > 0 else "")
        self.setVisible(bool(ordered))
        self._paint()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._tick.start()

    def hideEvent(self, event: QHideEvent) -> None:
        """The window is closed, or nothing waits; a window that is only put aside counts on."""
        super().hideEvent(event)
        if not event.spontaneous():
            self._tick.stop()

    def _ask(self, mark: str, _checked: bool = False) -> None:
        self._take_unit(mark)

    def _paint(self) -> None:
        for mark, waiting in self._waiting.items():
            left = self._left(waiting)
            if left <= 0 and mark not in self._over:
                self._over.add(mark)
                QApplication.beep()
                QApplication.alert(self.window())
            if mark in self._buttons:
                words = tr("{unit}: {time}") if left > 0 else tr("{unit}: the time is over")
                self._buttons[mark].setText(words.format(unit=mark, time=time_words(left)))


def time_words(seconds: float) -> str:
    """A time as people say it, in two units at most: `16 h`, `2 min 10 s`."""
    left = max(0, ceil(seconds))
    hours, minutes, rest = left // 3600, left // 60 % 60, left % 60
    parts = [(hours, tr("{count} h")), (minutes, tr("{count} min")), (rest, tr("{count} s"))]
    begun = next((place for place, (count, _words) in enumerate(parts) if count), len(parts) - 1)
    said = parts[begun : begun + 2]
    return " ".join(words.format(count=count) for place, (count, words) in enumerate(said) if count or not place)
