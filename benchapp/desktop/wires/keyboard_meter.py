"""Meters that type their readings as a keyboard does, told from fingers by their speed; Qt-free."""

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.desktop.widgets.strikes import APART
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.sequences.planning.planned import PlannedStep

LEAST = 3
"""characters of a burst: a finger may strike two keys at once"""


class Burst:
    """Whether what stands in a field came all at once. Fingers need `APART` milliseconds from key to key."""

    def __init__(self) -> None:
        self._run = 0
        self.behind = False
        """whether something stood in the field before the burst"""
        self._at = 0
        self._done = 0.0

    def strike(self, text: str, at: int, *, empty: bool) -> None:
        """A key with that text was struck at that time (milliseconds of the window system, 0 where it tells none).

        `empty` says that nothing stood in the field before it.
        """
        apart = at - self._at if at and self._at else 1000 * (time.monotonic() - self._done)
        if empty or apart > APART:
            self._run, self.behind = 0, not empty
        self._at = at
        if text and text.isprintable():
            self._run += 1

    def settle(self) -> None:
        """The key has been worked off: what that took is no pause of a finger."""
        self._done = time.monotonic()

    def take(self) -> bool:
        """Whether the last of it came at once, its Enter too; and begin anew."""
        at_once = self._run >= LEAST
        self._run = 0
        return at_once


@dataclass(frozen=True, slots=True)
class NotTaken:
    """Why a burst is not recorded; `keeps` says that it stays in the field for a person's Enter."""

    words: str
    keeps: bool = False


def types_itself(bench: "Bench", meter: "MeterRecord") -> bool:
    """Whether the meter's record of today says that it types."""
    wire = bench.wire_of(meter.meter)
    return wire is not None and wire.dialect == "keyboard"


def why_not_typed_by_meter(step: "PlannedStep", text: str, *, behind: bool) -> NotTaken | None:
    """Why a text that came at once is not recorded as a reading; None where it is.

    `behind` says that something stood in the field before it: 4 and then 80 ohm are no 480 ohm.
    """
    from benchapp.errors import BenchError
    from benchapp.judgement.meters.functions import kind_of
    from benchapp.quantities.entry import read_reading
    from benchapp.quantities.quantity import Bound
    from benchapp.sequences.interlock.reading_sources import never_by_itself

    if behind:
        return NotTaken(
            tr("The meter typed behind what stood there. Empty the field, then press its key again."), keeps=True
        )
    try:
        reading = read_reading(text, kind=kind_of(step.read_on))
    except BenchError as problem:
        said = tr("“{text}” came all at once, and is no reading of {function} with its unit. It was not taken. {why}")
        return NotTaken(said.format(text=text[:40], function=step.read_on, why=problem.sentence))
    if reading.bound is not Bound.exact or (never := never_by_itself(step, reading.bound)):
        why = tr("over range is no value") if reading.bound is not Bound.exact else never
        return NotTaken(tr("The meter typed it. Look at it, then Enter: {why}.").format(why=why), keeps=True)
    return None
