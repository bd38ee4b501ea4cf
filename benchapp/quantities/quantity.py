"""A value with its unit, and a reading as a technician took it."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from benchapp.quantities.unit import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A decimal value as stated, and its unit."""

    value: Decimal
    unit: Unit

    @property
    def si(self) -> float:
        """The value in SI units (°C for temperatures), converted once."""
        return float(self.unit.si(self.value))

    @property
    def si_exact(self) -> Decimal:
        """The value in SI units as a decimal, exact as far as the unit's factor is."""
        return self.unit.si(self.value)

    @property
    def digits(self) -> str:
        """The value as people write it: 4700, not 4.7E+3."""
        return f"{self.value:f}" if -12 < self.value.adjusted() < 15 else str(self.value)

    def __str__(self) -> str:
        return f"{self.digits} {self.unit.symbol}" if self.unit.symbol else self.digits


class Bound(StrEnum):
    """Whether a reading is the value shown, or only known to lie above or below it."""

    exact = "exact"
    above = "above"
    below = "below"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What was typed and what it means.

    Over-range ("OL") has no quantity and the bound `above`. `step` is the weight of the last digit that was given,
    in the quantity's own unit.
    """

    typed: str
    quantity: Quantity | None
    bound: Bound = Bound.exact
    step: Decimal | None = None

    @property
    def si(self) -> float | None:
        """The value in SI units (°C for temperatures); None for over-range."""
        return None if self.quantity is None else self.quantity.si

    @property
    def si_step(self) -> float | None:
        """The weight of the last digit in SI units."""
        if self.quantity is None or self.step is None:
            return None
        return float(self.step * self.quantity.unit.factor)

    def __str__(self) -> str:
        if self.quantity is None:
            return "over range"
        return f"{_BOUND_SIGNS[self.bound]}{self.quantity}"


_BOUND_SIGNS = {Bound.exact: "", Bound.above: "> ", Bound.below: "< "}


def describe_reading(reading: Reading) -> dict[str, str | float | None]:
    """The reading for programs: typed text, value as a decimal text, unit, kind, bound, SI value and step."""
    quantity = reading.quantity
    return {
        "typed": reading.typed,
        "value": None if quantity is None else quantity.digits,
        "unit": None if quantity is None else quantity.unit.symbol,
        "kind": None if quantity is None else quantity.unit.kind.value,
        "bound": reading.bound.value,
        "si": reading.si,
        "step": None if reading.step is None else str(reading.step),
    }
