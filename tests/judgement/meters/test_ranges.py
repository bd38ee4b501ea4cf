"""The range that a reading was taken on, told or chosen as meters choose."""

import pytest

from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.ranges import over_range, range_of, ranges_in_touch
from benchapp.judgement.statements.problems import RangeProblem


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


def test_from_far_above_it_comes_down_to_where_the_reading_is_well_inside(meters):
    meter = meters["tb-m1"]
    assert range_of(meter, Function.dc_voltage, 5.7, previous="600 V").name == "60 V"
    assert range_of(meter, Function.dc_voltage, 5.3, previous="600 V").name == "6 V"
    assert range_of(meter, Function.dc_voltage, 5.7, previous="600 mV").name == "6 V"
    assert range_of(meter, Function.dc_voltage, 5.7, previous="no such range").name == "6 V"


def test_in_touch_each_reading_starts_from_the_range_of_the_one_before(meters):
    shown = ranges_in_touch(meters["tb-m1"], Function.dc_voltage, [5.7, 6.1, 5.7, 5.3, None, 5.7])
    assert [one.name for one in shown] == ["6 V", "60 V", "60 V", "6 V", "1000 V", "60 V"]


class TestTheLastDigitTells:
    """Common practice, no source: a meter shows counts of the range that it is on, and no others."""

    @pytest.mark.parametrize(
        ("step", "name"),
        [(1e-4, "600 mV"), (1e-3, "6 V"), (0.01, "60 V"), (0.1, "600 V"), (1.0, "1000 V"), (10.0, "600 mV")],
    )
    def test_where_a_zero_was_read(self, meters, step, name):
        assert range_of(meters["tb-m1"], Function.dc_voltage, 0.0, step=step).name == name

    def test_where_a_reading_near_the_top_of_a_range_was_read(self, meters):
        meter = meters["tb-m1"]
        assert range_of(meter, Function.dc_voltage, 5.7, step=0.01).name == "60 V"
        assert range_of(meter, Function.dc_voltage, 5.7, step=0.001).name == "6 V"
        assert range_of(meter, Function.dc_voltage, 5.7, step=0.001, previous="60 V").name == "6 V"

    @pytest.mark.parametrize(("value", "step"), [(10.4, 0.1), (9.0, 1.0), (5.3, 0.01), (-10.4, 0.1)])
    def test_nothing_of_a_reading_that_one_range_alone_shows_though_digits_were_dropped(self, meters, value, step):
        meter = meters["tb-m1"]
        assert range_of(meter, Function.dc_voltage, value, step=step) is range_of(meter, Function.dc_voltage, value)

    def test_nothing_against_the_range_that_was_named(self, meters):
        assert range_of(meters["tb-m1"], Function.dc_voltage, 0.0, step=0.1, range_name="6 V").name == "6 V"

    def test_nothing_where_no_range_has_such_a_count_or_only_a_smaller_one(self, meters):
        assert range_of(meters["tb-m1"], Function.dc_voltage, 5.7, step=1e-4).name == "6 V"
        assert range_of(meters["tb-m1"], Function.dc_voltage, 0.0, step=0.05).name == "600 mV"

    def test_of_each_reading_taken_in_touch(self, meters):
        shown = ranges_in_touch(meters["tb-m1"], Function.dc_voltage, [240.0, 0.0], steps=[0.1, 0.1])
        assert [one.name for one in shown] == ["600 V", "600 V"]


def test_over_range_is_shown_on_the_range_that_was_told(meters):
    shown = ranges_in_touch(meters["tb-m1"], Function.dc_voltage, [None, 5.0], range_name="6 V")
    assert [one.name for one in shown] == ["6 V", "6 V"]
    assert over_range(meters["tb-m1"], Function.dc_voltage).name == "1000 V"


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
