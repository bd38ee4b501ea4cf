"""What a marking on a part says, in letters or in colours, and whether its value is a preferred one.

Codes and colours as IEC 60062 (see `markings`, `colours`), preferred values as IEC 60063 (see `preferred`).
"""

import re
from dataclasses import dataclass
from decimal import Decimal

from benchapp.quantities.colours import COLOURS, read_colours
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.markings import read_marking, write_marking
from benchapp.quantities.preferred import Series, preferred_value, series_of
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Quantity

HAS_PREFERRED_VALUES = frozenset({Kind.resistance, Kind.capacitance, Kind.inductance})
_BETWEEN_BANDS = re.compile(r"[\s,;/|-]+")
MOST_BANDS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class PartReading:
    """One way to read a part's marking; the tolerance is in %, or absolute on small capacitors, or not marked."""

    quantity: Quantity
    tolerance: Quantity | None
    note: str = ""

    @property
    def limits(self) -> tuple[Decimal, Decimal] | None:
        """The smallest and the largest value in SI that the tolerance allows."""
        if self.tolerance is None:
            return None
        value, by = self.quantity.si_exact, self.tolerance.si_exact
        if self.tolerance.unit.kind is Kind.ratio:
            by *= value
        return value - by, value + by


@dataclass(frozen=True, slots=True, kw_only=True)
class Preference:
    """How a value (SI) stands to the preferred ones: its coarsest series, the nearest of each, and its code."""

    series: Series | None
    nearest: dict[Series, Decimal]
    code: str
    """Letters and digits of IEC 60062; empty where the code has no way to write the value."""


def colour_bands(text: str) -> list[str] | None:
    """The bands that a text names one after the other; None where it is no list of colours."""
    words = _BETWEEN_BANDS.split(text.strip().casefold())
    colours = sum(word in COLOURS for word in words)
    return words if 3 <= len(words) <= MOST_BANDS and colours >= len(words) - 1 else None


def read_part(text: str) -> tuple[PartReading, ...]:
    """All readings of the colours or the code on a part, the present meaning first; raises EntryProblem."""
    bands = colour_bands(text)
    if bands is None:
        marking = read_marking(text)
        return (PartReading(quantity=marking.quantity, tolerance=marking.tolerance),)
    return tuple(
        PartReading(quantity=one.resistance, tolerance=one.tolerance, note=one.note) for one in read_colours(bands)
    )


def preference_of(value_si: Decimal, kind: Kind) -> Preference | None:
    """Where the value stands among the preferred ones; None for a kind, or a value, that has none."""
    if kind not in HAS_PREFERRED_VALUES or value_si <= 0:
        return None
    try:
        code = write_marking(value_si, kind)
    except EntryProblem:
        code = ""
    nearest = {series: preferred_value(value_si, series) for series in Series}
    return Preference(series=series_of(value_si), nearest=nearest, code=code)
