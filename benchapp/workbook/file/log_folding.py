"""Folds the log into the file a moment after each entry, on a thread of its own: nobody waits for it.

What is in the log alone is safe on this disk, but a copy of the file without its log would lack it.
"""

import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing, suppress

from benchapp.workbook.file.sqlite import fold_log
from benchapp.workbook.model.problems import WorkbookProblem

AFTER = 1.0
"""seconds from an entry until it is folded in; what follows within them is folded with it (own choice)"""


class LogFolding:
    """One thread, begun at the first entry; `connect` gives it a connection of its own."""

    def __init__(self, connect: Callable[[], sqlite3.Connection], *, after: float = AFTER) -> None:
        self._connect, self._after = connect, after
        self._thread: threading.Thread | None = None
        self._changed = threading.Condition()
        self._waiting = self._closed = False

    def recorded(self) -> None:
        """Something was written to the log."""
        if self._waiting:  # what was recorded just now goes with it
            return
        with self._changed:
            self._waiting = True
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, name="log-folding", daemon=True)
                self._thread.start()
            self._changed.notify()

    def close(self) -> None:
        """Finish a fold under way; what is left is folded by the last connection that closes."""
        with self._changed:
            self._closed = True
            self._changed.notify()
        if self._thread is not None:
            self._thread.join()

    def _work(self) -> None:
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._waiting or self._closed)
                self._changed.wait_for(lambda: self._closed, timeout=self._after)
                if self._closed:
                    return
                self._waiting = False
            if not self._fold():
                self.recorded()

    def _fold(self) -> bool:
        """Whether all is in the file; a file that is gone or a full disk is told at the next entry, not here."""
        with suppress(sqlite3.Error, WorkbookProblem), closing(self._connect()) as connection:
            return fold_log(connection)
        return True
