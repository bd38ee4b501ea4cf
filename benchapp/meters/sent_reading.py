"""One reading as it came down a wire: what was sent, what it means, how it is written in a field."""

from dataclasses import dataclass
from decimal import Decimal

from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.ranges import range_of
from benchapp.judgement.meters.records import MeterRecord
from benchapp.judgement.statements.problems import RangeProblem
from benchapp.quantities.quantity import Reading
from benchapp.quantities.unit import Unit
from benchapp.quantities.units import PREFIXES, TABLE

BEHIND = 2
"""digits that are kept behind the meter's last one"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SentReading:
    """A reading with the line that carried it. `at` counts seconds, as a clock that is never set does."""

    sent: str
    reading: Reading
    at: float


def count_of(record: MeterRecord, function: Function, reading: Reading) -> float | None:
    """The weight of the meter's last digit (SI) on the range that shows the reading; None where it shows none.

    A meter sends more digits than it shows: its own counts are those of its record, or of the text where it is coarser.
    """
    if reading.si is None:
        return None
    try:
        count = range_of(record, function, reading.si).count
    except RangeProblem:
        return None
    return max(count, reading.si_step or 0.0)


def field_text(reading: Reading, count: float | None) -> str:
    """The reading as a person would type it: a prefix, no exponent, no zeros behind the meter's last digit.

    Two digits behind that one are kept: what lies further back is noise (own choice).
    """
    quantity = reading.quantity
    if quantity is None:
        return "OL"
    unit = _fitting(quantity.unit, quantity.value, Decimal(repr(count or 1e-9)))
    places = None if count is None else max(0, -(Decimal(repr(count)) / unit.factor).adjusted())
    return f"{_digits(quantity.si_exact / unit.factor if unit.factor != 1 else quantity.value, places)} {unit.symbol}"


def _fitting(unit: Unit, value: Decimal, count: Decimal) -> Unit:
    """The unit with the prefix that leaves one to three digits before the point; one that has a prefix keeps it.

    None is smaller than the meter's last digit. Below one ohm it stays ohm: mohm and Mohm differ by one letter.
    """
    if unit.factor != 1 or unit.offset or not value:
        return unit
    least = Decimal(1) if unit.symbol == "ohm" else count
    most = max(abs(value), min(factor for factor in PREFIXES.values() if factor >= least))
    names = {prefix + unit.symbol: factor for prefix, factor in PREFIXES.items() if least <= factor <= most}
    known = [TABLE[unit.kind][name] for name in names if name in TABLE[unit.kind]]
    return known[-1] if known else unit


def _digits(value: Decimal, places: int | None) -> str:
    if places is None:
        return f"{value:f}"
    whole, _, rest = f"{round(value, places + BEHIND):f}".partition(".")
    kept = rest[:places].ljust(places, "0") + rest[places:].rstrip("0")
    return f"{whole}.{kept}" if kept else whole
