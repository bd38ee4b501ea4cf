"""One ordered writer thread: what was asked for first is on disk first, and only plain values cross."""

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import TypeVar

T = TypeVar("T")


class Writer:
    """Runs pieces of work one after the other on a thread of its own."""

    def __init__(self) -> None:
        self._thread: threading.Thread | None = None
        self._queue = ThreadPoolExecutor(
            max_workers=1, thread_name_prefix="workbook-writer", initializer=self._remember_thread
        )

    def _remember_thread(self) -> None:
        self._thread = threading.current_thread()

    def later(self, work: Callable[[], T]) -> "Future[T]":
        """Put the work at the end of the line."""
        return self._queue.submit(work)

    def now(self, work: Callable[[], T]) -> T:
        """The same, waiting for it; work that is itself being run by the writer goes on at once."""
        if threading.current_thread() is self._thread:
            return work()
        return self.later(work).result()

    def close(self) -> None:
        """Finish what stands in line."""
        self._queue.shutdown(wait=True)
