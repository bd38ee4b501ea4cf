"""The uncertainty of a value that was worked out from others: first-order propagation with correlation.

JCGM 100:2008, 5.1.2 and 5.2.2. The sensitivity of each input is found by a central difference of the formula itself
(5.1.3, note 2), so that any formula will do; where a formula bends too much for that, the Monte Carlo check says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from benchapp.judgement.statements.problems import BudgetProblem
from benchapp.judgement.uncertainty.budget import Source, combine
from benchapp.judgement.uncertainty.uncertainty import Distribution, Uncertainty

Model = Callable[[Mapping[str, Any]], Any]
"""A formula's `value`, or any function from named values to a value."""
NamedCorrelations = Mapping[tuple[str, str], float]
_RELATIVE_STEP = 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A value in SI and how well it is known."""

    value: float
    uncertainty: Uncertainty


@dataclass(frozen=True, slots=True, kw_only=True)
class Derived:
    """A value worked out from others, its uncertainty, and its change per change of each input."""

    value: float
    uncertainty: Uncertainty
    sensitivities: Mapping[str, float]


def propagate(model: Model, inputs: Mapping[str, Measured], correlations: NamedCorrelations | None = None) -> Derived:
    """The value of a formula and its uncertainty; raises BudgetProblem for correlations of unknown names."""
    values = {name: measured.value for name, measured in inputs.items()}
    sensitivities = {name: _sensitivity(model, values, name, measured) for name, measured in inputs.items()}
    sources = [
        Source(
            name,
            measured.uncertainty.standard,
            Distribution.normal,
            sensitivities[name],
            measured.uncertainty.degrees_of_freedom,
        )
        for name, measured in inputs.items()
    ]
    return Derived(
        value=float(model(values)),
        uncertainty=combine(sources, _by_place(correlations, list(inputs))),
        sensitivities=sensitivities,
    )


def propagate_safely(
    model: Model, inputs: Mapping[str, Measured], correlations: NamedCorrelations
) -> tuple[Derived, NamedCorrelations]:
    """The wider of the answers with these correlations and without any, and the correlations that it rests on.

    For values of one meter: how far its error is the same in both, nobody knows (JCGM 100, F.1.2.3).
    """
    alone = propagate(model, inputs)
    if not correlations:
        return alone, {}
    together = propagate(model, inputs, correlations)
    if together.uncertainty.standard > alone.uncertainty.standard:
        return together, correlations
    return alone, {}


def _sensitivity(model: Model, values: Mapping[str, float], name: str, measured: Measured) -> float:
    step = _RELATIVE_STEP * max(abs(measured.value), measured.uncertainty.standard)
    if step == 0.0:
        return 0.0
    above, below = measured.value + step, measured.value - step
    rise = float(model({**values, name: above})) - float(model({**values, name: below}))
    return rise / (above - below)


def _by_place(correlations: NamedCorrelations | None, names: list[str]) -> dict[tuple[int, int], float]:
    try:
        return {(names.index(a), names.index(b)): r for (a, b), r in (correlations or {}).items()}
    except ValueError:
        raise BudgetProblem("A correlation names a value that is no input of this formula.") from None
