"""What kind of thing is measured, and what do products and quotients of kinds give?

A dimension is a product of powers of the SI base quantities length, mass, time, current and temperature
(SI Brochure, 9th edition, 2.3.3; clause from memory); a kind is a dimension that the bench has a name for.
"""

from dataclasses import dataclass
from enum import StrEnum

_BASES = ("m", "kg", "s", "A", "K")


@dataclass(frozen=True, slots=True)
class Dimension:
    """Powers of metre, kilogram, second, ampere and kelvin."""

    powers: tuple[int, int, int, int, int]

    def __mul__(self, other: "Dimension") -> "Dimension":
        m, kg, s, a, k = (one + two for one, two in zip(self.powers, other.powers, strict=True))
        return Dimension((m, kg, s, a, k))

    def __truediv__(self, other: "Dimension") -> "Dimension":
        return self * other**-1

    def __pow__(self, exponent: int) -> "Dimension":
        m, kg, s, a, k = (power * exponent for power in self.powers)
        return Dimension((m, kg, s, a, k))

    def root(self) -> "Dimension | None":
        """The dimension whose square this is, or None."""
        if any(power % 2 for power in self.powers):
            return None
        m, kg, s, a, k = (power // 2 for power in self.powers)
        return Dimension((m, kg, s, a, k))

    @property
    def kind(self) -> "Kind | None":
        """The kind with this dimension, or None for a mixture that has no name at the bench."""
        return _KINDS.get(self)

    def __str__(self) -> str:
        """In words where the bench has one, else in SI base units: "a voltage", "a quantity in m² s⁻¹"."""
        kind = self.kind
        if kind is not None:
            return kind.with_article
        units = " ".join(
            base if power == 1 else f"{base}{str(power).translate(_RAISED)}"
            for base, power in zip(_BASES, self.powers, strict=True)
            if power
        )
        return f"a quantity in {units}"


_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


class Kind(StrEnum):
    """The kinds of quantity that the bench measures."""

    voltage = "voltage"
    current = "current"
    resistance = "resistance"
    power = "power"
    frequency = "frequency"
    temperature = "temperature"
    temperature_difference = "temperature difference"
    time = "time"
    length = "length"
    area = "area"
    speed = "speed"
    capacitance = "capacitance"
    inductance = "inductance"
    charge = "charge"
    energy = "energy"
    mass = "mass"
    ratio = "ratio"

    @property
    def dimension(self) -> Dimension:
        """The kind's dimension."""
        return _DIMENSIONS[self]

    @property
    def with_article(self) -> str:
        """For sentences: "a voltage", "an area"."""
        return f"an {self.value}" if self.value[0] in "aei" else f"a {self.value}"


_DIMENSIONS = {
    Kind.voltage: Dimension((2, 1, -3, -1, 0)),
    Kind.current: Dimension((0, 0, 0, 1, 0)),
    Kind.resistance: Dimension((2, 1, -3, -2, 0)),
    Kind.power: Dimension((2, 1, -3, 0, 0)),
    Kind.frequency: Dimension((0, 0, -1, 0, 0)),
    Kind.temperature: Dimension((0, 0, 0, 0, 1)),
    Kind.temperature_difference: Dimension((0, 0, 0, 0, 1)),
    Kind.time: Dimension((0, 0, 1, 0, 0)),
    Kind.length: Dimension((1, 0, 0, 0, 0)),
    Kind.area: Dimension((2, 0, 0, 0, 0)),
    Kind.speed: Dimension((1, 0, -1, 0, 0)),
    Kind.capacitance: Dimension((-2, -1, 4, 2, 0)),
    Kind.inductance: Dimension((2, 1, -2, -2, 0)),
    Kind.charge: Dimension((0, 0, 1, 1, 0)),
    Kind.energy: Dimension((2, 1, -2, 0, 0)),
    Kind.mass: Dimension((0, 1, 0, 0, 0)),
    Kind.ratio: Dimension((0, 0, 0, 0, 0)),
}
_KINDS: dict[Dimension, Kind] = {}
for _kind, _dimension in _DIMENSIONS.items():
    _KINDS.setdefault(_dimension, _kind)
