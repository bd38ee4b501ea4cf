"""First-pass yield with its interval."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.lots.first_pass import first_pass_yield, wilson_interval


def test_yield_of_a_lot():
    found = first_pass_yield([True] * 9 + [False] * 3)
    assert (found.passed, found.judged, found.share) == (9, 12, 0.75)
    assert found.lower < 0.75 < found.upper


def test_nothing_judged_says_nothing():
    found = first_pass_yield([])
    assert found.share is None
    assert (found.lower, found.upper) == (0.0, 1.0)


@given(st.integers(1, 500).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_interval_holds_the_share_and_mirrors(case):
    passed, judged = case
    lower, upper = wilson_interval(passed, judged)
    assert 0.0 <= lower <= passed / judged <= upper <= 1.0
    mirrored = wilson_interval(judged - passed, judged)
    assert mirrored == pytest.approx((1 - upper, 1 - lower), abs=1e-12)
