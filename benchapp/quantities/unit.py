"""A unit as it is written, with its kind and its SI value."""

from dataclasses import dataclass
from decimal import Decimal

from benchapp.quantities.dimensions import Kind

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A unit as it is written, its kind, and its SI value: value × factor + offset."""

    symbol: str
    kind: Kind
    factor: Decimal
    offset: Decimal = ZERO

    def si(self, value: Decimal) -> Decimal:
        """The value in the SI unit of its kind (°C for temperatures), exact as far as the factor is."""
        return value * self.factor + self.offset if self.offset else value * self.factor

    def __str__(self) -> str:
        return self.symbol
