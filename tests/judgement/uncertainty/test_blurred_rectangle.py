"""A rectangle blurred by a normal distribution: held against scipy's integrals, its own limits and random draws."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.stats import norm

from benchapp.judgement.uncertainty.blurred_rectangle import probability_below, reach
from benchapp.judgement.uncertainty.budget import Source, combine
from benchapp.judgement.uncertainty.uncertainty import Distribution

shares = st.floats(1e-3, 0.3 / sqrt(3))
"""The rest as a share of the half-width, up to where a rectangle outweighs it."""


def by_integral(x: float, half_width: float, rest: float) -> float:
    """The convolution as it is written: the mean of the normal over the rectangle."""
    edges = [point for point in (x - 8 * rest, x, x + 8 * rest) if -half_width < point < half_width]
    found, _ = quad(
        lambda t: norm.cdf((x - t) / rest), -half_width, half_width, points=edges or None, epsabs=1e-13, limit=200
    )
    return found / (2 * half_width)


@pytest.mark.parametrize("share", [0.003, 0.05, 0.1732, 0.6, 3.0])
@pytest.mark.parametrize("x", [-2.0, -1.0, -0.97, -0.4, 0.0, 0.3, 1.0, 1.1, 4.0])
def test_agrees_with_the_convolution_integrated_by_scipy(share, x):
    assert probability_below(x, 1.0, share) == pytest.approx(by_integral(x, 1.0, share), abs=2e-12)


def test_two_hundred_random_budgets_reach_as_far_as_scipy_finds():
    random = np.random.default_rng(11)
    for _ in range(200):
        half_width = 10 ** random.uniform(-6, 6)
        rests = half_width / sqrt(3) * random.uniform(0, 0.2, random.integers(1, 3))
        known = combine(
            [Source("accuracy", half_width), *(Source("rest", u, Distribution.normal) for u in rests.tolist())]
        )
        share = known.others / known.dominant
        expected = brentq(lambda x, share=share: by_integral(x, 1.0, share) - 0.97725, 0.9, 1.2, xtol=1e-12)
        assert known.expanded == pytest.approx(expected * half_width, rel=1e-9)


def test_without_a_rest_it_is_the_rectangle():
    assert [probability_below(x, 2.0, 0.0) for x in (-3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0)] == [
        0.0,
        0.0,
        0.25,
        0.5,
        0.75,
        1.0,
        1.0,
    ]
    assert reach(0.02275, 2.0, 0.0) == pytest.approx(2.0 * 0.9545)


def test_with_a_large_rest_it_is_normal():
    assert probability_below(3.0, 1e-3, 2.0) == pytest.approx(norm.cdf(1.5), rel=1e-6)


def test_agrees_with_random_draws():
    random = np.random.default_rng(5)
    drawn = random.uniform(-1, 1, 1_000_000) + random.normal(0, 0.15, 1_000_000)
    for x in (-1.1, -0.9, 0.2, 1.0):
        assert probability_below(x, 1.0, 0.15) == pytest.approx(float((drawn < x).mean()), abs=2e-3)


@given(x=st.floats(-5, 5), share=st.floats(1e-4, 5))
def test_both_sides_mirror_each_other_and_lie_between_nothing_and_certainty(x, share):
    below, above = probability_below(x, 1.0, share), probability_below(-x, 1.0, share)
    assert 0.0 <= below <= 1.0
    assert below + above == pytest.approx(1.0, abs=1e-12)


@given(x=st.floats(-5, 5), more=st.floats(0, 5), share=st.floats(1e-4, 5))
def test_it_never_falls(x, more, share):
    assert probability_below(x + more, 1.0, share) >= probability_below(x, 1.0, share) - 1e-15


@given(share=shares, tail=st.floats(0.001, 0.2), scale=st.floats(1e-9, 1e9))
def test_reach_undoes_the_probability_at_any_size(share, tail, scale):
    x = reach(tail, scale, share * scale)
    assert 1.0 - probability_below(x, scale, share * scale) == pytest.approx(tail, rel=1e-9)


def test_far_out_nothing_is_left_but_a_probability_keeps_its_digits():
    assert probability_below(-1.0 - 7 * 0.1, 1.0, 0.1) == pytest.approx(by_tail(7.0, 0.1), rel=1e-6)
    assert probability_below(-100.0, 1.0, 0.1) == 0.0
    assert probability_below(float("-inf"), 1.0, 0.1) == 0.0
    assert probability_below(float("inf"), 1.0, 0.1) == 1.0


def by_tail(z: float, rest: float) -> float:
    found, _ = quad(norm.sf, z, z + 20, epsabs=0, epsrel=1e-10)
    return 0.5 * rest * found
