"""A workbook made once for many tests, with the computer's own data beside it, and copied for each of them."""

import copy
import os
import shutil
from collections.abc import Callable
from contextlib import contextmanager
from pathlib import Path
from typing import Any


class Template:
    """What `make` did with a path and a clock, as often as one likes; the clock of a copy goes on from there."""

    def __init__(self, folder: Path, clock: Any, make: Callable[[Path, Any], None]) -> None:
        self.path = folder / "tarnbeck.workbook"
        self._data = folder / "data"
        self._clock = clock
        with _data_in(self._data):
            make(self.path, clock)

    def clock(self) -> Any:
        """A clock that goes on where the making ended."""
        return copy.copy(self._clock)

    def copied(self, folder: Path) -> Path:
        """A fresh copy of the workbook, on a computer that worked on it."""
        shutil.copytree(self._data, os.environ["BENCHAPP_DATA"], dirs_exist_ok=True)
        return Path(shutil.copy(self.path, folder / self.path.name))


@contextmanager
def _data_in(folder: Path):
    before = os.environ["BENCHAPP_DATA"]
    folder.mkdir(parents=True, exist_ok=True)
    os.environ["BENCHAPP_DATA"] = str(folder)
    try:
        yield
    finally:
        os.environ["BENCHAPP_DATA"] = before
