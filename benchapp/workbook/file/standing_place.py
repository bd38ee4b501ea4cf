"""Whether a file still stands where it was opened: on Linux and macOS writes go on into a file that was deleted."""

import os
from collections import Counter
from pathlib import Path

from benchapp.workbook.model.problems import WorkbookGone

Identity = tuple[int, int]
"""device and number of a file on it (Windows: volume and file index), the same under every name of the file"""

_OPEN_HERE: Counter[Identity] = Counter()


class StandingPlace:
    """The file and its log as they were when they were opened; raises WorkbookGone where there is no file."""

    def __init__(self, path: Path) -> None:
        self._path = path.absolute()
        self._file = str(self._path)
        self._identity = self._look(self._file)
        self._log = ""
        self._log_identity = self._identity
        self._open = True
        _OPEN_HERE[self._identity] += 1

    def watch_log(self, log: Path) -> None:
        """Look after the log too from now on: what is in it is not yet in the file."""
        self._log = str(log.absolute())
        self._log_identity = self._look(self._log)

    def check(self) -> None:
        """Raise WorkbookGone when the file was moved, renamed, deleted or replaced, or its log was."""
        self.check_file()
        if self._log and self._look(self._log) != self._log_identity:
            raise WorkbookGone(self._path, "its log was replaced")

    def check_file(self) -> None:
        """The same of the file alone."""
        if self._look(self._file) != self._identity:
            raise WorkbookGone(self._path, "another file stands in its place")

    def leave(self) -> None:
        """The file is closed; doing so again does nothing."""
        self._log = ""
        if self._open:
            self._open = False
            _OPEN_HERE[self._identity] -= 1

    def _look(self, file: str) -> Identity:
        try:
            found = os.stat(file)  # noqa: PTH116 - at every entry, and quicker than by way of a Path
        except FileNotFoundError as error:
            what = "it was" if file == self._file else "its log was"
            raise WorkbookGone(self._path, f"{what} moved, renamed or deleted") from error
        except OSError as error:
            raise WorkbookGone(self._path, error.strerror or str(error)) from error
        return found.st_dev, found.st_ino


def is_open_here(path: Path) -> bool:
    """Whether this very process has the file open as a workbook.

    It must then not be opened any other way: closing it would drop SQLite's own locks (SQLite's "How To Corrupt An
    SQLite Database File", section 2.2).
    """
    try:
        found = path.stat()
    except OSError:
        return False
    return _OPEN_HERE[(found.st_dev, found.st_ino)] > 0
