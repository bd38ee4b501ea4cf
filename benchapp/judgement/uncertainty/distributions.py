"""The normal and Student's t distributions, without a numerical library: the probability below a point.

Normal: by the error function. t: by the regularised incomplete beta function as a continued fraction (Abramowitz and
Stegun 26.7.1 and 26.5.8, evaluated by Lentz's method), for any degrees of freedom, whole or not.
"""

from functools import lru_cache
from math import erfc, exp, isinf, lgamma, log, log1p, pi, sqrt

_SQRT_HALF = sqrt(0.5)
_PRACTICALLY_NORMAL = 1e6
_TINY = 1e-300


def normal_cdf(z: float) -> float:
    """Probability that a standard normal variable is at most `z`."""
    return 0.5 * erfc(-z * _SQRT_HALF)


def t_cdf(t: float, degrees_of_freedom: float) -> float:
    """Probability that Student's t is at most `t`; normal for infinite degrees of freedom."""
    nu = degrees_of_freedom
    if isinf(nu) or isinf(t):
        return normal_cdf(t)
    if nu > _PRACTICALLY_NORMAL:  # Abramowitz and Stegun 26.7.8
        return normal_cdf(t * (1 - 0.25 / nu) / sqrt(1 + 0.5 * t * t / nu))
    squared = t * t
    tail = 0.5 * _incomplete_beta(0.5 * nu, 0.5, nu / (nu + squared), squared / (nu + squared))
    return tail if t < 0 else 1.0 - tail


@lru_cache(maxsize=1024)
def t_quantile(probability: float, degrees_of_freedom: float) -> float:
    """The point below which Student's t lies with this probability (0 < probability < 1)."""
    if probability < 0.5:
        return -t_quantile(1.0 - probability, degrees_of_freedom)
    low, high = 0.0, 2.0
    while t_cdf(high, degrees_of_freedom) < probability:
        low, high = high, 2.0 * high
    while high - low > 1e-14 * high:
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if t_cdf(middle, degrees_of_freedom) < probability:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _incomplete_beta(a: float, b: float, x: float, complement: float) -> float:
    """Regularised I_x(a, b) for b = 1/2; `complement` is 1 − x, given apart to keep its digits."""
    if x <= 0.0:
        return 0.0
    if complement <= 0.0:
        return 1.0
    front = exp(_log_gamma_step(a) - 0.5 * log(pi) + a * _log_one_minus(complement, x) + b * log(complement))
    if x < (a + 1) / (a + b + 2):
        return front * _beta_fraction(a, b, x) / a
    return 1.0 - front * _beta_fraction(b, a, complement) / b


def _log_gamma_step(a: float) -> float:
    """ln Γ(a + 1/2) − ln Γ(a); by its asymptotic series where the difference would lose digits."""
    if a < 30:
        return lgamma(a + 0.5) - lgamma(a)
    return 0.5 * log(a) - 1 / (8 * a) + 1 / (192 * a**3) - 1 / (640 * a**5)


def _log_one_minus(complement: float, x: float) -> float:
    return log1p(-complement) if complement < 0.5 else log(x)


def _beta_fraction(a: float, b: float, x: float) -> float:
    c, d = 1.0, 1.0 / _away_from_zero(1.0 - (a + b) * x / (a + 1))
    value = d
    for m in range(1, 10_000):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        d = 1.0 / _away_from_zero(1.0 + even * d)
        c = _away_from_zero(1.0 + even / c)
        value *= d * c
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        d = 1.0 / _away_from_zero(1.0 + odd * d)
        c = _away_from_zero(1.0 + odd / c)
        change = d * c
        value *= change
        if abs(change - 1.0) < 1e-16:
            break
    return value


def _away_from_zero(x: float) -> float:
    return x if abs(x) > _TINY else _TINY
