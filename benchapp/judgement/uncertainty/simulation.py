"""The check of the linear answer: the same quantity by drawing every source from its distribution (JCGM 101:2008).

An independent cross-check, never the judgement itself. Drawn with a fixed seed, so that the note on a record comes out
the same again. numpy is loaded at the first call.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import floor, isinf, log10
from typing import TYPE_CHECKING, Any

from benchapp.judgement.statements.problems import BudgetProblem
from benchapp.judgement.uncertainty.budget import COVERAGE_PROBABILITY
from benchapp.judgement.uncertainty.propagation import Derived, Measured, Model, NamedCorrelations
from benchapp.judgement.uncertainty.uncertainty import Contribution, Distribution
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.words import say

if TYPE_CHECKING:
    from numpy import ndarray
    from numpy.random import Generator

SEED = 20080101
DRAWS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Simulated:
    """Mean, standard uncertainty and the probabilistically symmetric 95.45 % interval of the drawn values, in SI."""

    mean: float
    standard: float
    low: float
    high: float


def monte_carlo(
    model: Model,
    inputs: Mapping[str, Measured],
    correlations: NamedCorrelations | None = None,
    *,
    draws: int = DRAWS,
    probability: float = COVERAGE_PROBABILITY,
) -> Simulated:
    """Draw the inputs and work the formula on the arrays.

    Uncorrelated inputs are drawn source by source from their budgets, correlated ones as joint normal values.
    """
    import numpy as np

    random = np.random.default_rng(SEED)
    if correlations:
        drawn = _draw_correlated(random, inputs, correlations, draws)
    else:
        drawn = {name: measured.value + _draw(random, measured, draws) for name, measured in inputs.items()}
    with np.errstate(all="ignore"):
        results = np.asarray(model(drawn), dtype=np.float64)
    results = results[np.isfinite(results)]
    if results.size < draws // 2:
        raise BudgetProblem("The formula has no value for most of the values that these readings could have.")
    low, high = np.quantile(results, [(1 - probability) / 2, (1 + probability) / 2])
    return Simulated(mean=float(results.mean()), standard=float(results.std(ddof=1)), low=float(low), high=float(high))


def disagreement(derived: Derived, simulated: Simulated, kind: Kind, unit: str = "") -> str:
    """A sentence where the linear answer misses the drawn interval by more than half its last digit, else nothing.

    JCGM 101, 8.1: the standard uncertainty is taken at one significant digit; half a step of that digit is tolerated.
    """
    linear, u = derived.uncertainty, derived.uncertainty.standard
    low, high = derived.value - linear.expanded, derived.value + linear.expanded
    tolerance = 0.5 * 10 ** floor(log10(u)) if u > 0 else 0.0
    if abs(low - simulated.low) <= tolerance and abs(high - simulated.high) <= tolerance:
        return ""
    linear_span, drawn_span = (
        f"{show(a, kind, uncertainty=u, unit=unit)} to {show(b, kind, uncertainty=u, unit=unit)}"
        for a, b in ((low, high), (simulated.low, simulated.high))
    )
    return say(
        "The linear answer ({linear_span}) and the Monte Carlo check ({drawn_span}) disagree: "
        "this formula bends, or one source outweighs the rest. Judge by the wider of the two.",
        linear_span=linear_span,
        drawn_span=drawn_span,
    )


def _draw(random: Generator, measured: Measured, draws: int) -> Any:  # noqa: ANN401 (an array)
    rows = measured.uncertainty.budget
    if any(row.distribution is Distribution.correlation for row in rows) or not rows:
        return random.normal(0.0, measured.uncertainty.standard, draws)
    return sum(row.sensitivity * _draw_row(random, row, draws) for row in rows)


def _draw_row(random: Generator, row: Contribution, draws: int) -> Any:  # noqa: ANN401 (an array)
    a = row.value
    match row.distribution:
        case Distribution.rectangular:
            return random.uniform(-a, a, draws)
        case Distribution.triangular:
            return 0.5 * (random.uniform(-a, a, draws) + random.uniform(-a, a, draws))
        case Distribution.u_shaped:
            import numpy as np

            return a * np.sin(random.uniform(0.0, 2.0 * np.pi, draws))
        case Distribution.student if not isinf(row.degrees_of_freedom):
            return a * random.standard_t(row.degrees_of_freedom, draws)
        case _:
            return random.normal(0.0, a, draws)


def _draw_correlated(
    random: Generator, inputs: Mapping[str, Measured], correlations: NamedCorrelations, draws: int
) -> dict[str, ndarray[Any, Any]]:
    import numpy as np

    names = list(inputs)
    matrix = np.eye(len(names))
    for (one, other), r in correlations.items():
        a, b = names.index(one), names.index(other)
        matrix[a, b] = matrix[b, a] = r
    sizes = np.array([inputs[name].uncertainty.standard for name in names])
    means = np.array([inputs[name].value for name in names])
    values = random.multivariate_normal(means, matrix * np.outer(sizes, sizes), draws, check_valid="ignore")
    return {name: values[:, location] for location, name in enumerate(names)}
