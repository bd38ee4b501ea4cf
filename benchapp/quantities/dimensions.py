"""The kinds of thing that are measured, and what products and quotients of kinds give.

A dimension is a product of powers of the SI base quantities length, mass, time, current and temperature
(SI Brochure, 9th edition, 2.3.3; clause from memory); a kind is a dimension that the bench has a name for.
"""

from dataclasses import dataclass
from enum import StrEnum
from functools import cache


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
        """In words where the bench has one, else in units of the bench: "a voltage", "a quantity in V²"."""
        kind = self.kind
        if kind is not None:
            return kind.with_article
        units = _in_bench_units(self)
        return f"a quantity in {units}" if units else "a mixture of units that no reading has"


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

_BENCH_UNITS = {
    "V": Kind.voltage,
    "A": Kind.current,
    "ohm": Kind.resistance,
    "W": Kind.power,
    "s": Kind.time,
    "m": Kind.length,
    "K": Kind.temperature_difference,
    "F": Kind.capacitance,
    "H": Kind.inductance,
    "J": Kind.energy,
    "kg": Kind.mass,
}
_LARGEST_SHOWN = 60
_LARGEST_IN_A_PRODUCT = 9


@cache
def _in_bench_units(dimension: Dimension) -> str:
    """The dimension as a power of one unit, or a product of powers of two; empty where that takes more."""
    powers = [power for power in range(-_LARGEST_SHOWN, _LARGEST_SHOWN + 1) if power]
    found = [(unit, power) for power in powers for unit in _BENCH_UNITS]
    names = {_DIMENSIONS[_BENCH_UNITS[unit]] ** power: (unit, power) for unit, power in reversed(found)}
    if dimension in names:
        return _raised(*names[dimension])
    found = [(unit, power) for unit, power in found if abs(power) <= _LARGEST_IN_A_PRODUCT]
    pairs = []
    for unit, power in found:
        rest = dimension / _DIMENSIONS[_BENCH_UNITS[unit]] ** power
        if rest in names:
            pairs.append(((unit, power), names[rest]))
    if not pairs:
        return ""
    simplest = min(pairs, key=lambda pair: (abs(pair[0][1]) + abs(pair[1][1]), -pair[0][1]))
    return " ".join(_raised(*one) for one in simplest)


def _raised(unit: str, power: int) -> str:
    return unit if power == 1 else f"{unit}{str(power).translate(_RAISED)}"
