"""A reading inside tolerance and still unlike the rest of the lot."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.lots.siblings import compare_siblings, ratios_to_mains, robust_scores


def test_unit_unlike_its_siblings_is_worth_a_look():
    readings = {"TB-001": 485.0, "TB-002": 488.0, "TB-003": 483.0, "TB-004": 486.0, "TB-005": 455.0, "TB-006": 484.0}
    found = {one.mark for one in compare_siblings(readings) if one.worth_a_look}
    assert found == {"TB-005"}


def test_few_units_have_no_usual():
    assert all(one.score is None and not one.worth_a_look for one in compare_siblings({"a": 1.0, "b": 9.0}))


def test_one_digit_of_difference_among_equal_readings_is_no_outlier():
    readings = dict(zip("abcdef", [0.05, 0.05, 0.05, 0.05, 0.05, 0.06], strict=True))
    assert not any(one.worth_a_look for one in compare_siblings(readings, step=0.01))
    assert compare_siblings(readings)[0].score is None


@given(st.lists(st.floats(-1e6, 1e6), min_size=5, max_size=30), st.floats(-1e3, 1e3), st.floats(0.01, 100))
def test_scores_do_not_depend_on_offset_and_unit(values, offset, scale):
    plain = robust_scores(values, step=1e-3)
    moved = robust_scores([scale * (value + offset) for value in values], step=1e-3 * scale)
    assert moved == pytest.approx(plain, rel=1e-3, abs=1e-3)


def test_ratio_to_mains_is_formed_where_both_are_known():
    assert ratios_to_mains({"a": 10.0, "b": 9.0, "c": 8.0}, {"a": 240.0, "b": 0.0}) == {"a": 10.0 / 240.0}
