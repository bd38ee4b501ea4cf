"""Backs the workbook up while nobody waits for it, and knows how the workbook is backed up."""

import time
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from benchapp.desktop.background_tasks import BackgroundTasks
from benchapp.desktop.change_signals import ChangeSignals
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.backups.keeping import BackupDone, BackupState
    from benchapp.actions.workbench.bench import Bench
    from benchapp.actions.workbench.change_set import ChangeSet

AFTER_OPENING = 1500
"""milliseconds that a window is left alone before its workbook is backed up (own choice)"""


def _breathe(_done: int, _of: int) -> None:
    """Leave the interpreter to the window between two chains: checking one keeps it busy."""
    time.sleep(0.001)


class BackupKeeper(QObject):
    """Backups of one opened workbook: at its opening, when the bench is closed, and when somebody asks."""

    changed = Signal()
    """another state is known, or work has begun or ended"""
    done = Signal(object)
    """a `BackupDone`: a backup was made"""
    page_asked = Signal()
    """somebody wants to see the page of backups"""
    failed = Signal(object)
    """why a backup that somebody asked for could not be made"""

    def __init__(self, bench: "Bench", tasks: BackgroundTasks, change_signals: ChangeSignals) -> None:
        super().__init__()
        self._bench, self._tasks, self._change_signals = bench, tasks, change_signals
        self.state: BackupState | None = None
        self.problem = ""
        """why the last backup that was begun could not be made"""
        self.busy = self._closing = False
        self._timer = QTimer(self)
        self._timer.setObjectName("backup-after-opening")
        self._timer.setSingleShot(True)
        self._timer.setInterval(AFTER_OPENING)
        self._timer.timeout.connect(partial(self.back_up, anew=False))
        change_signals.changed.connect(self._hear)

    def begin(self) -> None:
        """Back up once the window has been there for a while; what is opened for looking is not backed up."""
        if not self._bench.looks_only:
            self._timer.start()

    def stop(self) -> None:
        """The window closes."""
        self._timer.stop()

    def look(self) -> None:
        """Find out how the workbook is backed up now."""
        self._tasks.aside(lambda _cancelled: self._read_state(), then=self._know_state)

    def back_up(self, *, anew: bool = True) -> None:
        """Make and verify a backup; with `anew` even where nothing was recorded since the last one."""
        self._timer.stop()
        if self.busy or self._bench.looks_only:
            return
        self.busy = True
        self.changed.emit()
        self._tasks.aside(partial(self._back_up, anew), then=self._know, refused=partial(self._refused, anew))

    def _back_up(self, anew: bool, cancelled: Callable[[], bool]) -> "tuple[BackupDone | None, BackupState]":
        from benchapp.actions.backups.keeping import back_up

        done = None
        if anew or self._read_state().there:
            at = self._bench.clock()
            done = back_up(self._bench.path, at=at, anew=anew, progress=_breathe, cancelled=cancelled)
        return done, self._read_state()

    def _read_state(self) -> "BackupState":
        from benchapp.actions.backups.keeping import backup_state

        return backup_state(self._bench.path, now=self._bench.clock())

    def _know(self, answer: "tuple[BackupDone | None, BackupState]") -> None:
        done, self.state = answer
        self.busy = False
        if done is None and self._closing and self.state.worry:
            words = tr("The bench is closed, and nothing was backed up. {state}")
            self._change_signals.said.emit(words.format(state=self.state.words))
        self._closing = False
        if done is not None:
            self.problem = "" if done.sound else done.words
        if done is not None and (done.path is not None or not done.sound):
            self._change_signals.said.emit(done.words)
        self.changed.emit()
        if done is not None:
            self.done.emit(done)

    def _know_state(self, state: "BackupState") -> None:
        self.state = state
        self.changed.emit()

    def _refused(self, anew: bool, sentence: str) -> None:
        """It could not be made; a folder that is not there is told by the state, and only while it is not."""
        self.busy = self._closing = False
        if sentence:
            (self.failed if anew else self._change_signals.said).emit(sentence)

        def know(state: "BackupState") -> None:
            self.problem = sentence if state.there else ""
            self._know_state(state)

        self._tasks.aside(lambda _cancelled: self._read_state(), then=know)

    def _hear(self, changes: "ChangeSet") -> None:
        if changes.bench_closed:
            self._closing = True
            self.back_up(anew=False)
