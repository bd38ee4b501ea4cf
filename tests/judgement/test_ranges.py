"""The range that a reading was taken on, told or chosen as meters choose."""

import pytest

from benchapp.judgement import Function, RangeProblem, range_of


@pytest.mark.parametrize(
    ("value", "name"),
    [(0.0, "600 mV"), (0.6, "600 mV"), (0.601, "6 V"), (9.12, "60 V"), (-9.12, "60 V"), (1000.0, "1000 V")],
)
def test_the_smallest_range_that_shows_the_value_is_taken(meters, value, name):
    assert range_of(meters["tb-m1"], Function.dc_voltage, value).name == name


def test_a_meter_ranges_down_only_well_inside_the_smaller_range(meters):
    meter = meters["tb-m1"]
    assert range_of(meter, Function.dc_voltage, 5.7, previous="60 V").name == "60 V"
    assert range_of(meter, Function.dc_voltage, 5.3, previous="60 V").name == "6 V"
    assert range_of(meter, Function.dc_voltage, 5.7, previous="6 V").name == "6 V"
    assert range_of(meter, Function.dc_voltage, 6.1, previous="6 V").name == "60 V"


def test_a_range_that_was_told_is_believed(meters):
    assert range_of(meters["tb-m1"], Function.dc_voltage, 5.0, range_name="600 V").name == "600 V"


def test_a_value_beyond_every_range_is_a_sentence(meters):
    with pytest.raises(RangeProblem, match="ends at 1000 V"):
        range_of(meters["tb-m1"], Function.dc_voltage, 1200.0)


def test_a_value_beyond_the_range_that_was_told_is_a_sentence(meters):
    with pytest.raises(RangeProblem, match="range to 6 V"):
        range_of(meters["tb-m1"], Function.dc_voltage, 9.0, range_name="6 V")


def test_a_range_that_the_meter_lacks_is_a_sentence_with_those_it_has(meters):
    with pytest.raises(RangeProblem, match="it has 600 mV, 6 V"):
        range_of(meters["tb-m1"], Function.dc_voltage, 9.0, range_name="7 V")
