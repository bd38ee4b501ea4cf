"""The range that a reading was taken on, when nobody said.

As meters do: up when the reading is beyond full scale, down only when it is well inside the smaller range, so that a
reading near the edge does not hunt (common practice, no source). That holds for readings taken one after the other
without lifting the probes; a meter that was lifted starts afresh.

Where more than one range could have shown the value, the last digit typed tells which: near the top of a range the
larger one may still be in use, and a zero has no size that tells. 0.0 V was read where a count is 0.1 V, with that
range's accuracy. Elsewhere the value decides, and a digit that was dropped (10.4 for 10.40) counts as no more than the
rounding that it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from benchapp.judgement.meters.functions import Function
from benchapp.judgement.statements.problems import RangeProblem
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRange, MeterRecord

STEP_DOWN_AT = 0.9
"""Share of the smaller range's full scale below which a meter ranges down."""
SAME_DIGIT = 1e-9
"""Relative difference within which the last digit typed is a count of a range."""


def range_of(
    meter: MeterRecord,
    function: Function,
    value: float,
    *,
    range_name: str | None = None,
    previous: str | None = None,
    step: float | None = None,
) -> MeterRange:
    """The range that shows `value` (SI); raises RangeProblem where none does.

    `range_name` is the range that the technician named, `previous` the one that an automatic meter was on, `step` the
    weight of the last digit typed (SI).
    """
    ranges = meter.function(function).ranges
    size = abs(value) * (1 - 1e-12)
    if range_name:
        return _named(meter, function, size, range_name)
    smallest = next((one for one in ranges if size <= one.full_scale), None)
    if smallest is None:
        raise RangeProblem(
            say(
                "“{meter}” cannot show this on {function}: its largest range ends at {name}. Read the "
                "meter again, or choose the meter that was used.",
                meter=meter.title,
                function=function,
                name=ranges[-1].name,
            )
        )
    settled = 0.0 < size <= STEP_DOWN_AT * smallest.full_scale
    if not settled and step and (shown := _range_by_last_digit(step, ranges, smallest, size)):
        return shown
    if previous is None or size <= STEP_DOWN_AT * smallest.full_scale:
        return smallest
    names = [one.name for one in ranges]
    start, least = names.index(previous) if previous in names else 0, ranges.index(smallest)
    # From a larger one it comes down as far as the reading is well inside: to the one above the smallest.
    return ranges[least + 1] if start > least else smallest


def _range_by_last_digit(
    step: float, ranges: Sequence[MeterRange], smallest: MeterRange, size: float
) -> MeterRange | None:
    """Of the ranges that can have shown it, the one whose count is the last digit typed."""
    least = ranges.index(smallest)
    could = ranges[least:] if size == 0.0 else ranges[least : least + 2]
    return next((one for one in could if abs(one.count - step) <= SAME_DIGIT * step), None)


def ranges_in_touch(
    meter: MeterRecord,
    function: Function,
    values: Sequence[float | None],
    *,
    steps: Sequence[float | None] = (),
    range_name: str | None = None,
) -> tuple[MeterRange, ...]:
    """The range that showed each of the values (SI), read one after the other with the probes left on.

    None is a reading over the meter's range: it leaves an automatic meter on its largest. `steps` are the weights of
    their last digits, None where one is not known.
    """
    shown: list[MeterRange] = []
    for value, step in zip(values, steps or [None] * len(values), strict=True):
        if value is None:
            shown.append(over_range(meter, function, range_name=range_name))
        else:
            previous = shown[-1].name if shown else None
            shown.append(range_of(meter, function, value, range_name=range_name, previous=previous, step=step))
    return tuple(shown)


def over_range(meter: MeterRecord, function: Function, *, range_name: str | None = None) -> MeterRange:
    """The range on which the meter shows over-range: the one it was set to, else its largest."""
    if range_name:
        return _named(meter, function, 0.0, range_name)
    return meter.function(function).ranges[-1]


def _named(meter: MeterRecord, function: Function, size: float, range_name: str) -> MeterRange:
    ranges = meter.function(function).ranges
    found = next((one for one in ranges if one.name == range_name), None)
    if found is None:
        names = ", ".join(one.name for one in ranges)
        raise RangeProblem(
            say(
                "{meter} has no range “{range_name}” on {function}; it has {names}.",
                meter=meter.meter,
                range_name=range_name,
                function=function,
                names=names,
            )
        )
    if size > found.full_scale:
        raise RangeProblem(
            say(
                "“{meter}” cannot show this on its {function} range to {name}. Read the meter and its range again.",
                meter=meter.title,
                function=function,
                name=found.name,
            )
        )
    return found
