"""The preferred values of IEC 60063: the nearest to a value, and whether it is one.

IEC 60063:2015. E3 to E24 are lists, since eight values of E24 leave the formula; E48 to E192 are 100 × 10^(i/n)
rounded, with the one exception 920 in E192 (from memory).
"""

from decimal import Decimal
from enum import StrEnum
from functools import cache

from benchapp.quantities.problems import EntryProblem
from benchapp.words import say


class Series(StrEnum):
    """The series, named by the number of values in a decade."""

    E3 = "E3"
    E6 = "E6"
    E12 = "E12"
    E24 = "E24"
    E48 = "E48"
    E96 = "E96"
    E192 = "E192"


_E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
_E192_EXCEPTION = {919: 920}


@cache
def series_values(series: Series) -> tuple[int, ...]:
    """The values of one decade as whole numbers: 10 to 91 for E3 to E24, 100 to 988 beyond."""
    count = int(series.value[1:])
    if count <= 24:
        return _E24[:: 24 // count]
    exact = (round(100 * 10 ** (index / count)) for index in range(count))
    return tuple(_E192_EXCEPTION.get(value, value) if count == 192 else value for value in exact)


def preferred_value(value: Decimal | float, series: Series) -> Decimal:
    """The value of the series that differs least by ratio; raises EntryProblem unless above zero and finite."""
    exact = _positive(value)
    return min(_neighbours(exact, series), key=lambda candidate: max(candidate / exact, exact / candidate))


def is_preferred(value: Decimal | float, series: Series) -> bool:
    """Whether the value stands in the series, in any decade."""
    return _positive(value) in _neighbours(_positive(value), series)


def series_of(value: Decimal | float) -> Series | None:
    """The coarsest series in which the value stands; None when it stands in none (many parts older than the series)."""
    return next((series for series in Series if is_preferred(value, series)), None)


def _positive(value: Decimal | float) -> Decimal:
    exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    if not exact.is_finite() or exact <= 0:
        raise EntryProblem(say("{value} has no preferred value near it. Give a value above zero.", value=value))
    return exact


def _neighbours(exact: Decimal, series: Series) -> list[Decimal]:
    """All values of the decade around the value, and the first of the next."""
    values = series_values(series)
    scale = exact.adjusted() - (1 if values[0] == 10 else 2)
    return [Decimal(digits).scaleb(scale) for digits in (*values, values[0] * 10)]
