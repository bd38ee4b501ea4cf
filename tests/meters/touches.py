"""A person touching pins with probes, and a meter that shows it: readings with their times, nothing of the program.

A touch bounces, settles as the meter's filter does, wavers by its last digits and is lifted again. Some touches stand
for a while on lacquer or dirt before they bite; some are brushes that touch nothing long enough. Who touches well
waits for the tone, and gives up after some seconds. One reading in a hundred comes late.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp
from random import Random

OPEN = None


@dataclass(frozen=True, slots=True)
class Shown:
    """One reading as it comes: when, what (None: over range), the weight of its last digit, and of which touch."""

    at: float
    value: float | None
    count: float
    touch: int | None


@dataclass(frozen=True, slots=True)
class Held:
    """What one touch truly is, and whether it was held long enough to be read."""

    true: float
    count: float
    long_enough: bool


@dataclass
class Person:
    """Touches one pair of pins after the other. `ohms`: lifted probes read over range; else volts, a little hum."""

    random: Random
    ohms: bool
    rate: float
    """readings a second"""
    clock: float = 0.0

    def touches(self, number: int) -> tuple[list[Shown], list[Held]]:
        """So many touches, and what each of them truly was."""
        shown = list(self._lifted(1.5))
        held = []
        for touch in range(number):
            one, readings = self._touch(touch)
            held.append(one)
            shown += readings
            shown += self._lifted(self.random.uniform(0.9, 3.0))
        return shown, held

    def _count(self, value: float) -> float:
        """The last digit of a meter of 6000 counts on the smallest range that shows it."""
        top, count = (60.0, 0.01) if self.ohms else (6.0, 0.001)
        while value > top:
            top, count = top * 10, count * 10
        return count

    def _ticks(self, seconds: float) -> Iterator[float]:
        end = self.clock + seconds
        while self.clock < end:
            self.clock += self.random.uniform(0.8, 1.2) / self.rate * (4 if self.random.random() < 0.01 else 1)
            yield self.clock

    def _lifted(self, seconds: float) -> Iterator[Shown]:
        for at in self._ticks(seconds):
            hum = abs(self.random.gauss(0.0, 0.15))
            yield Shown(at, OPEN if self.ohms else round(hum, 3), 0.001, None)

    def _touch(self, number: int) -> tuple[Held, list[Shown]]:
        random = self.random
        true = 10 ** random.uniform(-0.5, 5.0) if self.ohms else 10 ** random.uniform(0.7, 2.4)
        count = self._count(true)
        readings = list(self._bounce(true, number))
        if random.random() < 0.15:
            readings += self._dirt(true, number)
            readings += self._bounce(true, number)
        brush = random.random() < 0.05
        dwell = random.uniform(0.1, 0.4) if brush else random.uniform(4.5, 7.0)
        lag, start = random.uniform(0.03, 0.35), self.clock
        noise = random.uniform(0.2, 0.7)
        begun = true * random.uniform(0.3, 2.0)
        for at in self._ticks(dwell):
            settling = true + (begun - true) * exp(-(at - start) / lag)
            readings.append(self._as_shown(at, settling + random.gauss(0.0, noise * count), number))
        return Held(true, count, long_enough=not brush), readings

    def _bounce(self, true: float, number: int) -> Iterator[Shown]:
        for at in self._ticks(self.random.uniform(0.05, 0.5)):
            if self.random.random() < 0.5:
                yield Shown(at, OPEN if self.ohms else round(abs(self.random.gauss(0, 0.3)), 3), 0.001, number)
            else:
                yield self._as_shown(at, true * self.random.uniform(0.2, 3.0), number)

    def _dirt(self, true: float, number: int) -> Iterator[Shown]:
        """A film that is neither open nor whole: it wanders, and may stand still for half a second."""
        level = true * self.random.uniform(1.05, 4.0)
        still = self.random.random() < 0.5
        for at in self._ticks(self.random.uniform(0.2, 0.5 if still else 1.2)):
            level *= 1.0 if still else self.random.uniform(0.97, 1.03)
            yield self._as_shown(at, level, number)

    def _as_shown(self, at: float, value: float, number: int) -> Shown:
        count = self._count(abs(value))
        return Shown(at, round(abs(value) / count) * count, count, number)
