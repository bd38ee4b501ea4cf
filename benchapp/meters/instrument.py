"""One instrument on a wire: set once to a function, then read, whatever happens on the way.

After any mishap the link is closed and everything about the instrument is asked anew: its late answer must never be
taken for the answer to the next question, and a meter that was switched off wakes up on another function.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass
from types import TracebackType
from typing import NoReturn, Self, TypeVar

from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.records import MeterRecord
from benchapp.judgement.meters.wire import DRIVES_THE_UNIT
from benchapp.meters.links import Link, OpenLink, SocketLink, open_link
from benchapp.meters.problems import BY_HAND, MeterProblem, NothingSent
from benchapp.meters.sent_reading import SentReading
from benchapp.words import say

T = TypeVar("T")
PATIENCE = 5.0
"""seconds that one answer may take (own choice)"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Identity:
    """Who an instrument says it is (IEEE 488.2, *IDN?): maker, model, serial number, firmware."""

    maker: str
    model: str
    serial_number: str
    firmware: str


class Instrument:
    """An instrument by the wire of its record; connects when it is first asked. In a `with` block, or closed by hand.

    `patience` is how long one answer may take, in seconds. One thread at a time uses it; `close` may come from another.
    """

    def __init__(self, record: MeterRecord, *, patience: float = PATIENCE, opener: OpenLink = open_link) -> None:
        if record.wire is None:
            raise MeterProblem(
                say("The record of {meter} names no wire. {BY_HAND}", meter=record.meter, BY_HAND=BY_HAND)
            )
        self.record, self.wire, self.patience = record, record.wire, patience
        self._opener = opener
        self._link: Link | None = None
        self._ready_for: Function | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @property
    def place(self) -> str:
        """What it is called in sentences."""
        return f"{self.record.meter} at {self.wire.address}"

    def close(self) -> None:
        """Let the instrument go; a further question connects again, and asks again who it is."""
        link, self._link, self._ready_for = self._link, None, None
        if link is not None:
            link.close()

    def prepare(self, function: Function, *, may_set: bool = True) -> bool:
        """Make it ready to read the function; whether it had to be set. Raises MeterProblem.

        With `may_set` false a meter that stands on another function is left alone, and that is the problem.
        """
        if function in DRIVES_THE_UNIT and not self.wire.only_listened_to:
            raise MeterProblem(
                say(
                    "{function} is not taken through a wire: the tester puts a voltage or a current on "
                    "the unit, so its key is pressed by hand with the unit in sight. {BY_HAND}",
                    function=function.value.capitalize(),
                    BY_HAND=BY_HAND,
                )
            )
        return self._carefully(lambda: self._prepare(function, may_set=may_set))

    def read(self, function: Function) -> SentReading:
        """One reading of the function for which it was made ready; raises MeterProblem."""
        if self._ready_for is not function:
            self.prepare(function, may_set=False)
        return self._carefully(lambda: self._read(function))

    # of a dialect
    def _prepare(self, function: Function, *, may_set: bool) -> bool:
        raise NotImplementedError

    def _read(self, function: Function) -> SentReading:
        raise NotImplementedError

    # for the dialects
    def ask(self, question: str) -> str:
        """The line that answers a question. Raises MeterProblem, and then lets the connection go."""
        return self._carefully(lambda: self._ask(question))

    def _ask(self, question: str) -> str:
        link = self._connected()
        link.send(question)
        line = self._line(say("did not answer “{question}”", question=question))
        if isinstance(link, SocketLink) and link.more:
            raise MeterProblem(
                say(
                    "{place} sent more than one answer. Take the reading again. {BY_HAND}",
                    place=self.place,
                    BY_HAND=BY_HAND,
                )
            )
        return line

    def _line(self, failing: str) -> str:
        try:
            return self._connected().line(self.patience)
        except TimeoutError:
            raise MeterProblem(
                say(
                    "{place} {failing} within {patience:g} s. It may be busy, on another page, or not "
                    "understand: look at its display, then try again. {BY_HAND}",
                    place=self.place,
                    failing=failing,
                    patience=self.patience,
                    BY_HAND=BY_HAND,
                )
            ) from None

    def _connected(self) -> Link:
        if self._link is None:
            self._link = self._opener(self.wire, self.patience)
        return self._link

    def _carefully(self, work: Callable[[], T]) -> T:
        try:
            return work()
        except NothingSent:
            raise
        except MeterProblem:
            self.close()
            raise
        except OSError as error:
            self.close()
            self._broken(error)

    def _broken(self, error: OSError) -> NoReturn:
        raise MeterProblem(
            say(
                "The connection to {place} broke while it was read ({strerror}). Check that it is "
                "switched on and its cable is in, then take the reading again. {BY_HAND}",
                place=self.place,
                strerror=error.strerror or error,
                BY_HAND=BY_HAND,
            )
        ) from error


def now() -> float:
    """Seconds of a clock that is never set."""
    return time.monotonic()
