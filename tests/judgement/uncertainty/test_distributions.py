"""Normal and Student's t against scipy, an independent implementation."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from benchapp.judgement.uncertainty.distributions import normal_cdf, t_cdf, t_quantile

freedom = st.floats(0.0, 7.0).map(lambda exponent: 10.0**exponent)


@given(z=st.floats(-40, 40))
def test_normal_distribution_agrees_with_scipy(z):
    assert normal_cdf(z) == pytest.approx(stats.norm.cdf(z), rel=1e-12, abs=1e-300)


@given(t=st.floats(-60, 60), nu=freedom)
def test_t_distribution_agrees_with_scipy(t, nu):
    assert t_cdf(t, nu) == pytest.approx(stats.t.cdf(t, nu), rel=1e-8, abs=1e-12)


@given(p=st.floats(0.001, 0.999), nu=freedom)
def test_t_quantile_undoes_the_distribution_and_agrees_with_scipy(p, nu):
    found = t_quantile(p, nu)
    assert found == pytest.approx(stats.t.ppf(p, nu), rel=1e-8, abs=1e-9)
    assert t_cdf(found, nu) == pytest.approx(p, abs=1e-10)


def test_infinite_degrees_of_freedom_are_normal():
    assert t_cdf(1.4, math.inf) == normal_cdf(1.4)
    assert t_quantile(0.975, math.inf) == pytest.approx(stats.norm.ppf(0.975), rel=1e-12)


def test_far_tails_are_certain():
    assert t_cdf(math.inf, 3.0) == 1.0
    assert t_cdf(-math.inf, 3.0) == 0.0
    assert t_cdf(0.0, 3.0) == 0.5
