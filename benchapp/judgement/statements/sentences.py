"""The decision in plain words, for a technician with a probe in each hand."""

from __future__ import annotations

from functools import lru_cache

from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Judgement
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show, show_uncertainty
from benchapp.quantities.quantity import Bound
from benchapp.words import say

_CERTAIN = 1e-4
_ALMOST = 0.95
_HALF = (2 / 5 * 1 / 2) ** 0.5
"""Above this 1 in 2 is nearer than 2 in 5 (as a ratio), above the next 2 in 5 is nearer than 1 in 3."""
_TWO_FIFTHS = (1 / 3 * 2 / 5) ** 0.5
_MORE_DIGITS = 3
_CONDITIONAL = (Judgement.conditional_pass, Judgement.conditional_fail)


def say_limits(band: Band) -> str:
    """The band in words: "8.1 V to 9.9 V", "at most 0.15 ohm", "at least 1 Mohm"."""
    return limits_in_words(band.lower, band.upper, band.kind, band.unit)


@lru_cache(maxsize=256)
def limits_in_words(lower: float | None, upper: float | None, kind: Kind, unit: str = "") -> str:
    """Two limits (SI) in words, in the unit that was written; kept for the next reading, most often the same."""
    if lower is None:
        return f"at most {show(upper, kind, unit=unit)}" if upper is not None else "no limit"
    if upper is None:
        return f"at least {show(lower, kind, unit=unit)}"
    if lower == upper:
        return f"exactly {show(lower, kind, unit=unit)}"
    return f"{show(lower, kind, unit=unit)} to {show(upper, kind, unit=unit)}"


def say_decision(
    judgement: Judgement,
    value: float,
    band: Band,
    expanded: float | None,
    probability: float | None,
    step: float | None,
    *,
    metered: bool = True,
) -> str:
    """One or two sentences: where the value lies, and how sure that is; of “this meter” only where there is one."""
    inside = judgement in (Judgement.passed, Judgement.conditional_pass)
    where = _say_where(
        show(value, band.kind, step=_telling(value, band, step, inside), unit=band.unit), band, inside=inside
    )
    if band.lower is not None and band.lower == band.upper and expanded and judgement in _CONDITIONAL:
        return f"{where}{_as_far_as(expanded, band, inside=inside)}."
    if judgement is Judgement.conditional_pass and probability is not None:
        return f"{where}, but {_too_close(metered)}: {say_odds(1 - probability)} outside."
    if judgement is Judgement.conditional_fail and probability is not None:
        return f"{where}, but {_too_close(metered)}: {say_odds(probability)} inside."
    if expanded and not band.safety and probability is not None and not 0.0228 < probability < 0.9772:
        whose = "this meter's" if metered else "its"
        return say(
            "{where}, by more than {whose} uncertainty of {say_uncertainty}.",
            where=where,
            whose=whose,
            say_uncertainty=_say_uncertainty(expanded, band),
        )
    return f"{where}."


def _as_far_as(expanded: float, band: Band, *, inside: bool) -> str:
    """Of one value alone there are no odds: nothing that is measured is known to be exactly it."""
    if inside:
        return f", as far as its uncertainty of {_say_uncertainty(expanded, band)} can tell"
    return f", but no further from it than its uncertainty of {_say_uncertainty(expanded, band)}"


def _too_close(metered: bool) -> str:
    return "closer to the edge than this meter can tell" if metered else "closer to the edge than it is known"


def _say_where(shown: str, band: Band, *, inside: bool) -> str:
    if band.lower is not None and band.lower == band.upper:
        return f"{shown} is {'' if inside else 'not '}the {_say_value(band.lower, band)} that is asked for"
    return f"{shown} is {'inside' if inside else 'outside'} {_say_bracketed(band)}"


def _telling(value: float, band: Band, step: float | None, inside: bool) -> float | None:
    """The step to show a value with: a finer one where a value worked out would be rounded across its limit.

    9.905 V, the mean of readings to hundredths, is not “9.90 V, outside 8.1 V to 9.9 V”.
    """
    for _ in range(_MORE_DIGITS):
        if not step or _is_inside(round(value / step) * step, band, 1e-9 * step) is inside:
            break
        step /= 10
    return step


def _is_inside(value: float, band: Band, slack: float) -> bool:
    low, high = band.lower, band.upper
    return (low is None or value >= low - slack) and (high is None or value <= high + slack)


def say_odds(probability: float) -> str:
    """A probability as people say it: "1 in 9 that it is", "more likely than not (6 in 10) that it is"."""
    if probability < _CERTAIN:
        return "less than 1 in 10000 that it is"
    if probability > _ALMOST:
        return "almost certain (more than 19 in 20) that it is"
    if probability > 0.55:
        return f"more likely than not ({min(round(10 * probability), 9)} in 10) that it is"
    if probability > _HALF:
        return "1 in 2 that it is"
    if probability > _TWO_FIFTHS:
        return "2 in 5 that it is"
    return f"1 in {round(1 / probability)} that it is"


def say_beyond(judgement: Judgement, value: float | None, bound: Bound, band: Band, over: float | None = None) -> str:
    """A reading known only to lie above or below a value, or over the range that ends at `over`: what that settles."""
    if value is None and bound is Bound.above:
        more = "" if over is None else f" (more than {_say_value(over, band)})"
        shown = f"The reading is over the meter's range{more}"
    elif value is None:
        shown = "The reading has no value"
    else:
        shown = f"The reading is {'above' if bound is Bound.above else 'below'} {_say_value(value, band)}"
    limits = _say_bracketed(band)
    if judgement is Judgement.passed:
        return f"{shown}, inside {limits}."
    if judgement is Judgement.conditional_pass:
        return say(
            "{shown}, inside {limits}, but closer to the edge than this meter can tell.", shown=shown, limits=limits
        )
    if judgement is Judgement.failed:
        return f"{shown}, outside {limits}."
    return say(
        "{shown}, which does not tell whether it is inside {limits}. Take it again with another range or meter.",
        shown=shown,
        limits=limits,
    )


def say_no_number(value: float, band: Band) -> str:
    """Why a number is not judged at all."""
    if band.lower is None and band.upper is None:
        return "No limit is stated for this reading: it is recorded, not judged."
    if value < 0:
        return say(
            "{say_value} is below zero, which this cannot be. Null the leads again; make sure that "
            "nothing is powered or charged.",
            say_value=_say_value(value, band),
        )
    return "This is no number that can be judged. Take the reading again."


def say_not_capable(band: Band, expanded: float | None, *, metered: bool = True) -> str:
    """Why this meter, or a value that no meter gave, may not judge a safety limit."""
    cannot = "This meter cannot judge this: its" if metered else "This cannot be judged: the value's"
    if expanded is None:
        return say(
            "{cannot} uncertainty is not known. It must be inside {say_bracketed}.",
            cannot=cannot,
            say_bracketed=_say_bracketed(band),
        )
    return say(
        "{cannot} uncertainty of {say_uncertainty} is too large for {say_bracketed}.",
        cannot=cannot,
        say_uncertainty=_say_uncertainty(expanded, band),
        say_bracketed=_say_bracketed(band),
    )


def _say_value(value: float, band: Band) -> str:
    return show(value, band.kind, unit=band.unit)


def _say_uncertainty(expanded: float, band: Band) -> str:
    return show_uncertainty(expanded, band.kind, unit=band.unit)


def _say_bracketed(band: Band) -> str:
    one_sided = band.lower is None or band.upper is None
    return f"the limit ({say_limits(band)})" if one_sided else say_limits(band)
