"""The decision in plain words, where a meter took the value and where none did."""

import pytest

from benchapp.judgement.decision.decision import decide
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.sentences import say_odds
from benchapp.judgement.statements.statements import Judgement
from benchapp.judgement.uncertainty.budget import plain_uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound


def volts(lower, upper) -> Band:
    return Band(kind=Kind.voltage, unit="V", lower=lower, upper=upper)


class TestWhereNoMeterTookIt:
    """A value that was read off, worked out, or judged without a meter: the sentence speaks of no meter."""

    @pytest.mark.parametrize("value", [9.88, 9.92, 9.12, 12.0])
    def test_no_sentence_speaks_of_this_meter(self, value):
        found = decide(
            value=value, bound=Bound.exact, band=volts(8.1, 9.9), uncertainty=plain_uncertainty(0.02), metered=False
        )
        assert "meter" not in found.sentence

    def test_the_odds_are_told_all_the_same(self):
        found = decide(
            value=9.88, bound=Bound.exact, band=volts(8.1, 9.9), uncertainty=plain_uncertainty(0.02), metered=False
        )
        assert found.sentence == (
            "9.88 V is inside 8.1 V to 9.9 V, but closer to the edge than it is known: 1 in 6 that it is outside."
        )

    def test_a_safety_limit_is_not_judged_and_no_meter_is_blamed(self):
        band = Band(kind=Kind.resistance, unit="ohm", lower=None, upper=0.15, safety=True)
        for known in (None, plain_uncertainty(0.05)):
            found = decide(value=0.1, bound=Bound.exact, band=band, uncertainty=known, metered=False)
            assert found.judgement is Judgement.not_judged
            assert found.sentence.startswith("This cannot be judged: the value's uncertainty")


class TestWhereOneValueAloneIsAskedFor:
    """A band without width: no odds, for nothing that is measured is known to be exactly one value."""

    def sentence(self, value):
        known = plain_uncertainty(0.05)
        return decide(value=value, bound=Bound.exact, band=volts(9.0, 9.0), uncertainty=known, step=0.01).sentence

    def test_a_reading_of_it_is_it_as_far_as_can_be_told(self):
        assert self.sentence(9.0) == (
            "9.00 V is the 9 V that is asked for, as far as its uncertainty of 0.10 V can tell."
        )

    def test_a_reading_near_it_is_not_but_may_be(self):
        assert self.sentence(9.04) == (
            "9.04 V is not the 9 V that is asked for, but no further from it than its uncertainty of 0.10 V."
        )

    def test_a_reading_far_from_it_is_not(self):
        assert self.sentence(9.5).startswith("9.50 V is not the 9 V that is asked for, by more than")


@pytest.mark.parametrize(
    ("probability", "words"),
    [
        (5e-5, "less than 1 in 10000"),
        (0.0228, "1 in 44"),
        (1 / 9, "1 in 9"),
        (0.34, "1 in 3"),
        (0.4, "2 in 5"),
        (0.46, "1 in 2"),
        (0.5000001, "1 in 2"),
        (0.6, "more likely than not (6 in 10)"),
        (0.94, "more likely than not (9 in 10)"),
        (0.999, "almost certain (more than 19 in 20)"),
        (1.0, "almost certain (more than 19 in 20)"),
    ],
)
def test_odds_are_said_as_near_as_small_numbers_can(probability, words):
    assert say_odds(probability) == f"{words} that it is"


@pytest.mark.parametrize(
    ("value", "shown"),
    [(9.905, "9.905 V is outside"), (9.9001, "9.9001 V is outside"), (9.895, "9.90 V is inside"), (9.91, "9.91 V is")],
)
def test_a_mean_just_outside_is_not_shown_rounded_to_the_limit(value, shown):
    known = plain_uncertainty(0.02)
    found = decide(value=value, bound=Bound.exact, band=volts(8.1, 9.9), uncertainty=known, step=0.01)
    assert found.sentence.startswith(shown)
