"""How well a value is known: standard uncertainty, its degrees of freedom, the expanded uncertainty and its budget."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import inf


class Distribution(StrEnum):
    """How the values of one source are spread (JCGM 100:2008, 4.3 and 4.2)."""

    rectangular = "rectangular"
    triangular = "triangular"
    u_shaped = "U-shaped"
    normal = "normal"
    student = "t"
    correlation = "correlation"


@dataclass(frozen=True, slots=True, kw_only=True)
class Contribution:
    """One row of an uncertainty budget.

    `value` is the half-width of a rectangular, triangular or U-shaped source and the standard uncertainty of a normal
    or t one, in the source's own SI unit. `contribution` is sensitivity × standard uncertainty in the unit of the
    result, `share` its part of the variance (a correlation row carries the cross terms, so that the shares add to 1).
    """

    source: str
    value: float
    distribution: Distribution
    sensitivity: float
    contribution: float
    share: float
    degrees_of_freedom: float = inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """Standard and expanded uncertainty in SI units; `expanded` is `coverage` × `standard`.

    `dominant` is the half-width of the rectangular source that outweighs all others, 0 where none does: the value is
    then spread like that rectangle, blurred by `others`, the standard uncertainty of the rest (a spread of few readings
    counts in it with its t factor). Without one the value is normal, or t where degrees of freedom are finite.
    """

    standard: float
    degrees_of_freedom: float = inf
    coverage: float = 2.0
    expanded: float
    budget: tuple[Contribution, ...] = ()
    dominant: float = 0.0
    others: float = 0.0
