"""Very many readings judged at once, column by column: the same rules as `decide`, on plain float arrays in SI.

For judging a whole history again. A test holds every column against the one-by-one functions. numpy and scipy are
loaded at the first call.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from benchapp.judgement.acceptance import Accept, Form, is_relative
from benchapp.judgement.band import USUAL_CAPABILITY
from benchapp.judgement.blurred_rectangle import FAR, PEAK, STEPS
from benchapp.judgement.budget import COVERAGE_PROBABILITY, DOMINATES_SLACK
from benchapp.judgement.decision import NEVER_NEGATIVE, TWELVE_DIGITS
from benchapp.judgement.functions import THROUGH_LEADS, Function
from benchapp.judgement.problems import AcceptProblem
from benchapp.judgement.statements import Judgement
from benchapp.quantities import Kind

if TYPE_CHECKING:
    from benchapp.judgement.meters import MeterRecord

Column = Any
"""A numpy array of one dimension: float64, or as said."""
STATEMENTS = (
    Judgement.passed,
    Judgement.conditional_pass,
    Judgement.conditional_fail,
    Judgement.failed,
    Judgement.not_judged,
)
"""What the codes of a judged column mean."""
PASSED, CONDITIONAL_PASS, CONDITIONAL_FAIL, FAILED, NOT_JUDGED = range(5)
EXACT, ABOVE, BELOW = 0, 1, -1
"""Codes of a column of bounds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UncertaintyColumns:
    """What `Uncertainty` holds, one entry for each reading; a column that is None has its usual value throughout.

    `standards` nan = unknown, `degrees_of_freedom` usually infinite, `dominants` and `others` usually 0, or nan.
    """

    standards: Column
    degrees_of_freedom: Column | None = None
    dominants: Column | None = None
    others: Column | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One entry for each reading: code into STATEMENTS (int8), expanded uncertainty, guard band, probability."""

    codes: Column
    expanded: Column
    guard_band: Column
    conformance_probability: Column


def limits_of_columns(
    accept: Accept,
    values: Mapping[str, Column],
    kind: Kind,
    count: int,
    *,
    uncertainties: Mapping[str, Column] | None = None,
) -> tuple[Column, Column]:
    """Lower and upper limits (nan = open) of an accept expression over columns of its names.

    `uncertainties` are the standard uncertainties of some of them; they widen the limits as `Accept.band` does.
    """
    import numpy as np

    if accept.form in (Form.limit, Form.wiring):
        raise AcceptProblem(f"“{accept.text}” takes its band from the limits or the circuit, not from readings.")
    if not accept.names:
        band = accept.band({}, kind=kind)
        lower, upper = (np.nan if one is None else one for one in (band.lower, band.upper))
        return np.full(count, lower), np.full(count, upper)
    lowers, uppers = _limits(accept, values, count)
    spread_low = spread_high = 0.0
    for name, u in (uncertainties or {}).items():
        more = _limits(accept, {**values, name: values[name] + u}, count)
        less = _limits(accept, {**values, name: values[name] - u}, count)
        spread_low = np.hypot(spread_low, 0.5 * (more[0] - less[0]))
        spread_high = np.hypot(spread_high, 0.5 * (more[1] - less[1]))
    return lowers - 2 * spread_low, uppers + 2 * spread_high


def _limits(accept: Accept, values: Mapping[str, Column], count: int) -> tuple[Column, Column]:
    import numpy as np

    parts = [np.broadcast_to(np.asarray(_value(part, values), dtype=np.float64), (count,)) for part in accept.parts]
    open_side = np.full(count, np.nan)
    if accept.form is Form.at_most:
        return open_side, parts[0]
    if accept.form is Form.at_least:
        return parts[0], open_side
    if accept.form is Form.between:
        return parts[0], parts[1]
    above, below = (
        np.abs(parts[0]) * size if is_relative(part) else size
        for part, size in zip(accept.parts[1:], parts[1:], strict=True)
    )
    return parts[0] - below, parts[0] + above


def _value(part: Any, values: Mapping[str, Column]) -> Column:  # noqa: ANN401 (a formula's value: Decimal or array)
    value = part.value({name: values[name] for name in part.names})
    return value if hasattr(value, "dtype") else float(value)


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
    place = np.searchsorted(tops, size * (1 - TWELVE_DIGITS))
    beyond = place == len(tops)
    place[beyond] = len(tops) - 1
    half_width = of_reading[place] * size + fixed[place]
    count = counts[place]
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


def judge_columns(
    *,
    values: Column,
    lowers: Column,
    uppers: Column,
    uncertainties: UncertaintyColumns,
    bounds: Column | None = None,
    overs: Column | None = None,
    guarded: Column | bool = True,
    safety: Column | bool = False,
    kind: Kind = Kind.voltage,
    capability: float = USUAL_CAPABILITY,
    r: float = 1.0,
) -> Judged:
    """Judge columns of readings of one kind: limits nan = open, values nan = over the meter's range.

    `bounds` is a column of EXACT, ABOVE, BELOW; without one every reading is exact. `overs` is where the range of a
    reading over it ends, nan = nobody knows. `guarded` and `safety` are columns of bool, or one bool for all.
    """
    import numpy as np

    standards = uncertainties.standards
    with np.errstate(invalid="ignore", divide="ignore"):
        known = ~np.isnan(standards)
        expanded = _expanded(uncertainties)
        guard = np.where(known & np.logical_and(guarded, np.logical_not(safety)), r * expanded, 0.0)
        outside = _outside(values, lowers, uppers)
        codes = _statements(values, outside, guard)
        probability = _probability(values, lowers, uppers, uncertainties, outside)
        _withhold(codes, values, lowers, uppers, outside, expanded, safety, capability, kind)
    if bounds is not None:
        beyond = np.flatnonzero((bounds != EXACT) | np.isnan(values))
        shown = values if overs is None else np.where(np.isnan(values) & (bounds == ABOVE), overs, values)
        codes[beyond] = _beyond(shown[beyond], lowers[beyond], uppers[beyond], bounds[beyond])
        probability[beyond] = np.nan
    return Judged(codes=codes, expanded=expanded, guard_band=guard, conformance_probability=probability)


def _expanded(uncertainties: UncertaintyColumns) -> Column:
    """Expanded uncertainties at 95.45 %: by the shape, by t, or twice the standard one."""
    import numpy as np

    expanded = 2.0 * uncertainties.standards
    freedom = uncertainties.degrees_of_freedom
    if freedom is not None:
        from scipy.special import stdtrit

        few = np.flatnonzero(np.isfinite(freedom))
        coverage = stdtrit(np.maximum(freedom[few], 1.0), 0.5 * (1.0 + COVERAGE_PROBABILITY))
        expanded[few] = coverage * uncertainties.standards[few]
    shaped = _shaped(uncertainties)
    if shaped is not None:
        at, half_width, rest = shaped
        expanded[at] = _reach(0.5 * (1.0 - COVERAGE_PROBABILITY), half_width, rest)
    return expanded


def _shaped(uncertainties: UncertaintyColumns) -> tuple[Column, Column, Column] | None:
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


def _below(x: Column, half_widths: Column, rests: Column) -> Column:
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


def _outside(values: Column, lowers: Column, uppers: Column) -> Column:
    """How far outside each value is, below zero inside, zero at a limit (12 digits), −inf where no limit is stated."""
    import numpy as np

    above, below = values - uppers, lowers - values
    above[np.abs(above) <= TWELVE_DIGITS * np.abs(uppers)] = 0.0
    below[np.abs(below) <= TWELVE_DIGITS * np.abs(lowers)] = 0.0
    outside = np.fmax(above, below)
    outside[np.isnan(outside)] = -np.inf
    return outside


def _statements(values: Column, outside: Column, guard: Column) -> Column:
    import numpy as np

    slack = np.where(guard != 0.0, TWELVE_DIGITS * np.abs(values), 0.0)
    codes = np.full(len(values), FAILED, dtype=np.int8)
    some = guard > 0.0
    codes[some & (outside <= guard + slack)] = CONDITIONAL_FAIL
    codes[some & (outside <= 0.0)] = CONDITIONAL_PASS
    codes[outside <= slack - guard] = PASSED
    return codes


def _probability(
    values: Column, lowers: Column, uppers: Column, uncertainties: UncertaintyColumns, outside: Column
) -> Column:
    import numpy as np
    from scipy.special import ndtr, stdtr

    standards, freedom = uncertainties.standards, uncertainties.degrees_of_freedom
    low, high = lowers - values, uppers - values
    low[np.isnan(lowers)] = -np.inf
    high[np.isnan(uppers)] = np.inf
    turn = low + high > 0.0
    low, high = np.where(turn, -high, low), np.where(turn, -low, high)
    shaped = _shaped(uncertainties)
    probability = np.empty(len(values))
    if shaped is None or not isinstance(shaped[0], slice):
        probability = ndtr(high / standards) - ndtr(low / standards)
    if freedom is not None:
        few = np.flatnonzero(np.isfinite(freedom))
        nu, u = freedom[few], standards[few]
        probability[few] = stdtr(nu, high[few] / u) - stdtr(nu, low[few] / u)
    if shaped is not None:
        at, half_width, rest = shaped
        probability[at] = _below(high[at], half_width, rest) - _below(low[at], half_width, rest)
    probability = np.maximum(probability, 0.0)
    sure = np.flatnonzero(standards <= 0.0)
    probability[sure] = outside[sure] <= 0.0
    probability[np.isnan(standards) | ~np.isfinite(values)] = np.nan
    return probability


def _withhold(
    codes: Column,
    values: Column,
    lowers: Column,
    uppers: Column,
    outside: Column,
    expanded: Column,
    safety: Column | bool,
    capability: float,
    kind: Kind,
) -> None:
    """Take back the judgement of what is no number, has no limit, cannot be, or was read by an incapable meter."""
    import numpy as np

    no_limit = np.isnan(lowers) & np.isnan(uppers)
    not_judged = ~np.isfinite(values) | no_limit
    if kind in NEVER_NEGATIVE:
        not_judged |= values + np.nan_to_num(expanded) < 0.0
    if np.any(safety):
        two_sided = ~np.isnan(lowers) & ~np.isnan(uppers)
        one_sided = np.where(np.isnan(lowers), np.abs(uppers), np.maximum(np.abs(lowers), np.abs(values)))
        measure = np.where(two_sided, 0.5 * (uppers - lowers), one_sided)
        capable = expanded <= capability * measure * (1.0 + TWELVE_DIGITS)
        not_judged |= np.logical_and(safety, ~capable & ~(outside > expanded))
    codes[not_judged] = NOT_JUDGED


def _beyond(values: Column, lowers: Column, uppers: Column, bounds: Column) -> Column:
    """Readings known only to lie above or below a value (nan = over range)."""
    import numpy as np

    no_value, above = np.isnan(values), bounds == ABOVE
    near, far = np.where(above, lowers, uppers), np.where(above, uppers, lowers)
    with np.errstate(invalid="ignore"):
        inside = _outside(values, lowers, uppers) <= 0.0
        past = np.where(above, values >= far, values <= far)
    codes = np.full(len(values), NOT_JUDGED, dtype=np.int8)
    codes[np.isnan(far) & ~np.isnan(near) & inside & np.isfinite(values)] = PASSED
    codes[~np.isnan(far) & past & np.isfinite(values)] = FAILED
    over_range = no_value & above
    codes[over_range & np.isnan(uppers) & ~np.isnan(lowers)] = PASSED
    codes[over_range & ~np.isnan(uppers)] = FAILED
    return codes
