"""Very many readings held against one band at once, by the rules of `decide`, on plain float arrays in SI.

For judging a whole history again. Exact readings of a band of function are compared as columns. The others (a
published safety limit, "more than" or "less than" a value, over range) go to `judge` itself, once for each number that
occurs: they are read off a display, so few differ. numpy is loaded at the first call.
"""

from __future__ import annotations

from math import isnan, nan
from typing import Any

from benchapp.judgement.decision.decision import NEVER_NEGATIVE, TWELVE_DIGITS, judge
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Judgement, Rule
from benchapp.quantities.quantity import Bound

Column = Any
"""A numpy array of one dimension: float64, or as said."""
JUDGEMENTS = tuple(Judgement)
"""What the codes of judged readings mean."""
BOUNDS = tuple(Bound)
"""What the codes of a column of bounds mean; 0 is exact."""
_CODE = {judgement: code for code, judgement in enumerate(JUDGEMENTS)}
_ROWS = 16_384
"""Readings worked at a time, so that a processor's own memory holds them."""


def judge_columns(
    *, band: Band, values: Column, bounds: Column, expanded: Column, overs: Column, r: float = 1.0
) -> Column:
    """Codes of the judgements (int8, places in JUDGEMENTS) of readings held against one band.

    `values` in SI, nan = over the meter's range, which ends at `overs`, nan = nobody knows. `bounds` are places in
    BOUNDS. `expanded` are the expanded uncertainties, nan = unknown. `r` sets the guard band as in `decide`.
    """
    import numpy as np

    codes = np.empty(len(values), dtype=np.int8)
    one_by_one = np.ones(len(values), dtype=bool) if band.safety else bounds != BOUNDS.index(Bound.exact)
    with np.errstate(invalid="ignore", over="ignore"):
        for start in range(0, len(values), _ROWS):
            rows = slice(start, start + _ROWS)
            codes[rows] = _judge_exact(band, values[rows], expanded[rows], r)
    at = np.flatnonzero(one_by_one)
    codes[at] = _judge_each(band, values[at], bounds[at], expanded[at], overs[at], r)
    return codes


def _judge_exact(band: Band, values: Column, expanded: Column, r: float) -> Column:
    """Exact readings of a band of function: the same as `statement`, and as `judge` where there is no number."""
    import numpy as np

    reach = np.nan_to_num(expanded)
    guard = r * reach if band.rule is Rule.guarded else np.zeros(len(values))
    slack = np.where(guard != 0.0, TWELVE_DIGITS * np.abs(values), 0.0)
    outside = _distance_outside(values, band)
    codes = np.full(len(values), _CODE[Judgement.failed], dtype=np.int8)
    codes[(guard > 0.0) & (outside <= guard + slack)] = _CODE[Judgement.conditional_fail]
    codes[outside <= 0.0] = _CODE[Judgement.conditional_pass]
    codes[outside <= slack - guard] = _CODE[Judgement.passed]
    codes[~np.isfinite(values) | np.isneginf(outside)] = _CODE[Judgement.not_judged]
    if band.kind in NEVER_NEGATIVE:
        codes[values + reach < 0.0] = _CODE[Judgement.not_judged]
    return codes


def _distance_outside(values: Column, band: Band) -> Column:
    """How far outside each value is, below zero inside, zero at a limit (12 digits), −inf where no limit is stated."""
    import numpy as np

    outside = np.full(len(values), -np.inf)
    for limit, sign in ((band.upper, 1.0), (band.lower, -1.0)):
        if limit is not None:
            beyond = sign * (values - limit)
            beyond[np.abs(beyond) <= TWELVE_DIGITS * abs(limit)] = 0.0
            np.maximum(outside, beyond, out=outside)
    return outside


def _judge_each(band: Band, values: Column, bounds: Column, expanded: Column, overs: Column, r: float) -> list[int]:
    """Readings given to `judge`, each number that occurs once."""
    judged: dict[tuple[float | None, int, float | None, float | None], int] = {}
    codes = []
    for row in zip(_optional(values), bounds.astype(int).tolist(), _optional(expanded), _optional(overs), strict=True):
        if row not in judged:
            value, bound, uncertainty, over = row
            given = nan if value is None and BOUNDS[bound] is Bound.exact else value
            judgement, _ = judge(given, BOUNDS[bound], band, uncertainty, r=r, over=over)
            judged[row] = _CODE[judgement]
        codes.append(judged[row])
    return codes


def _optional(column: Column) -> list[float | None]:
    return [None if isnan(number) else number for number in column.tolist()]
