"""The readings of one meter as they come, read in a thread of its own; problems come as sentences and it goes on.

Only plain values cross threads. The thread is let go when another meter is begun, and ends aside; `stop` waits for it.
"""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal, Slot

if TYPE_CHECKING:
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.meters.instrument import Instrument

PATIENCE = 2.0
"""seconds for one answer, so that nobody waits for a window that closes (own choice)"""
AFTER_PROBLEM = 1.0
"""seconds until the meter is asked again, on a link of its own, after it failed"""
IDLE = 0.02
"""seconds between two readings: the meter itself is slower"""


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is wanted of the meter. `ticket` tells the readings of one question from those of the next."""

    function: "Function"
    may_set: bool
    ticket: int


class LiveMeter(QObject):
    """Reads one meter at a time, for whoever began last."""

    arrived = Signal(object)
    """a `SentReading`"""
    was_set = Signal()
    """the meter stood on another function, and was set through the wire"""
    failed = Signal(object)
    """a sentence; it is tried again"""
    silent = Signal(object)
    """a sentence: nothing was sent for a while, and it is listened to all the same"""
    _came = Signal(int, str, object)

    def __init__(self) -> None:
        super().__init__()
        self._ticket = 0
        self._reader: _Reader | None = None
        self._ending: tuple[_Reader, ...] = ()
        self._came.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

    def begin(self, record: "MeterRecord", function: "Function", *, may_set: bool) -> int:
        """Read that function of that meter from now on; the number of this question, by which it is let rest."""
        self._ticket += 1
        if self._reader is None or self._reader.record != record:
            self._let_go()
            self._reader = _Reader(record, self._came.emit, after=self._ending)
        self._reader.ask(_Asked(function, may_set, self._ticket))
        return self._ticket

    def rest(self, asked: int) -> None:
        """Nothing more is wanted of that question; the link stays, and what was asked since goes on."""
        if asked != self._ticket:
            return
        self._ticket += 1
        if self._reader is not None:
            self._reader.ask(None)

    def stop(self) -> None:
        """Let the meter go, and wait until its thread has ended."""
        self._ticket += 1
        self._let_go()
        for reader in self._ending:
            reader.thread.join()

    def _let_go(self) -> None:
        """The reader at hand ends, aside: a slow answer, or a meter that is off, makes nobody wait."""
        self._ending = tuple(reader for reader in self._ending if reader.thread.is_alive())
        if self._reader is not None:
            self._reader.end()
            self._ending += (self._reader,)
        self._reader = None

    @Slot(int, str, object)
    def _deliver(self, ticket: int, what: str, value: object) -> None:
        if ticket != self._ticket:
            return
        if what == "reading":
            self.arrived.emit(value)
        elif what == "set":
            self.was_set.emit()
        elif what == "silent":
            self.silent.emit(value)
        else:
            self.failed.emit(value)


class _Reader:
    """The thread of one meter, which begins once those `after` which it comes have let the same meter go."""

    def __init__(
        self, record: "MeterRecord", came: Callable[[int, str, object], None], *, after: "tuple[_Reader, ...]"
    ) -> None:
        self.record = record
        self._before = tuple(one for one in after if one.record.meter == record.meter)
        self._came = came
        self._asked: _Asked | None = None
        self._over = False
        self._was_ready = 0
        self._heard = 0.0
        self._changed = threading.Condition()
        self._instrument: Instrument | None = None
        self.thread = threading.Thread(target=self._run, name=f"meter {record.meter}", daemon=True)
        self.thread.start()

    def ask(self, asked: _Asked | None) -> None:
        with self._changed:
            self._asked = asked
            self._changed.notify()

    def end(self) -> None:
        with self._changed:
            self._over, self._asked = True, None
            self._changed.notify()
        if self._instrument is not None:
            self._instrument.close()  # an answer that is waited for never comes

    def _run(self) -> None:
        from benchapp.meters.opening import instrument_of

        for one in self._before:
            one.thread.join()
        self._instrument = instrument = instrument_of(self.record, patience=PATIENCE)
        ready: _Asked | None = None
        pause = 0.0
        while (asked := self._next(pause)) is not None:
            ready, pause = self._once(instrument, asked, ready)
        instrument.close()

    def _next(self, pause: float) -> _Asked | None:
        """What is asked, once something is; None when it is over."""
        with self._changed:
            if pause:
                self._changed.wait(pause)
            while self._asked is None and not self._over:
                self._changed.wait()
            return None if self._over else self._asked

    def _once(self, instrument: "Instrument", asked: _Asked, ready: _Asked | None) -> tuple[_Asked | None, float]:
        from benchapp.meters.problems import MeterProblem, NothingSent

        try:
            # Once it stood as asked, whoever turns it means it: it is not turned back from afar.
            may_set = asked.may_set and self._was_ready != asked.ticket
            if asked is not ready:
                if instrument.prepare(asked.function, may_set=may_set):
                    self._came(asked.ticket, "set", None)
                self._heard = time.monotonic()
            self._was_ready = asked.ticket
            self._came(asked.ticket, "reading", instrument.read(asked.function))
            self._heard = time.monotonic()
        except NothingSent as silence:
            if time.monotonic() - self._heard > PATIENCE:
                self._heard = time.monotonic()
                self._came(asked.ticket, "silent", silence.sentence)
        except MeterProblem as problem:
            self._came(asked.ticket, "problem", problem.sentence)
            return None, AFTER_PROBLEM
        return asked, IDLE
