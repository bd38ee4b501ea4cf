"""Catching a steady reading once per touch."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.judgement.meters.functions import Function
from benchapp.meters.steady import Sample, Steadiness, Touch, captures, follow, rule_for
from tests.meters.touches import Person

VOLTS = Steadiness(open_below=2.0)
OHMS = Steadiness()


def volts(*values, every=0.25):
    return [Sample(at=number * every, value=value, count=0.01) for number, value in enumerate(values)]


def caught(*values, rule=VOLTS, every=0.25):
    return [capture.sample.value for capture in captures(volts(*values, every=every), rule)]


OPEN = (0.02, 0.01, 0.03)


def test_a_reading_that_stands_still_is_caught_at_its_middle():
    assert caught(*OPEN, 5.10, 9.80, 10.41, 10.40, 10.42, 10.41, 10.41, 10.41) == [10.41]


def test_a_reading_that_wanders_is_not_caught():
    assert caught(*OPEN, *[10.0 + 0.2 * n for n in range(20)]) == []


def test_a_slow_drift_is_not_taken_for_standing_still():
    assert caught(*OPEN, *[10.0 + 0.02 * n for n in range(20)]) == []


def test_three_readings_of_a_moment_are_not_enough():
    assert caught(*OPEN, *[10.41] * 12, every=0.05) == []
    assert caught(*OPEN, *[10.41] * 3) == []


def test_a_slow_meter_is_given_the_time_for_as_many_readings():
    """At 2.5 a second three readings span the time already; the fourth counts as well."""
    assert caught(*OPEN, *[10.41] * 3, every=0.45) == []
    assert caught(*OPEN, *[10.41] * 4, every=0.45) == [10.41]


def test_over_range_is_never_caught():
    assert caught(*[None] * 40, rule=OHMS) == []
    assert caught(*OPEN, *[None] * 40) == []


def test_over_range_in_between_begins_anew():
    assert caught(*OPEN, *[10.41] * 3, None, *[10.41] * 3) == []


def test_lifted_probes_are_never_caught_on_a_voltage():
    assert caught(*[0.01] * 40) == []
    assert caught(*[1.4] * 40) == []


def test_nothing_is_caught_before_the_probes_were_seen_off():
    """A page that comes while the probes still touch the pins of the page before."""
    assert caught(*[10.41] * 20) == []
    assert caught(*[47.0] * 20, rule=OHMS) == []
    assert caught(0.01, *[10.41] * 20) == []


def test_a_reading_is_caught_once_while_the_probes_stay():
    assert caught(*OPEN, *[10.41] * 40) == [10.41]


def test_a_jump_while_the_probes_stay_is_not_caught_again():
    assert caught(*OPEN, *[10.41] * 8, *[12.0] * 20) == [10.41]


def test_one_open_reading_in_a_touch_does_not_make_it_two():
    assert caught(*OPEN, *[10.41] * 8, 0.01, *[10.41] * 8) == [10.41]


def test_the_same_value_is_caught_again_after_the_probes_were_lifted():
    assert caught(*OPEN, *[10.41] * 6, *OPEN, *[10.41] * 6) == [10.41, 10.41]


def test_a_link_that_was_gone_for_a_while_begins_anew():
    before = [Sample(at=n * 0.25, value=v, count=0.01) for n, v in enumerate((*OPEN, 10.41, 10.41, 10.41))]
    after = [Sample(at=6.0 + n * 0.25, value=10.41, count=0.01) for n in range(3)]
    assert list(captures([*before, *after], VOLTS)) == []


def test_the_readings_that_agreed_come_along():
    (capture,) = captures(volts(*OPEN, 10.41, 10.40, 10.42, 10.41, 10.41), VOLTS)
    assert [one.value for one in capture.window] == [10.41, 10.40, 10.42, 10.41, 10.41]


def test_the_meters_own_counts_say_what_standing_still_is():
    coarse = [Sample(at=n * 0.25, value=v, count=1.0) for n, v in enumerate((*OPEN, *[230.0, 231.0, 230.0] * 3))]
    fine = [Sample(at=one.at, value=one.value, count=0.1) for one in coarse]
    assert [one.sample.value for one in captures(coarse, VOLTS)] == [230.0]
    assert list(captures(fine, VOLTS)) == []


@pytest.mark.parametrize("ohms", [True, False])
@pytest.mark.parametrize("rate", [2.5, 4.0, 8.0, 15.0])
def test_of_a_thousand_touches_at_most_one_is_false_and_one_is_missed(ohms, rate):
    person = Person(random=Random(f"touches {ohms} {rate}"), ohms=ohms, rate=rate)
    shown, held = person.touches(1000)
    found = figures(shown, held, OHMS if ohms else VOLTS)
    assert found["held"] > 900
    assert found["false"] <= 1, found
    assert found["missed"] <= 1, found


def figures(shown, held, rule):
    """Touches held long enough, captures that are false (wrong value, second one, none touched), touches missed."""
    touched, false = set(), 0
    touch = Touch()
    for one in shown:
        touch, capture = follow(touch, Sample(at=one.at, value=one.value, count=one.count), rule)
        if capture is None:
            continue
        true = held[one.touch] if one.touch is not None else None
        wrong = true is None or abs(capture.sample.value - true.true) > 5 * true.count + 0.002 * true.true
        false += wrong or one.touch in touched
        touched.add(one.touch)
    wanted = {number for number, one in enumerate(held) if one.long_enough}
    return {"held": len(wanted), "false": false, "missed": len(wanted - touched)}


@given(values=st.lists(st.sampled_from([None, 0.0, 1.0, 5.0, 5.01, 5.5]), max_size=60), ohms=st.booleans())
def test_whatever_comes_a_caught_reading_is_one_of_its_window_and_no_open_one(values, ohms):
    rule = OHMS if ohms else VOLTS
    for capture in captures(volts(*values), rule):
        assert capture.sample in capture.window
        assert len(capture.window) >= rule.least
        assert all(one.value is not None for one in capture.window)
        assert ohms or all(abs(one.value) >= 2.0 for one in capture.window)


def test_only_what_two_probes_touch_is_caught():
    assert rule_for(Function.resistance).open_below is None
    assert rule_for(Function.ac_voltage).open_below == 2.0
    assert {rule_for(one) for one in (Function.insulation, Function.earth_continuity, Function.power)} == {None}


@pytest.mark.parametrize("wrong", [{"least": 1}, {"share": -0.1}, {"counts": -1}, {"seconds": -1}])
def test_a_rule_that_makes_no_sense_cannot_be_made(wrong):
    with pytest.raises(ValueError, match="steadiness needs"):
        Steadiness(**wrong)
