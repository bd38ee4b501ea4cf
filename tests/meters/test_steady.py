"""Catching a steady reading."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.judgement.meters.functions import Function
from benchapp.meters.answers import read_answer
from benchapp.meters.steady import Steadiness, captures

RULE = Steadiness(count=3, share=0.002, digits=3, least=0.2)


def volts(*values):
    return [read_answer(str(value), Function.ac_voltage) for value in values]


def caught(*values, rule=RULE):
    return [str(capture.reading.quantity.value) for capture in captures(volts(*values), rule)]


def test_a_meter_that_settles_is_caught_at_its_middle_reading():
    assert caught("0.00", "5.10", "9.80", "10.41", "10.40", "10.42") == ["10.41"]


def test_a_meter_that_wanders_is_not_caught():
    assert caught("10.0", "10.9", "11.8", "12.7", "13.6") == []


def test_over_range_is_never_caught_by_itself():
    assert caught(*["9.9E37"] * 20) == []


def test_an_over_range_in_between_starts_anew():
    assert caught("10.41", "10.41", "9.9E37", "10.41", "10.41") == []


def test_lifted_leads_on_a_voltage_are_never_caught():
    assert caught(*["0.01"] * 20) == []


def test_a_reading_is_caught_once_while_the_probes_stay():
    assert caught(*["10.41"] * 20) == ["10.41"]


def test_the_same_value_is_caught_again_after_the_probes_moved():
    assert caught(*["10.41"] * 5, "0.00", *["10.41"] * 5) == ["10.41", "10.41"]


def test_a_slow_drift_away_is_caught_anew_only_when_it_has_left():
    assert caught("10.41", "10.41", "10.41", "10.43", "18.20", "18.20", "18.20") == ["10.41", "18.20"]


def test_the_readings_that_agreed_come_along():
    (capture,) = captures(volts("10.41", "10.40", "10.42", "10.41"), RULE)
    assert [reading.si for reading in capture.repeats] == [10.41, 10.40, 10.42]
    assert capture.position == 2


@given(values=st.lists(st.sampled_from(["0", "1.00", "1.01", "5.00", "5.01", "9.9E37"]), max_size=40))
def test_whatever_comes_a_caught_reading_agrees_with_its_run(values):
    for capture in captures(volts(*values), RULE):
        assert capture.reading in capture.repeats
        assert len(capture.repeats) == RULE.count
        sizes = [reading.si for reading in capture.repeats]
        assert max(sizes) - min(sizes) <= RULE.distance(capture.reading)
        assert min(sizes) >= RULE.least


@pytest.mark.parametrize("wrong", [{"count": 1}, {"share": -0.1}, {"digits": -1}, {"least": -1}])
def test_a_rule_that_makes_no_sense_cannot_be_made(wrong):
    with pytest.raises(ValueError, match="steadiness needs"):
        Steadiness(**wrong)
