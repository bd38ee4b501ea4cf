"""All that stands between the keyboard and the pages of one window: what keys are its own, held down, or a device's."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from benchapp.desktop.held_keys import HeldKeys
from benchapp.desktop.own_keys import OwnKeys
from benchapp.desktop.scanning.router import BurstRouter, Takes

if TYPE_CHECKING:
    from benchapp.desktop.bench.screen import BenchScreen


class Keyboard(QObject):
    """Watches the keys of one window, its dialogs and menus.

    `scanner` gives what takes the code of a unit's tag, `say` the foot of the window.
    """

    def __init__(self, window: QWidget, scanner: Callable[[], Takes | None], say: Callable[[str], object]) -> None:
        super().__init__(window)
        self.held_keys = HeldKeys(window)
        self._own_keys = OwnKeys(window)
        self.bursts = BurstRouter(window, scanner, say)  # the last one sees a key first
        self.held_keys.in_sight.connect(self.bursts.gate.turn_page)
        self.bursts.gate.came_early.connect(self.held_keys.came_early)

    def follow(self, bench: "BenchScreen") -> None:
        """Hear when a page of the bench turns or records, and tell there what was typed before it was in sight."""
        bench.turned.connect(lambda _name: self.held_keys.turn_page())
        bench.asked_anew.connect(self.held_keys.turn_page)
        bench.recording.connect(lambda begins: self.held_keys.wait(over=not begins))
        self.held_keys.came_early.connect(bench.tell_early)
        self.bursts.say_on_page = bench.tell
