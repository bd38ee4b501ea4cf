"""The decision whether a reading conforms to a band: JCGM 106:2012 for the rules, ILAC-G8:09/2019 for the words.

The document leaves equality open; here a limit belongs to what it bounds. A reading equal to the acceptance limit
passes, one equal to the limit of the band is a conditional pass, one a whole guard band outside is a conditional fail.
Numbers are compared at 12 digits.

A published safety limit is applied as published: simple acceptance, and only by a meter capable of it. A meter that is
not capable never shows a pass; a reading outside by more than its uncertainty is a fail all the same. That holds for
"more than" and "less than" a value too: by guard band and capability they are judged as that value is.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isfinite

from benchapp.judgement.statements.band import USUAL_CAPABILITY, Band
from benchapp.judgement.statements.sentences import say_beyond, say_decision, say_no_number, say_not_capable
from benchapp.judgement.statements.statements import Judgement, Rule, completes_step
from benchapp.judgement.uncertainty.blurred_rectangle import probability_below
from benchapp.judgement.uncertainty.distributions import t_cdf
from benchapp.judgement.uncertainty.uncertainty import Uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound

TWELVE_DIGITS = 1e-12
NEVER_NEGATIVE = frozenset({Kind.resistance, Kind.capacitance})


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """The judgement of one reading and every number it rests on, in SI units; None where a number does not apply."""

    judgement: Judgement
    value: float | None
    bound: Bound
    lower: float | None
    upper: float | None
    standard_uncertainty: float | None
    expanded_uncertainty: float | None
    guard_band: float | None
    conformance_probability: float | None
    capable: bool
    sentence: str

    @property
    def false_accept_risk(self) -> float | None:
        """Specific consumer's risk, 1 − p_c, if this reading is accepted (JCGM 106, 9.3.2)."""
        return None if self.conformance_probability is None else 1.0 - self.conformance_probability

    @property
    def false_reject_risk(self) -> float | None:
        """Specific producer's risk, p_c, if this reading is rejected (JCGM 106, 9.3.3)."""
        return self.conformance_probability


def decide(
    *,
    value: float | None,
    bound: Bound,
    band: Band,
    uncertainty: Uncertainty | None,
    r: float = 1.0,
    step: float | None = None,
    over: float | None = None,
    metered: bool = True,
) -> Decision:
    """Judge one reading; `r` sets the guard band w = r × U of a guarded band.

    `value` is None for a reading that is only known to be over the meter's range, which ends at `over`; where that is
    None too, beyond everything. Without an uncertainty the rule is simple. `step` is the weight of the reading's last
    digit: the sentence shows no more digits than the meter gave. `metered` says whether a meter took it: the sentence
    speaks of that meter then.
    """
    expanded = uncertainty.expanded if uncertainty else None
    judgement, capable = judge(value, bound, band, expanded, r=r, over=over)
    exact = value if bound is Bound.exact else None
    number = None if exact is None or _no_number(exact, band, expanded) else exact
    probability = None if number is None else conformance_probability(number, band, uncertainty)
    if not capable and judgement is Judgement.not_judged:
        sentence = say_not_capable(band, expanded, metered=metered)
    elif number is not None:
        sentence = say_decision(judgement, number, band, expanded, probability, step, metered=metered)
    elif exact is not None:
        sentence = say_no_number(exact, band)
    else:
        sentence = say_beyond(judgement, value, bound, band, over)
    return Decision(
        judgement=judgement,
        value=value,
        bound=bound,
        lower=band.lower,
        upper=band.upper,
        standard_uncertainty=uncertainty.standard if uncertainty else None,
        expanded_uncertainty=expanded,
        guard_band=guard_band(band, expanded, r),
        conformance_probability=probability,
        capable=capable,
        sentence=sentence,
    )


def judge(
    value: float | None, bound: Bound, band: Band, expanded: float | None, *, r: float = 1.0, over: float | None = None
) -> tuple[Judgement, bool]:
    """The judgement alone and whether the meter is capable; arguments as those of `decide`.

    `expanded` is the expanded uncertainty of the reading, None where it is not known.
    """
    guard = guard_band(band, expanded, r)
    if bound is not Bound.exact or value is None:
        least = over if value is None else value
        capable = least is None or not isfinite(least) or is_capable(least, band, expanded)
        judgement = _judge_beyond(least, bound, band, guard)
    elif _no_number(value, band, expanded):
        return Judgement.not_judged, True
    else:
        least, capable = value, is_capable(value, band, expanded)
        judgement = statement(value, band.lower, band.upper, guard)
    settled = capable or (judgement is Judgement.failed and _clearly_outside(least or 0.0, band, expanded))
    return judgement if settled else Judgement.not_judged, capable


