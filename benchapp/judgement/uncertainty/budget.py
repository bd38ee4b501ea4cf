"""From the sources of uncertainty to one standard uncertainty, its degrees of freedom and an expanded uncertainty.

JCGM 100:2008: type A from repeats (4.2), type B by distribution (4.3), combination (5.1.2) with correlation (5.2.2),
effective degrees of freedom by Welch–Satterthwaite (G.4.1), coverage factor from Student's t at 95.45 % (G.3, table
G.2), which is 2 where the degrees of freedom are infinite. Degrees of freedom are not cut to a whole number. Where one
rectangular source outweighs all others the result is spread like it, and the coverage factor comes from that shape
(6.3.2 and G.6.5; EA-4/02, S9.14): 1.65 for a rectangle alone. This is the one place where the shape is settled.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import fsum, inf, isfinite, isinf, sqrt
from typing import NamedTuple

from benchapp.judgement.statements.problems import BudgetProblem
from benchapp.judgement.uncertainty.blurred_rectangle import reach
from benchapp.judgement.uncertainty.distributions import t_quantile
from benchapp.judgement.uncertainty.uncertainty import Contribution, Distribution, Uncertainty
from benchapp.words import say

COVERAGE_PROBABILITY = 0.9545
_DIVISOR = {
    Distribution.rectangular: sqrt(3.0),
    Distribution.triangular: sqrt(6.0),
    Distribution.u_shaped: sqrt(2.0),
    Distribution.normal: 1.0,
    Distribution.student: 1.0,
}
DOMINATES = 0.3
"""A rectangular source outweighs the others where their root sum of squares is at most this share of it.

