"""Hands with a meter on a netlist: leads that are not nulled, tips on old metal, digits, and a slip now and then."""

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random

from tests.hazards.units.unit import SimulatedUnit
from tests.judge.design import Design

LEADS = (0.0, 0.3)
"""ohm of a pair of leads, the same all day"""
TIPS = (0.0, 0.25)
"""ohm of the two tips together, new at each touch"""
GAIN, COUNTS = 0.005, 3
"""share of the reading by which a 6000-count meter errs all day, and counts by which it errs anew"""
RANGES = ((600.0, 0.1, "ohm", 1.0, 1), (6e3, 1e-3, "kohm", 1e3, 3), (6e4, 1e-2, "kohm", 1e3, 2))
RANGES += ((6e5, 0.1, "kohm", 1e3, 1), (6e6, 1e-3, "Mohm", 1e6, 3), (6e7, 1e-2, "Mohm", 1e6, 2))
"""of each range: its end in ohm, the step of its last digit, the unit shown, what that is in ohm, decimals"""
BELOW_60 = (60.0, 0.01, "ohm", 1.0, 2)


@dataclass
class Hands:
    """One technician at one unit. `slips` is the share of readings that go wrong; `bad` a unit that it is at times."""

    of: Design
    unit: SimulatedUnit
    chance: Random
    slips: float = 0.0
    bad: SimulatedUnit | None = None
    gain: float = field(init=False)
    leads: float = field(init=False)

    def __post_init__(self) -> None:
        self.gain = 1 + self.chance.uniform(-GAIN, GAIN)
        self.leads = self.chance.uniform(*LEADS)

    def read(self, a: str, b: str) -> str:
        """What the meter shows with the black probe on the first place and the red one on the second, as typed."""
        if self.chance.random() < self.slips:
            return self._slip(a, b)
        return self._shown(self._ohms(a, b))

    def _ohms(self, a: str, b: str) -> float:
        one = self.bad if self.bad is not None and self.chance.random() < 0.5 else self.unit
        return one.ohms(b, a) * self.gain + self.leads + self.chance.uniform(*TIPS)

    def _slip(self, a: str, b: str) -> str:
        """A tip that does not touch, the wrong pin, or a decimal point."""
        elsewhere = self.chance.choice([place for place in self.of.reach if place not in (a, b)] or [b])
        ways: tuple[Callable[[], str], ...] = (
            lambda: "OL",
            lambda: self._shown(self._ohms(a, elsewhere)),
            lambda: self._shown(self._ohms(a, b) * 10),
        )
        return self.chance.choices(ways, (5, 3, 2))[0]()

    def _shown(self, ohms: float) -> str:
        for end, step, unit, is_ohm, decimals in (BELOW_60, *RANGES):
            if ohms < end:
                digit = step * is_ohm
                counted = max(round(ohms / digit) + self.chance.randint(-COUNTS, COUNTS), 0)
                return f"{counted * step:.{decimals}f} {unit}"
        return "OL"
