"""Combination of sources, held against GTC and the uncertainties library on thousands of random budgets."""

import math

import GTC
import numpy as np
import pytest
from uncertainties import correlated_values

from benchapp.judgement.statements.problems import BudgetProblem
from benchapp.judgement.uncertainty.budget import (
    DOMINATES,
    Source,
    combine,
    coverage_factor,
    plain_uncertainty,
    repeated_source,
    standard_deviation,
)
from benchapp.judgement.uncertainty.uncertainty import Distribution

DIVISORS = {
    Distribution.rectangular: math.sqrt(3),
    Distribution.triangular: math.sqrt(6),
    Distribution.u_shaped: math.sqrt(2),
    Distribution.normal: 1.0,
    Distribution.student: 1.0,
}


def random_sources(rng) -> list[Source]:
    kinds = list(DIVISORS)
    return [
        Source(
            f"source {number}",
            10 ** rng.uniform(-4, 2),
            kinds[rng.integers(len(kinds))],
            rng.uniform(-3, 3),
            float(rng.integers(1, 40)) if rng.random() < 0.5 else math.inf,
        )
        for number in range(rng.integers(1, 9))
    ]


def test_three_thousand_random_budgets_agree_with_gtc():
    rng = np.random.default_rng(1)
    for _ in range(3000):
        sources = random_sources(rng)
        terms = [
            source.sensitivity
            * GTC.ureal(0.0, source.value / DIVISORS[source.distribution], df=source.degrees_of_freedom)
            for source in sources
        ]
        expected = sum(terms[1:], terms[0])
        found, shaped = combine(sources, shaped=False), combine(sources)
        assert found.standard == pytest.approx(expected.u, rel=1e-12)
        assert (shaped.standard, shaped.degrees_of_freedom) == (found.standard, found.degrees_of_freedom)
        if math.isinf(expected.df):
            assert found.degrees_of_freedom > 1e5
        else:
            assert found.degrees_of_freedom == pytest.approx(expected.df, rel=1e-9)
            if expected.df >= 1:
                assert found.coverage == pytest.approx(
                    GTC.reporting.k_factor(expected.df, p=95.45), rel=1e-3
                )  # GTC interpolates its own table; it agrees to its digits


def test_three_thousand_correlated_budgets_agree_with_the_uncertainties_library():
    rng = np.random.default_rng(2)
    for _ in range(3000):
        count = int(rng.integers(2, 6))
        sizes = 10 ** rng.uniform(-3, 1, count)
        factors = rng.normal(size=(count, count + 2))
        covariance = factors @ factors.T
        spread = np.sqrt(np.diag(covariance))
        correlation = covariance / np.outer(spread, spread)
        slopes = rng.uniform(-3, 3, count)
        values = correlated_values([0.0] * count, correlation * np.outer(sizes, sizes))
        expected = sum(slope * value for slope, value in zip(slopes, values, strict=True))
        found = combine(
            [Source(f"source {n}", float(sizes[n]), Distribution.normal, float(slopes[n])) for n in range(count)],
            {(a, b): float(correlation[a, b]) for a in range(count) for b in range(a + 1, count)},
        )
        assert found.standard == pytest.approx(expected.std_dev, rel=1e-9)
        assert sum(row.share for row in found.budget) == pytest.approx(1.0)


def test_one_normal_source_has_coverage_factor_two():
    found = plain_uncertainty(0.02)
    assert (found.standard, found.coverage, found.expanded) == (0.02, 2.0, 0.04)
    assert found.budget[0].share == 1.0


def test_no_uncertainty_at_all_is_a_budget_too():
    found = combine([Source("nothing", 0.0)])
    assert (found.standard, found.expanded, found.budget[0].share) == (0.0, 0.0, 0.0)
    assert math.isinf(found.degrees_of_freedom)


def test_one_reading_gives_no_spread():
    with pytest.raises(BudgetProblem, match="at least two"):
        repeated_source("spread", [1.0])


