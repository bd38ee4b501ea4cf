"""How a screen gets something done without waiting: actions on the writer thread, slow reads on a reader thread.

What may take minutes (backups and their checks) has a third thread, and is told to stop when the window closes.

The answer comes back in the window's own thread. A `BenchError` is a sentence for the page that asked; anything
else is a bug and goes to `bug`, which shows it once with details to copy. Only plain values cross threads.
"""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal, Slot
from shiboken6 import isValid

from benchapp.actions.workbench.problems import TooSoon
from benchapp.desktop.change_signals import ChangeSignals
from benchapp.errors import BenchError

Then = Callable[[Any], None]
Refused = Callable[[str], None]
Later = Callable[[float], None]


@dataclass(frozen=True, slots=True)
class _Task:
    """What to do with an answer when it comes."""

    then: Then | None
    refused: Refused | None
    changes: bool
    later: Later | None = None


class BackgroundTasks(QObject):
    """Runs actions and reads for the screens of one window."""

    bug = Signal(object)
    """an exception that is no sentence for people"""
    problem = Signal(object)
    """a `BenchError` that came in the place of an answer; whoever asked has been told"""
    idle = Signal()
    """nothing is under way any more"""
    _arrived = Signal(object, object)

    def __init__(self, change_signals: ChangeSignals) -> None:
        super().__init__()
        self._change_signals = change_signals
        self._reader = ThreadPoolExecutor(max_workers=1, thread_name_prefix="reader")
        self._patient = ThreadPoolExecutor(max_workers=1, thread_name_prefix="aside")
        self._checker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="checker")
        self._outside = ThreadPoolExecutor(max_workers=1, thread_name_prefix="outside")
        self._under_way = 0
        self._closed = False
        # Queued even when the work is done at once: an answer never comes while its question is still being asked.
        self._arrived.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

    @property
    def under_way(self) -> int:
        """How many tasks have not come back."""
        return self._under_way

    def do(
        self,
        bench: Any,  # noqa: ANN401 - a Bench; its type would load the workbook at start
        action: Callable[..., Any],
        *args: object,
        then: Then | None = None,
        refused: Refused | None = None,
        later: Later | None = None,
        **kwargs: object,
    ) -> None:
        """Run an action on the bench's writer thread; `then` hears of it, then everybody on the change signals.

        Where time alone refuses it, `later` hears in how many seconds it can be done, after `refused`.
        """
        self._follow(bench.later(action, *args, **kwargs), _Task(then, refused, changes=True, later=later))

    def read(self, work: Callable[[], Any], *, then: Then, refused: Refused | None = None) -> None:
        """Work out something slow that changes nothing, one after the other."""
        self._follow(self._reader.submit(work), _Task(then, refused, changes=False))

    def aside(self, work: Callable[[Callable[[], bool]], Any], *, then: Then, refused: Refused | None = None) -> None:
        """Do what may take minutes, one after the other, while reads go on; `work` is handed what says to stop."""
        self._follow(self._patient.submit(work, lambda: self._closed), _Task(then, refused, changes=False))

    def check(self, work: Callable[[Callable[[], bool]], Any], *, then: Then, refused: Refused | None = None) -> None:
        """The same for checks of the record, so that no backup waits for one."""
        self._follow(self._checker.submit(work, lambda: self._closed), _Task(then, refused, changes=False))

    def outside(self, work: Callable[[], Any], *, then: Then, refused: Refused | None = None) -> None:
        """Ask what is outside of this program and may be long in answering: the printing system."""
        self._follow(self._outside.submit(work), _Task(then, refused, changes=False))

    def close(self) -> None:
        """Finish the read under way, stop what is done aside, drop the rest, deliver nothing more."""
        self._closed = True
        for threads in (self._patient, self._checker, self._reader, self._outside):
            threads.shutdown(wait=True, cancel_futures=True)

    def _follow(self, future: "Future[Any]", task: _Task) -> None:
        self._under_way += 1
        future.add_done_callback(lambda done: self._hand_over(done, task))

    def _hand_over(self, future: "Future[Any]", task: _Task) -> None:
        """In the thread that did the work: hand the future to the window's thread."""
        if not self._closed:
            self._arrived.emit(future, task)

    @Slot(object, object)
    def _deliver(self, future: "Future[Any]", task: _Task) -> None:
        self._under_way -= 1
        try:
            if not self._closed:
                self._settle(future, task)
        finally:
            if not self._under_way:
                self.idle.emit()

    def _settle(self, future: "Future[Any]", task: _Task) -> None:
        problem = future.exception()
        if problem is None:
            result = future.result()
            if task.then is not None and not _is_gone(task.then):
                task.then(result)
            if task.changes:
                self._change_signals.changed.emit(result)
        elif isinstance(problem, BenchError):
            tell = self._change_signals.said.emit
            (tell if task.refused is None or _is_gone(task.refused) else task.refused)(problem.sentence)
            if task.later is not None and isinstance(problem, TooSoon):
                task.later(problem.seconds)
            self.problem.emit(problem)
        else:
            if task.refused is not None and not _is_gone(task.refused):
                task.refused("")
            self.bug.emit(problem)


def _is_gone(hears: Callable[..., Any]) -> bool:
    """Whether who would hear an answer was closed before it came: a dialog left with Esc."""
    method = hears.func if isinstance(hears, partial) else hears
    who = getattr(method, "__self__", None)
    return isinstance(who, QObject) and not isValid(who)
