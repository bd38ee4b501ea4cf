"""Charge that stays in capacitors when the feed or the tester is off, and how it runs down."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import exp, inf

from tests.hazards.circuits.parts import Part
from tests.hazards.circuits.solver import Solution, Source

METER_OHMS = 1.0e7
"""what a hand meter puts across what it reads"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A charge: volts at a time, and the ohms that it runs down through while nothing is switched."""

    part: Part
    volts: float
    at: float
    ohms: float
    by_test: bool
    """whether an insulation tester left it"""

    def now(self, clock: float) -> float:
        """Volts that are left at that time."""
        constant = self.ohms * self.part.value
        if constant == inf:
            return self.volts
        return self.volts * exp(-(clock - self.at) / max(constant, 1e-9))


@dataclass
class Charges:
    """The charges of one unit, by part."""

    held: dict[str, Held] = field(default_factory=dict)

    def hold(
        self, part: Part, volts: float, drains: Callable[[Part], float], clock: float, *, by_test: bool = False
    ) -> None:
        """Keep that many volts on a part from now on."""
        if volts > 1.0:
            self.held[part.name] = Held(part=part, volts=volts, at=clock, ohms=drains(part), by_test=by_test)

    def drain(self) -> None:
        """Nothing is left."""
        self.held.clear()

    def drain_what_a_test_left(self) -> None:
        """Nothing is left of what an insulation tester charged."""
        self.held = {name: one for name, one in self.held.items() if not one.by_test}

    def volts(
        self,
        parts: list[Part],
        a: str,
        b: str,
        clock: float,
        solution: Callable[[list[Part], Sequence[Source]], Solution],
    ) -> float:
        """DC volts that a meter finds between two terminals."""
        left = [one for one in self.held.values() if one.now(clock) > 0.01]
        if not left:
            return 0.0
        sources = [
            Source(plus=one.part.ends[0], minus=one.part.ends[1], volts=one.now(clock), ohms=100.0) for one in left
        ]
        dead = [part for part in parts if part.kind != "capacitor"]
        dead.append(Part(name="meter", kind="resistor", ends=(a, b), value=METER_OHMS))
        return solution(dead, sources).between(a, b).real

    def highest(self, clock: float) -> float:
        """The highest voltage that is left on any part."""
        return max((one.now(clock) for one in self.held.values()), default=0.0)
