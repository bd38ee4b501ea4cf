"""The distribution of a value whose uncertainty is one rectangle, blurred by all else as a normal distribution.

A meter's accuracy statement most often outweighs every other source of a reading, and the reading is then spread like
a rectangle with soft edges, not like a bell: its interval of 95 % reaches 1.65 standard uncertainties out, not 2 (JCGM
100:2008, 6.3.2 and G.6.5; EA-4/02, S9.14; clauses from memory). The distribution here is the convolution of the two,
exact for a rectangle and a normal rest. With the unit normal loss L(z) = φ(z) − z Φ(−z), the mean excess over z, the
probability above x ≥ 0 is (s / 2a) (L((x − a) / s) − L((x + a) / s)) for half-width a and rest s.
"""

from math import erfc, exp, pi, sqrt

_SQRT_HALF = sqrt(0.5)
PEAK = 1.0 / sqrt(2.0 * pi)
FAR = 9.0
"""Standard deviations of the rest beyond which an edge of the rectangle is sharp: the loss there is below 1e-20."""
STEPS = 8
"""Newton's method has converged to the last digit after seven steps on the whole span that is asked for."""


def probability_below(x: float, half_width: float, rest: float) -> float:
    """Probability that the value lies below its estimate + `x`; all three in one unit, half-width above zero."""
    tail = _tail(abs(x), half_width, rest)
    return tail if x <= 0.0 else 1.0 - tail


def reach(tail: float, half_width: float, rest: float) -> float:
    """How far out the point lies beyond which the value is with probability `tail`.

    For a rest of at most 0.3 of the rectangle's standard uncertainty and a tail of at least 0.1 %: its far edge is
    then more than ten of the rest's away, and counts for nothing in a double.
    """
    if rest * FAR <= tail * half_width:
        return half_width * (1.0 - 2.0 * tail)
    wanted = 2.0 * half_width * tail / rest
    z = -wanted
    for _ in range(STEPS):  # the loss falls and is convex: from the left every step stays on the left
        step = (_loss(z) - wanted) / _above(z)
        z += step
        if abs(step) < 1e-15 * (1.0 + abs(z)):
            break
    return half_width + rest * z


def _tail(x: float, half_width: float, rest: float) -> float:
    if rest * FAR <= abs(x - half_width):
        return max(0.5 * (half_width - x) / half_width, 0.0)
    scale = 0.5 * rest / half_width
    return max(scale * (_loss((x - half_width) / rest) - _loss((x + half_width) / rest)), 0.0)


def _loss(z: float) -> float:
    return PEAK * exp(-0.5 * z * z) - z * _above(z)


def _above(z: float) -> float:
    return 0.5 * erfc(z * _SQRT_HALF)
