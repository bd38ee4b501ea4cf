"""Specific risks of a decision, two-sided and one-sided, by each shape that an uncertainty can have."""

import math

import numpy as np
import pytest
from scipy import stats as scipy_stats

from benchapp.judgement.decision.decision import decide
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Judgement
from benchapp.judgement.uncertainty.budget import Source, combine, coverage_factor
from benchapp.judgement.uncertainty.uncertainty import Uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound


def volts(lower, upper) -> Band:
    return Band(kind=Kind.voltage, unit="V", lower=lower, upper=upper)


class TestSpecificRisks:
    """JCGM 106, 9.3.2 and 9.3.3 (numbers of clauses from memory), against scipy's distributions."""

    @pytest.mark.parametrize(("lower", "upper"), [(8.1, 9.9), (None, 9.9), (8.1, None)])
    @pytest.mark.parametrize("nu", [math.inf, 3.0, 12.5])
    def test_of_accepting_and_of_rejecting_by_normal_and_t(self, lower, upper, nu):
        u = 0.03
        k = coverage_factor(nu)
        known = Uncertainty(standard=u, degrees_of_freedom=nu, coverage=k, expanded=k * u)
        shape = scipy_stats.norm if math.isinf(nu) else scipy_stats.t(nu)
        for value in (8.05, 8.12, 9.0, 9.88, 9.93):
            found = decide(value=value, bound=Bound.exact, band=volts(lower, upper), uncertainty=known)
            above = 0.0 if upper is None else shape.sf((upper - value) / u)
            below = 0.0 if lower is None else shape.cdf((lower - value) / u)
            assert found.false_accept_risk == pytest.approx(above + below, rel=1e-9, abs=1e-15)
            assert found.false_reject_risk == pytest.approx(1 - above - below, rel=1e-9, abs=1e-15)

    @pytest.mark.parametrize(("lower", "upper"), [(8.1, 9.9), (None, 9.9), (8.1, None), (9.86, 9.9)])
    def test_of_a_reading_that_one_rectangular_source_outweighs(self, lower, upper):
        known = combine([Source("accuracy", 0.06), Source("resolution", 0.005)])
        random = np.random.default_rng(7)
        errors = random.uniform(-0.06, 0.06, 400_000) + random.uniform(-0.005, 0.005, 400_000)
        for value in (8.1, 9.88, 9.93):
            found = decide(value=value, bound=Bound.exact, band=volts(lower, upper), uncertainty=known)
            true = value + errors
            inside = (true >= (-math.inf if lower is None else lower)) & (
                true <= (math.inf if upper is None else upper)
            )
            assert found.conformance_probability == pytest.approx(float(inside.mean()), abs=4e-3)

    def test_at_the_acceptance_limit_the_risk_is_that_of_the_table_whatever_the_shape(self):
        """ILAC-G8, table of 5.2: w = U leaves at most 2.5 % (exactly half of what the interval leaves out)."""
        known = combine([Source("accuracy", 0.06), Source("resolution", 0.005)])
        found = decide(value=9.9 - known.expanded, bound=Bound.exact, band=volts(None, 9.9), uncertainty=known)
        assert found.judgement is Judgement.passed
        assert found.false_accept_risk == pytest.approx(0.02275, rel=1e-9)
