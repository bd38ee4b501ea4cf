"""First-pass yield of a lot, with its confidence interval.

Interval for a proportion without continuity correction: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209–212, as
compared by R. G. Newcombe, Statistics in Medicine 17 (1998) 857–872, method 3.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstPass:
    """Units that passed at the first go, of those judged, with the interval that the true share lies in."""

    passed: int
    judged: int
    lower: float
    upper: float

    @property
    def share(self) -> float | None:
        """The share that passed; None while nothing was judged."""
        return self.passed / self.judged if self.judged else None


def first_pass_yield(first_goes: Iterable[bool], *, confidence: float = 0.95) -> FirstPass:
    """The yield of units whose first answers all passed (True) or did not."""
    outcomes = list(first_goes)
    passed = sum(outcomes)
    lower, upper = wilson_interval(passed, len(outcomes), confidence=confidence)
    return FirstPass(passed=passed, judged=len(outcomes), lower=lower, upper=upper)


def wilson_interval(successes: int, trials: int, *, confidence: float = 0.95) -> tuple[float, float]:
    """Two-sided score interval for a proportion; from 0 to 1 where nothing was tried."""
    if trials == 0:
        return 0.0, 1.0
    z = NormalDist().inv_cdf(0.5 + confidence / 2)
    share = successes / trials
    middle = share + z * z / (2 * trials)
    half = z * sqrt(share * (1 - share) / trials + z * z / (4 * trials * trials))
    whole = 1 + z * z / trials
    lower = 0.0 if successes == 0 else (middle - half) / whole
    upper = 1.0 if successes == trials else (middle + half) / whole
    return lower, upper
