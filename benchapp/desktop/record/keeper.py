"""Checks the workbook's record while nobody waits: its heads at once, the whole of it after a while."""

import time
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from benchapp.desktop.background_tasks import BackgroundTasks
from benchapp.desktop.dates import shown_minute
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.workbook.model.values import Difference

HEADS_AFTER = 700
"""milliseconds after the opening at which the heads are looked at (own choice)"""
WHOLE_AFTER = 8000
"""milliseconds after the opening at which the whole record is checked, behind the backup (own choice)"""
COURTESY = 0.005
"""seconds of rest after each unit that is checked: keys come first (own choice)"""


class RecordKeeper(QObject):
    """What is known of the record of one opened workbook."""

    changed = Signal()
    """something else is known, or a check has begun, gone on or ended"""

    def __init__(self, bench: "Bench", tasks: BackgroundTasks) -> None:
        super().__init__()
        self._bench, self._tasks = bench, tasks
        self.differences: tuple[Difference, ...] = ()
        """what was found by the last look"""
        self.set_back = ""
        """that the file lacks what this computer has seen in it, as a sentence"""
        self.checked = ""
        """the time at which the whole record was last checked to the end; empty: not since the opening"""
        self.busy = False
        self.done = (0, 0)
        """how many units of how many are checked"""
        self._stopped = False
        self._timers = [self._timer("record-heads", HEADS_AFTER, self.look)]
        self._timers.append(self._timer("record-whole", WHOLE_AFTER, self.check))

    def _timer(self, name: str, after: int, work: Callable[[], None]) -> QTimer:
        timer = QTimer(self)
        timer.setObjectName(name)
        timer.setSingleShot(True)
        timer.setInterval(after)
        timer.timeout.connect(work)
        return timer

    def begin(self) -> None:
        """Look at the heads soon, and at all of it later."""
        for timer in self._timers:
            timer.start()

    def stop(self) -> None:
        """The window closes."""
        for timer in self._timers:
            timer.stop()
        self.cancel()

    def cancel(self) -> None:
        """Stop the check under way; what it has found so far stays."""
        self._stopped = True

    @property
    def worry(self) -> str:
        """What somebody should know before work, as a sentence; empty while nothing is wrong."""
        if self.set_back:
            return self.set_back
        if not self.differences:
            return ""
        more = len(self.differences) - 1
        words = tr("The record does not hold: {first}").format(first=self.differences[0].words)
        return words + (" " + tr("({more} more)").format(more=more) if more else "")

    @property
    def words(self) -> str:
        """How the check stands, as a sentence."""
        if self.busy:
            done, of = self.done
            return tr("Checking the record: {done} of {of} units …").format(done=done, of=of)
        if self.worry:
            return self.worry
        if not self.checked:
            return tr("The record has not been checked to the end since the workbook was opened.")
        return tr("The record holds, as it was at {when}.").format(when=self.checked)

    # looking

    def look(self) -> None:
        """Look at the newest entry of each chain and at what this computer has seen: quick."""
        self._tasks.check(lambda _closed: self._read_heads(), then=self._know_heads, refused=lambda _words: None)

    def _read_heads(self) -> "tuple[str, tuple[Difference, ...]]":
        from benchapp.actions.audit.heads import broken_heads, set_back

        return set_back(self._bench.workbook), broken_heads(self._bench.workbook)

    def _know_heads(self, found: "tuple[str, tuple[Difference, ...]]") -> None:
        self.set_back, self.differences = found
        self.changed.emit()

    def check(self) -> None:
        """Check the whole record, unit after unit, until it is told to stop."""
        if self.busy:
            return
        self.busy, self._stopped, self.done = True, False, (0, 0)
        self.changed.emit()
        self._tasks.check(self._check, then=self._know, refused=self._refused)

    def _check(self, closed: Callable[[], bool]) -> "tuple[str, tuple[Difference, ...]]":
        from benchapp.actions.audit.verifying import differences_in

        def progress(done: int, of: int) -> None:
            self.done = (done, of)
            time.sleep(COURTESY)

        found = differences_in(self._bench.workbook, progress=progress, cancelled=lambda: closed() or self._stopped)
        return self._bench.clock(), tuple(found)

    def _know(self, found: "tuple[str, tuple[Difference, ...]]") -> None:
        self.checked, self.differences = found
        self.checked = shown_minute(self.checked)
        self.busy = False
        self.changed.emit()

    def _refused(self, _sentence: str) -> None:
        """Stopped, or the file cannot be read now: what was known stays."""
        self.busy = False
        self.changed.emit()

    # settling

    def accept(self) -> None:
        """Take the file as it is for the newest, knowingly."""
        self._tasks.check(lambda _closed: self._accept(), then=self._know_heads)

    def _accept(self) -> "tuple[str, tuple[Difference, ...]]":
        from benchapp.actions.audit.heads import accept_open

        accept_open(self._bench.workbook)
        return self._read_heads()
