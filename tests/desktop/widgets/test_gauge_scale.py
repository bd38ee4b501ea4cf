"""Where values stand on the gauge."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.desktop.widgets.gauge_scale import scale_for, zones

NUMBERS = st.floats(min_value=1e-3, max_value=1e7)


def test_a_band_without_limits_has_no_scale():
    assert scale_for(None, None) is None


def test_both_limits_and_room_beside_them_are_on_the_scale():
    scale = scale_for(9.0, 11.0)
    assert 0 < scale.position(9.0) < scale.position(10.0) < scale.position(11.0) < 1
    assert scale.position(10.0) == pytest.approx(0.5)


def test_an_upper_limit_stands_in_the_middle_of_a_scale_from_nought():
    scale = scale_for(None, 0.15)
    assert scale.left == 0
    assert scale.position(0.15) == pytest.approx(0.5)


def test_a_lower_limit_gets_a_scale_of_decades():
    scale = scale_for(1e6, None)
    assert scale.logarithmic
    assert scale.position(1e6) < scale.position(1e7) < scale.position(1e8) < 1
    assert scale.position(2e9) == 1.0
    assert scale.beyond(2e9) == 1


@given(NUMBERS, NUMBERS, NUMBERS)
def test_a_larger_value_never_stands_further_left(one, other, value):
    lower, upper = sorted((one, other))
    scale = scale_for(lower, upper)
    assert scale.position(value) <= scale.position(value * 1.5)


@given(NUMBERS, NUMBERS, st.floats(min_value=0, max_value=1))
def test_zones_cover_the_gauge_without_gap_or_overlap(one, other, share):
    lower, upper = sorted((one, other))
    scale = scale_for(lower, upper)
    found = zones(scale, lower, upper, share * (upper - lower))
    assert found[0].start == 0.0
    assert found[-1].end == 1.0
    assert all(left.end == right.start for left, right in pairwise(found))
    assert all(scale.position(lower) <= zone.start for zone in found if zone.meaning == "pass")
    assert all(zone.end <= scale.position(upper) for zone in found if zone.meaning == "pass")


def test_the_guard_zone_lies_on_either_side_of_each_limit():
    scale = scale_for(9.0, 11.0)
    found = zones(scale, 9.0, 11.0, 0.2)
    assert [zone.meaning for zone in found] == ["fail", "guard", "pass", "guard", "fail"]
    assert found[2].start == pytest.approx(scale.position(9.2))
    assert found[2].end == pytest.approx(scale.position(10.8))


def test_a_simple_band_has_no_guard_zone():
    assert [zone.meaning for zone in zones(scale_for(None, 0.15), None, 0.15)] == ["pass", "fail"]