def test_equal_repeats_have_no_spread():
    assert repeated_source("spread", [1.1, 1.1, 1.1]).value == 0.0
    assert standard_deviation([1e9 + 1, 1e9 + 3]) == pytest.approx(math.sqrt(2))


@pytest.mark.parametrize("correlations", [{(0, 1): 1.5}, {(0, 0): 0.5}, {(0, 1): math.nan}])
def test_an_impossible_correlation_is_refused(correlations):
    with pytest.raises(BudgetProblem):
        combine([Source("a", 1.0), Source("b", 1.0)], correlations)


def test_correlations_that_contradict_each_other_are_refused():
    sources = [Source(name, 1.0, Distribution.normal) for name in "abc"]
    with pytest.raises(BudgetProblem, match="contradict"):
        combine(sources, {(0, 1): -1.0, (1, 2): -1.0, (0, 2): -1.0})


def test_full_negative_correlation_cancels():
    found = combine([Source("a", 1.0), Source("b", 1.0)], {(0, 1): -1.0})
    assert found.standard == 0.0


@pytest.mark.parametrize("size", [math.nan, math.inf, 1e200])
def test_a_source_that_is_no_number_or_beyond_all_measure_is_refused(size):
    with pytest.raises(BudgetProblem, match="no finite number"):
        plain_uncertainty(size)


def test_few_degrees_of_freedom_widen_the_coverage():
    assert coverage_factor(math.inf) == 2.0
    assert coverage_factor(2.0) == pytest.approx(4.5266, abs=1e-4)
    assert coverage_factor(0.5) == coverage_factor(1.0)


class TestOneSourceThatOutweighsTheOthers:
    def test_alone_it_has_the_coverage_factor_of_a_rectangle(self):
        found = combine([Source("step", 1.0)])
        assert found.dominant == pytest.approx(1.0)
        assert found.others == 0.0
        assert found.coverage == pytest.approx(0.9545 * math.sqrt(3), rel=1e-12)

    def test_counts_up_to_a_share_of_three_tenths(self):
        edge = combine([Source("step", 1.0), Source("rest", DOMINATES)])
        beyond = combine([Source("step", 1.0), Source("rest", DOMINATES * 1.001)])
        assert edge.dominant == pytest.approx(1.0)
        assert edge.coverage == pytest.approx(1.748283, abs=1e-6), "1.65 only for the rectangle alone"
        assert beyond.dominant == 0.0
        assert beyond.coverage == 2.0

    def test_its_sensitivity_counts(self):
        found = combine([Source("step", 0.5, sensitivity=-4.0), Source("rest", 0.1)])
        assert found.dominant == pytest.approx(2.0)
        assert found.others == pytest.approx(0.1 / math.sqrt(3))

    def test_a_normal_one_or_a_correlation_changes_nothing(self):
        assert combine([Source("spread", 1.0, Distribution.normal), Source("rest", 0.1)]).coverage == 2.0
        assert combine([Source("a", 1.0), Source("b", 0.1)], {(0, 1): 0.5}).coverage == 2.0

    def test_few_readings_count_with_their_t_factor(self):
        """Two readings have 14 times their spread as half of an interval: a spread of a tenth is not outweighed."""
        two = combine([Source("step", 1.0), Source("spread", 0.06, Distribution.student, 1.0, 1.0)])
        many = combine([Source("step", 1.0), Source("spread", 0.06, Distribution.student, 1.0, 60.0)])
        assert (two.dominant, many.dominant) == (0.0, pytest.approx(1.0))
        assert two.coverage > 2.0 > many.coverage
        assert many.others == pytest.approx(0.5 * coverage_factor(60.0) * 0.06)

    def test_by_the_first_rules_every_result_is_normal(self):
        assert combine([Source("step", 1.0)], shaped=False).coverage == 2.0
        assert combine([Source("step", 1.0)], shaped=False).dominant == 0.0