EA-4/02, section 5, and its supplement S9.14 (from memory)."""
_ROOT_THREE = sqrt(3.0)
DOMINATES_SLACK = DOMINATES * (1.0 + 1e-12)
Correlations = Mapping[tuple[int, int], float]
"""Correlation coefficient of two sources, by their places in the list; a pair that is missing is uncorrelated."""


class Source(NamedTuple):
    """One source of uncertainty.

    `value` is the half-width of a rectangular, triangular or U-shaped distribution, and the standard uncertainty of a
    normal or t one. `sensitivity` is the change of the result per change of the source.
    """

    source: str
    value: float
    distribution: Distribution = Distribution.rectangular
    sensitivity: float = 1.0
    degrees_of_freedom: float = inf


def repeated_source(source: str, readings: Sequence[float], sensitivity: float = 1.0) -> Source:
    """Type A: standard deviation of the mean of two readings or more, n − 1 degrees of freedom (JCGM 100, 4.2.3)."""
    count = len(readings)
    if count < 2:
        raise BudgetProblem(
            say("{source}: {count} reading gives no spread; take at least two.", source=source, count=count)
        )
    return Source(source, standard_deviation(readings) / sqrt(count), Distribution.student, sensitivity, count - 1.0)


def standard_deviation(readings: Sequence[float]) -> float:
    """Experimental standard deviation, n − 1 in the divisor, in two passes (JCGM 100, 4.2.2)."""
    mean = fsum(readings) / len(readings)
    rest = fsum(x - mean for x in readings)
    return sqrt((fsum((x - mean) ** 2 for x in readings) - rest * rest / len(readings)) / (len(readings) - 1))


def combine(sources: Sequence[Source], correlations: Correlations | None = None, *, shaped: bool = True) -> Uncertainty:
    """The uncertainty of a result from its sources; raises BudgetProblem for impossible correlations.

    Not `shaped`, a result is normal or t even where one rectangular source outweighs all others.
    """
    parts = [s.sensitivity * (s.value / _DIVISOR[s.distribution]) for s in sources]
    variance = sum([part * part for part in parts])
    cross = _cross_terms(parts, correlations) if correlations else 0.0
    if variance + cross < -1e-9 * variance:
        raise BudgetProblem("These correlations contradict each other: the variance would be below zero.")
    total = max(variance + cross, 0.0)
    if not isfinite(total):
        raise BudgetProblem("A source of uncertainty is no finite number: check what was stated for it.")
    standard = sqrt(total)
    freedom = effective_degrees_of_freedom(standard, parts, [s.degrees_of_freedom for s in sources])
    dominant, others = _dominant(sources, parts) if shaped and not cross else (0.0, 0.0)
    coverage = _coverage(freedom, standard, dominant, others)
    scale = 1.0 / total if total > 0.0 else 0.0
    rows = [
        Contribution(
            source=s.source,
            value=s.value,
            distribution=s.distribution,
            sensitivity=s.sensitivity,
            contribution=abs(part),
            share=part * part * scale,
            degrees_of_freedom=s.degrees_of_freedom,
        )
        for s, part in zip(sources, parts, strict=True)
    ]
    if cross:
        rows.append(_correlation_row(cross, cross * scale))
    return Uncertainty(
        standard=standard,
        degrees_of_freedom=freedom,
        coverage=coverage,
        expanded=coverage * standard,
        budget=tuple(rows),
        dominant=dominant,
        others=others,
    )


def _dominant(sources: Sequence[Source], parts: Sequence[float]) -> tuple[float, float]:
    """Half-width of the rectangular source that outweighs the others, and their standard uncertainty; else zeros.

    Few readings count with the t factor of their spread, so that its long tails are not lost behind the rectangle.
    """
    sizes = [abs(part) for part in parts]
    largest = max(sizes, default=0.0)
    if largest == 0.0:
        return 0.0, 0.0
    location = sizes.index(largest)
    if sources[location].distribution is not Distribution.rectangular:
        return 0.0, 0.0
    rest = 0.0
    for number, (size, source) in enumerate(zip(sizes, sources, strict=True)):
        if number != location:
            few = 1.0 if source.degrees_of_freedom == inf else 0.5 * coverage_factor(source.degrees_of_freedom)
            rest += (few * size) ** 2
    others = sqrt(rest)
    return (_ROOT_THREE * largest, others) if others <= DOMINATES_SLACK * largest else (0.0, 0.0)


def _coverage(freedom: float, standard: float, dominant: float, others: float) -> float:
    if dominant:
        return reach(0.5 * (1.0 - COVERAGE_PROBABILITY), dominant, others) / standard
    return coverage_factor(freedom)


def effective_degrees_of_freedom(standard: float, parts: Sequence[float], degrees_of_freedom: Sequence[float]) -> float:
    """Welch–Satterthwaite (JCGM 100, equation G.2b); infinite where no part with finite degrees of freedom counts."""
    weighted = 0.0
    for part, nu in zip(parts, degrees_of_freedom, strict=True):
        if standard > 0.0 and not isinf(nu):
            share = (part / standard) ** 2
            weighted += share * share / nu
    return 1.0 / weighted if weighted > 0.0 else inf


def coverage_factor(degrees_of_freedom: float, probability: float = COVERAGE_PROBABILITY) -> float:
    """Student's t for this coverage probability; 2 for 95.45 % and infinite degrees of freedom (JCGM 100, G.6.4)."""
    if isinf(degrees_of_freedom) and probability == COVERAGE_PROBABILITY:
        return 2.0
    return t_quantile(0.5 * (1.0 + probability), max(degrees_of_freedom, 1.0))


def plain_uncertainty(standard: float) -> Uncertainty:
    """An uncertainty of which only the standard uncertainty is known: normal, coverage factor 2."""
    return combine([Source("stated standard uncertainty", standard, Distribution.normal)])


def stored_uncertainty(standard: float, *, dominant: float, others: float) -> Uncertainty:
    """An uncertainty of which a record keeps the standard one and its shape, infinite degrees of freedom."""
    coverage = _coverage(inf, standard, dominant, others)
    return Uncertainty(
        standard=standard, coverage=coverage, expanded=coverage * standard, dominant=dominant, others=others
    )


def _cross_terms(parts: Sequence[float], correlations: Correlations) -> float:
    for (first, second), r in correlations.items():
        if not -1.0 <= r <= 1.0 or first == second:
            raise BudgetProblem(say("{r:g} is no correlation of two sources: it lies between -1 and 1.", r=r))
    return 2.0 * sum(r * parts[first] * parts[second] for (first, second), r in correlations.items())


def _correlation_row(cross: float, share: float) -> Contribution:
    return Contribution(
        source="correlation of the sources",
        value=cross,
        distribution=Distribution.correlation,
        sensitivity=1.0,
        contribution=sqrt(abs(cross)),
        share=share,
    )
