"""Which range was a reading taken on, when nobody said?

As meters do: up when the reading is beyond full scale, down only when it is well inside the smaller range, so that a
reading near the edge does not hunt (common practice, no source).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchapp.judgement.problems import RangeProblem

if TYPE_CHECKING:
    from benchapp.judgement.functions import Function
    from benchapp.judgement.meters import MeterRange, MeterRecord

STEP_DOWN_AT = 0.9
"""Share of the smaller range's full scale below which a meter ranges down."""


def range_of(
    meter: MeterRecord,
    function: Function,
    value: float,
    *,
    range_name: str | None = None,
    previous: str | None = None,
) -> MeterRange:
    """The range that shows `value` (SI); raises RangeProblem where none does.

    `range_name` is the range that the technician named, `previous` the one that an automatic meter was on.
    """
    ranges = meter.function(function).ranges
    size = abs(value) * (1 - 1e-12)
    if range_name:
        return _named(meter, function, size, range_name)
    smallest = next((one for one in ranges if size <= one.full_scale), None)
    if smallest is None:
        raise RangeProblem(
            f"{meter.meter} cannot show this on {function}: its largest range ends at {ranges[-1].name}. "
            "Read the meter again, or choose the meter that was used."
        )
    if previous is None or previous == smallest.name or size <= STEP_DOWN_AT * smallest.full_scale:
        return smallest
    return next((one for one in ranges if one.name == previous and size <= one.full_scale), smallest)


def _named(meter: MeterRecord, function: Function, size: float, range_name: str) -> MeterRange:
    ranges = meter.function(function).ranges
    found = next((one for one in ranges if one.name == range_name), None)
    if found is None:
        names = ", ".join(one.name for one in ranges)
        raise RangeProblem(f"{meter.meter} has no range “{range_name}” on {function}; it has {names}.")
    if size > found.full_scale:
        raise RangeProblem(
            f"{meter.meter} cannot show this on its {function} range to {found.name}. "
            "Read the meter and its range again."
        )
    return found
