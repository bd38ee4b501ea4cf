"""What a made-up unit answers: a sound one reads what its circuit lets expect, a faulty one differs where it is told to.

Nothing is drawn by lot: a unit's small deviations follow from its shelf mark and the step, so a played day is always the same.
"""

import hashlib
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

from benchapp.quantities import unit_named

if TYPE_CHECKING:
    from benchapp.judgement import Band

OPEN = "OL"
SPREAD = 0.15
"""of half the band's width: how far a sound unit strays from what is expected"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SimulatedUnit:
    """A unit and where it is not sound: by address, what is typed, answered, or marked bad ("checkpoint=bad").

    After a repair the unit answers as a sound one.
    """

    mark: str
    faults: Mapping[str, str] = field(default_factory=dict)
    repairs: Mapping[str, str] = field(default_factory=dict)
    """by address of the fault: what is done about it"""

    def reading(
        self, address: str, band: "Band | None", unit: str, *, leads: float = 0.0, repaired: bool = False
    ) -> str:
        """What the meter shows, as it is typed; `leads` (SI) is what its own leads add."""
        if address in self.faults and not repaired:
            return self.faults[address]
        if band is None:
            return "0"
        if band.lower is not None and band.upper is None and str(band.kind) == "resistance":
            return OPEN
        return _typed(_sound_value(band, _stray(self.mark, address)) + leads, unit)

    def answer(self, address: str, answers: tuple[str, ...], *, repaired: bool = False) -> str:
        """Which answer is given to a question; a sound unit gives the first."""
        wanted = self.faults.get(address)
        return wanted if wanted in answers and not repaired else answers[0]

    def marks(self, address: str, *, repaired: bool = False) -> dict[str, str]:
        """The checkpoints that are not good."""
        told = self.faults.get(address, "") if not repaired else ""
        return dict(one.split("=", 1) for one in told.split(",") if one)


def _sound_value(band: "Band", stray: float) -> float:
    """A value inside the band, in SI: near what is expected, else near the middle."""
    lower, upper = band.lower, band.upper
    if lower is None:
        return (band.expected if band.expected is not None else (upper or 0.0) / 3) * (1 + 0.1 * stray)
    if upper is None:
        return (band.expected if band.expected is not None else lower * 40) * (1 + 0.1 * stray)
    middle = band.expected if band.expected is not None and lower < band.expected < upper else (lower + upper) / 2
    return middle + stray * SPREAD * min(upper - middle, middle - lower)


def _typed(value: float, unit: str) -> str:
    """A value as a technician types it: four digits, in the unit that the step takes for granted."""
    shown = Decimal(repr(value)) / unit_named(unit).factor if unit else Decimal(repr(value))
    digits = 3 - (math.floor(math.log10(abs(shown))) if shown else 0)
    return f"{round(shown, max(0, min(digits, 3))):f}"


def _stray(mark: str, address: str) -> float:
    """A number from -1 to 1 that is always the same for the same unit and step."""
    drawn = hashlib.sha256(f"{mark} {address}".encode()).digest()
    return int.from_bytes(drawn[:4]) / 2**31 - 1
