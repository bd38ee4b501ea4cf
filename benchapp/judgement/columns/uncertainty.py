"""How well are very many readings known? The same rules as `uncertainty_of` and `combine`, column by column.

numpy and scipy are loaded at the first call.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from benchapp.judgement.decision.decision import TWELVE_DIGITS
from benchapp.judgement.meters.functions import THROUGH_LEADS, Function
from benchapp.judgement.meters.ranges import SAME_DIGIT, STEP_DOWN_AT
from benchapp.judgement.uncertainty.blurred_rectangle import FAR, PEAK, STEPS
from benchapp.judgement.uncertainty.budget import COVERAGE_PROBABILITY, DOMINATES_SLACK

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord

Column = Any
"""A numpy array of one dimension: float64, or as said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UncertaintyColumns:
    """What `Uncertainty` holds, one entry for each reading; a column that is None has its usual value throughout.

    `standards` nan = unknown, `degrees_of_freedom` usually infinite, `dominants` and `others` usually 0, or nan.
    """

    standards: Column
    degrees_of_freedom: Column | None = None
    dominants: Column | None = None
    others: Column | None = None


def uncertainty_of_columns(
    meter: MeterRecord, function: Function, values: Column, steps: Column, lead_resistances: Column | None = None
) -> UncertaintyColumns:
    """Uncertainties of readings of one meter and function, each on the range that shows it.

    `steps` are the weights of the last digits typed, `lead_resistances` are nan where neither nulled nor measured. A
    value beyond the largest range has the uncertainty nan.
    """
    import numpy as np

    facts = meter.function(function)
    tops = np.array([one.full_scale for one in facts.ranges])
    counts = np.array([one.count for one in facts.ranges])
    stated = [one.accuracy_at(None) for one in facts.ranges]
    of_reading = np.array([one.of_reading for one in stated])
    fixed = np.array([one.of_range for one in stated]) * tops + np.array([one.counts for one in stated]) * counts
    size = np.abs(values)
    location = np.searchsorted(tops, size * (1 - TWELVE_DIGITS))
    beyond = location == len(tops)
    location[beyond] = len(tops) - 1
    _told_by_digit(location, size, steps, tops, counts)
    half_width = of_reading[location] * size + fixed[location]
    count = counts[location]
    digit = 0.5 * np.maximum(steps, count)
    largest, rest = np.maximum(half_width, digit), np.minimum(half_width, digit) ** 2
    if function in THROUGH_LEADS and not facts.four_wire:
        leads = np.full(len(size), np.nan) if lead_resistances is None else lead_resistances
        own = np.where(np.isnan(leads), meter.lead_resistance.si, 0.5 * count)
        largest, smaller = np.maximum(largest, own), np.minimum(largest, own)
        rest += smaller * smaller
    standards = np.sqrt((largest * largest + rest) / 3.0)
    standards[beyond] = np.nan
    dominates = (rest <= (DOMINATES_SLACK * largest) ** 2) & ~beyond
    return UncertaintyColumns(
        standards=standards,
        dominants=np.where(dominates, largest, 0.0),
        others=np.where(dominates, np.sqrt(rest / 3.0), 0.0),
    )


def _told_by_digit(location: Column, size: Column, steps: Column, tops: Column, counts: Column) -> None:
    """The same as `ranges.range_of` with a step: puts the places right where the last digit tells the range."""
    import numpy as np

    doubtful = np.flatnonzero((size > STEP_DOWN_AT * tops[location]) | (size == 0.0))
    least, zero, step = location[doubtful], size[doubtful] == 0.0, steps[doubtful]
    told = ~(step > 0.0)
    for further in range(len(tops)):
        could = np.minimum(least + further, len(tops) - 1)
        same = ~told & (zero | (further < 2)) & (np.abs(counts[could] - step) <= SAME_DIGIT * step)
        location[doubtful[same]] = could[same]
        told |= same


def expanded_of_columns(uncertainties: UncertaintyColumns) -> Column:
    """Expanded uncertainties at 95.45 %: by the shape, by t, or twice the standard one."""
    import numpy as np

    expanded = 2.0 * uncertainties.standards
    freedom = uncertainties.degrees_of_freedom
    if freedom is not None:
        from scipy.special import stdtrit

        few = np.flatnonzero(np.isfinite(freedom))
        coverage = stdtrit(np.maximum(freedom[few], 1.0), 0.5 * (1.0 + COVERAGE_PROBABILITY))
        expanded[few] = coverage * uncertainties.standards[few]
    found = shaped(uncertainties)
    if found is not None:
        at, half_width, rest = found
        expanded[at] = _reach(0.5 * (1.0 - COVERAGE_PROBABILITY), half_width, rest)
    return expanded


def shaped(uncertainties: UncertaintyColumns) -> tuple[Column, Column, Column] | None:
    """Places of the readings whose uncertainty is a blurred rectangle, with half-widths and rests."""
    import numpy as np

    if uncertainties.dominants is None or uncertainties.others is None:
        return None
    if np.all(uncertainties.dominants > 0.0):
        return slice(None), uncertainties.dominants, uncertainties.others
    at = np.flatnonzero(uncertainties.dominants > 0.0)
    return (at, uncertainties.dominants[at], uncertainties.others[at]) if len(at) else None


def _reach(tail: float, half_widths: Column, rests: Column) -> Column:
    """The same as `blurred_rectangle.reach`."""
    import numpy as np

    found = half_widths * (1.0 - 2.0 * tail)
    soft = np.flatnonzero(rests * FAR > tail * half_widths)
    a, s = half_widths[soft], rests[soft]
    wanted = 2.0 * tail * a / s
    start = np.arange(0.01, 2.0 * FAR + 0.02, 0.01)
    z = np.interp(wanted, start, _newton(-start, start, STEPS))
    found[soft] = a + s * _newton(z, wanted, 2)
    return found


def _newton(z: Column, wanted: Column, steps: int) -> Column:
    """Towards the places at which the loss is as wanted; from a close start two steps reach the last digit."""
    import numpy as np
    from scipy.special import ndtr

    for _ in range(steps):
        above = ndtr(-z)
        z = z + (PEAK * np.exp(-0.5 * z * z) - z * above - wanted) / above
    return z


def below(x: Column, half_widths: Column, rests: Column) -> Column:
    """The same as `blurred_rectangle.probability_below`."""
    import numpy as np

    size = np.abs(x)
    tail = np.clip(0.5 * (half_widths - size) / half_widths, 0.0, None)
    soft = np.flatnonzero(rests * FAR > np.abs(size - half_widths))
    a, s, at = half_widths[soft], rests[soft], size[soft]
    tail[soft] = np.maximum(0.5 * s / a * (_loss((at - a) / s) - _loss((at + a) / s)), 0.0)
    return np.where(x <= 0.0, tail, 1.0 - tail)


def _loss(z: Column) -> Column:
    import numpy as np
    from scipy.special import ndtr

    return PEAK * np.exp(-0.5 * z * z) - z * ndtr(-z)
