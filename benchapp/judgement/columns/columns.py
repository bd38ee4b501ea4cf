"""Very many readings judged at once, column by column: the same rules as `decide`, on plain float arrays in SI.

For judging a whole history again. A test holds every column against the one-by-one functions. numpy and scipy are
loaded at the first call.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from benchapp.judgement.acceptance.acceptance import Accept, Form, is_relative
from benchapp.judgement.columns.uncertainty import Column, UncertaintyColumns, below, expanded_of_columns, shaped
from benchapp.judgement.decision.decision import NEVER_NEGATIVE, TWELVE_DIGITS
from benchapp.judgement.statements.band import USUAL_CAPABILITY
from benchapp.judgement.statements.problems import AcceptProblem
from benchapp.judgement.statements.statements import Judgement
from benchapp.quantities.dimensions import Kind

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
    lowers, uppers = _limits(accept, values, kind, count)
    spread_low = spread_high = 0.0
    for name, u in (uncertainties or {}).items():
        more = _limits(accept, {**values, name: values[name] + u}, kind, count)
        less = _limits(accept, {**values, name: values[name] - u}, kind, count)
        spread_low = np.hypot(spread_low, 0.5 * (more[0] - less[0]))
        spread_high = np.hypot(spread_high, 0.5 * (more[1] - less[1]))
    return lowers - 2 * spread_low, uppers + 2 * spread_high


def _limits(accept: Accept, values: Mapping[str, Column], kind: Kind, count: int) -> tuple[Column, Column]:
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
        np.abs(parts[0]) * size if is_relative(part, kind) else size
        for part, size in zip(accept.parts[1:], parts[1:], strict=True)
    )
    return parts[0] - below, parts[0] + above


def _value(part: Any, values: Mapping[str, Column]) -> Column:  # noqa: ANN401 (a formula's value: Decimal or array)
    value = part.value({name: values[name] for name in part.names})
    return value if hasattr(value, "dtype") else float(value)


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
        expanded = expanded_of_columns(uncertainties)
        guard = np.where(known & np.logical_and(guarded, np.logical_not(safety)), r * expanded, 0.0)
        outside = _outside(values, lowers, uppers)
        codes = _statements(values, outside, guard)
        probability = _probability(values, lowers, uppers, uncertainties, outside)
        _withhold(codes, values, lowers, uppers, outside, expanded, safety, capability, kind)
    if bounds is not None:
        beyond = np.flatnonzero((bounds != EXACT) | np.isnan(values))
        shown = values if overs is None else np.where(np.isnan(values) & (bounds == ABOVE), overs, values)
        at = (shown[beyond], lowers[beyond], uppers[beyond])
        codes[beyond] = _beyond(*at, bounds[beyond], guard[beyond])
        if np.any(safety):
            limited = np.broadcast_to(safety, values.shape)[beyond]
            codes[beyond] = _of_capable(codes[beyond], *at, expanded[beyond], limited, capability)
        probability[beyond] = np.nan
    return Judged(codes=codes, expanded=expanded, guard_band=guard, conformance_probability=probability)


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
    shape = shaped(uncertainties)
    probability = np.empty(len(values))
    if shape is None or not isinstance(shape[0], slice):
        probability = ndtr(high / standards) - ndtr(low / standards)
    if freedom is not None:
        few = np.flatnonzero(np.isfinite(freedom))
        nu, u = freedom[few], standards[few]
        probability[few] = stdtr(nu, high[few] / u) - stdtr(nu, low[few] / u)
    if shape is not None:
        at, half_width, rest = shape
        probability[at] = below(high[at], half_width, rest) - below(low[at], half_width, rest)
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
        capable = _capable(values, lowers, uppers, expanded, capability)
        not_judged |= np.logical_and(safety, ~capable & ~(outside > expanded))
    codes[not_judged] = NOT_JUDGED


def _capable(values: Column, lowers: Column, uppers: Column, expanded: Column, capability: float) -> Column:
    """The same as `is_capable` of a safety limit."""
    import numpy as np

    two_sided = ~np.isnan(lowers) & ~np.isnan(uppers)
    one_sided = np.where(np.isnan(lowers), np.abs(uppers), np.maximum(np.abs(lowers), np.abs(values)))
    measure = np.where(two_sided, 0.5 * (uppers - lowers), one_sided)
    return expanded <= capability * measure * (1.0 + TWELVE_DIGITS)


def _of_capable(
    codes: Column,
    values: Column,
    lowers: Column,
    uppers: Column,
    expanded: Column,
    safety: Column,
    capability: float,
) -> Column:
    """Readings beyond a value against a safety limit: judged by a capable meter, or clearly outside."""
    import numpy as np

    with np.errstate(invalid="ignore"):
        capable = _capable(values, lowers, uppers, expanded, capability) | ~np.isfinite(values)
        clearly = (codes == FAILED) & (_outside(values, lowers, uppers) > expanded)
    return np.where(safety & ~capable & ~clearly, NOT_JUDGED, codes)


def _beyond(values: Column, lowers: Column, uppers: Column, bounds: Column, guard: Column) -> Column:
    """Readings known only to lie above or below a value (nan = over range)."""
    import numpy as np

    no_value, above = np.isnan(values), bounds == ABOVE
    near, far = np.where(above, lowers, uppers), np.where(above, uppers, lowers)
    with np.errstate(invalid="ignore"):
        at_worst = _statements(values, _outside(values, lowers, uppers), guard)
        past = np.where(above, values >= far, values <= far)
    codes = np.full(len(values), NOT_JUDGED, dtype=np.int8)
    told = np.isnan(far) & ~np.isnan(near) & (at_worst <= CONDITIONAL_PASS) & np.isfinite(values)
    codes[told] = at_worst[told]
    codes[~np.isnan(far) & past & np.isfinite(values)] = FAILED
    over_range = no_value & above
    codes[over_range & np.isnan(uppers) & ~np.isnan(lowers)] = PASSED
    codes[over_range & ~np.isnan(uppers)] = FAILED
    return codes
