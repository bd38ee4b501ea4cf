"""Pictures of the screens: each page once, in light and dark, with text at 100 % and at 200 %."""

import time
from pathlib import Path

from PySide6.QtCore import QCoreApplication
from PySide6.QtTest import QTest

from benchapp.desktop.window import Window

LOOKS = {"light-100": (False, 100), "dark-100": (True, 100), "light-200": (False, 200), "dark-200": (True, 200)}

STARTS = 20  # milliseconds in which a page has asked for all that it draws
PATIENCE = 10.0  # seconds


class Album:
    """Takes a picture of a page the first time it is seen; keeps the list of what it wrote."""

    def __init__(self, window: Window, folder: Path) -> None:
        self._window = window
        self._folder = folder
        self._seen: set[str] = set()
        self.written: list[Path] = []
        folder.mkdir(parents=True, exist_ok=True)

    def see(self, name: str) -> None:
        """Take the pictures of this page, if it was not seen before."""
        if name in self._seen:
            return
        self._seen.add(name)
        look = self._window.look
        for words, (dark, percent) in LOOKS.items():
            look.set_dark(dark)
            look.set_percent(percent)
            self._come_to_rest()
            path = self._folder / f"{len(self._seen):02d}-{name}-{words}.png"
            self._window.grab().save(str(path))
            self.written.append(path)
        look.set_dark(False)
        look.set_percent(100)
        QCoreApplication.processEvents()

    def _come_to_rest(self) -> None:
        """Wait for what the page draws by itself, as the sale table does the tag."""
        until = time.monotonic() + PATIENCE
        QTest.qWait(STARTS)
        while self._window.tasks.under_way and time.monotonic() < until:
            QTest.qWait(1)