def guard_band(band: Band, expanded: float | None, r: float = 1.0) -> float:
    """Guard band w = r × U (ILAC-G8:09/2019, 4.2); zero for simple acceptance, and where U is not known."""
    return r * expanded if expanded and band.rule is Rule.guarded and not band.safety else 0.0


def statement(value: float, lower: float | None, upper: float | None, guard: float) -> Judgement:
    """ILAC-G8's statement for a value between limits with guard band `guard`.

    Non-binary (4.2.3) for a guard band above zero; binary for simple acceptance (4.2.1) and for one below zero, which
    widens the acceptance interval (4.2.2). The worse side decides.
    """
    outside = _distance_outside(value, lower, upper)
    slack = TWELVE_DIGITS * abs(value) if guard else 0.0
    if outside <= slack - guard:
        return Judgement.passed
    if guard <= 0.0:
        return Judgement.failed
    if outside <= 0.0:
        return Judgement.conditional_pass
    return Judgement.conditional_fail if outside <= guard + slack else Judgement.failed


def conformance_probability(value: float, band: Band, uncertainty: Uncertainty | None) -> float | None:
    """Probability that the measurand lies in the band (JCGM 106, clause 7), by the shape of its uncertainty.

    A blurred rectangle where one source outweighs the others, t where degrees of freedom are finite, else normal.
    """
    if uncertainty is None:
        return None
    if uncertainty.standard <= 0.0:
        return 1.0 if _distance_outside(value, band.lower, band.upper) <= 0.0 else 0.0
    low = -inf if band.lower is None else band.lower - value
    high = inf if band.upper is None else band.upper - value
    if low + high > 0.0:  # the same by symmetry, in the tail where a small probability keeps its digits
        low, high = -high, -low
    return max(_below(high, uncertainty) - _below(low, uncertainty), 0.0)


def _below(distance: float, uncertainty: Uncertainty) -> float:
    """Probability that the measurand is less than this far above the reading."""
    if uncertainty.dominant:
        return probability_below(distance, uncertainty.dominant, uncertainty.others)
    return t_cdf(distance / uncertainty.standard, uncertainty.degrees_of_freedom)


def is_capable(value: float, band: Band, expanded: float | None) -> bool:
    """Whether a meter with this expanded uncertainty may judge this band; every meter may, if it is no safety limit.

    The uncertainty is held against the upper limit, against a minimum or the reading where that is larger (a tester of
    insulation is not asked to tell 150 from 151 Mohm), or against half the width of a band with both limits.
    """
    if not band.safety:
        return True
    if expanded is None:
        return False
    if band.lower is not None and band.upper is not None:
        measure = 0.5 * (band.upper - band.lower)
    elif band.lower is not None:
        measure = max(abs(band.lower), abs(value))
    else:
        measure = abs(band.upper or 0.0)
    share = USUAL_CAPABILITY if band.capability is None else band.capability
    return expanded <= share * measure * (1.0 + TWELVE_DIGITS)


def _distance_outside(value: float, lower: float | None, upper: float | None) -> float:
    """How far outside the value is, below zero inside; exactly zero at a limit (12 digits)."""
    outside = -inf
    if upper is not None:
        outside = value - upper
        if abs(outside) <= TWELVE_DIGITS * abs(upper):
            outside = 0.0
    if lower is not None:
        below = lower - value
        if abs(below) <= TWELVE_DIGITS * abs(lower):
            below = 0.0
        outside = max(outside, below)
    return outside


def _judge_beyond(value: float | None, bound: Bound, band: Band, guard: float) -> Judgement:
    """A reading known only to lie above (or below) a value: judged where that settles it, as the value itself is."""
    lower, upper = band.lower, band.upper
    near, far = (lower, upper) if bound is Bound.above else (upper, lower)
    if value is not None and not isfinite(value):
        return Judgement.not_judged
    if value is None:
        if bound is not Bound.above or (lower is None and upper is None):
            return Judgement.not_judged
        return Judgement.passed if upper is None else Judgement.failed
    if far is None:
        at_worst = Judgement.not_judged if near is None else statement(value, lower, upper, guard)
        return at_worst if completes_step(at_worst) else Judgement.not_judged
    past = value >= far if bound is Bound.above else value <= far
    return Judgement.failed if past else Judgement.not_judged


def _clearly_outside(value: float, band: Band, expanded: float | None) -> bool:
    return expanded is not None and _distance_outside(value, band.lower, band.upper) > expanded


def _no_number(value: float, band: Band, expanded: float | None) -> bool:
    """Whether there is nothing to judge: no finite value, no limit, or a resistance below zero by more than U.

    Leads nulled badly, or a voltage in the circuit, show a resistance below zero.
    """
    if not isfinite(value) or (band.lower is None and band.upper is None):
        return True
    return band.kind in NEVER_NEGATIVE and value + (expanded or 0.0) < 0.0
