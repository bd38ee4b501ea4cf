"""Settled readings of a meter, which may be caught without a key pressed.

A pure fold over the readings as they come. Common practice, no source: several readings in a row that agree within a
small share of the value and a few of the last digits. An over-range is never caught by itself: it is what lifted leads
show, and as a result it counts only when the technician says so. Nor is a value too small to be told from lifted leads.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from statistics import median_low

from benchapp.quantities.quantity import Bound, Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Steadiness:
    """The rule: `count` readings in a row within `share` of their size plus `digits` of the last digit.

    `least` (SI unit) is the size below which nothing is caught: zero for ohms, where lifted leads read over-range; some
    tenths of a volt for voltages, where they read about nothing.
    """

    count: int = 5
    share: float = 0.002
    digits: float = 3.0
    least: float = 0.0

    def __post_init__(self) -> None:
        if self.count < 2 or min(self.share, self.digits, self.least) < 0:
            raise ValueError("steadiness needs two readings or more, and no negative distances")

    def distance(self, reading: Reading) -> float:
        """How far from this reading another may lie and still agree with it, in the SI unit."""
        return self.share * abs(reading.si or 0.0) + self.digits * (reading.si_step or 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Capture:
    """A steady reading: the middle one as the meter gave it, all that agreed, and where in the series it was caught."""

    reading: Reading
    repeats: tuple[Reading, ...]
    position: int


def captures(readings: Iterable[Reading], rule: Steadiness) -> Iterator[Capture]:
    """The steady readings of a series, each caught once: the next only after the meter has moved away from the last."""
    run: list[Reading] = []
    caught: Reading | None = None
    for position, reading in enumerate(readings):
        if not _may_be_caught(reading, rule):
            run, caught = [], None
            continue
        if caught is not None:
            if _agree((caught, reading), rule):
                continue
            run, caught = [], None
        run = [*run[-(rule.count - 1) :], reading]
        if len(run) == rule.count and _agree(run, rule):
            caught = _middle(run)
            yield Capture(reading=caught, repeats=tuple(run), position=position)


def _may_be_caught(reading: Reading, rule: Steadiness) -> bool:
    return reading.si is not None and reading.bound is Bound.exact and abs(reading.si) >= rule.least


def _agree(run: Iterable[Reading], rule: Steadiness) -> bool:
    readings = list(run)
    values = [reading.si or 0.0 for reading in readings]
    return max(values) - min(values) <= rule.distance(_middle(readings))


def _middle(run: list[Reading]) -> Reading:
    middle = median_low(reading.si or 0.0 for reading in run)
    return next(reading for reading in run if (reading.si or 0.0) == middle)
