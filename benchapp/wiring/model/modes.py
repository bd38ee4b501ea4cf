"""How a part fails, and the size of a fault."""

import math
from dataclasses import dataclass
from enum import StrEnum


class Mode(StrEnum):
    """How a part fails."""

    open = "open"
    high_resistance = "high resistance"
    drifted = "drifted high"
    shorted = "shorted"
    shorted_turns = "shorted turns"
    leaking = "leaking"
    crossed = "crossed"
    bridged = "bridged"


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """The size of a fault: ohm for joints, leaks and bridges, a factor for drift, a share of the turns for turns."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """The geometric middle, or the arithmetic one where the range starts at nothing."""
        return math.sqrt(self.low * self.high) if self.low > 0 else (self.low + self.high) / 2


NO_SIZE = Range(low=0.0, high=0.0)
