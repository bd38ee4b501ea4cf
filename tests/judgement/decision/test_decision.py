"""The decision on one reading: statements, equality, bounds, safety limits, and input that is no number."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.judgement.decision.decision import decide
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.problems import BandProblem
from benchapp.judgement.statements.sentences import say_limits
from benchapp.judgement.statements.statements import (
    Judgement,
    Rule,
    completes_step,
    opens_fault_search,
    opens_live_step,
)
from benchapp.judgement.uncertainty.budget import plain_uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound


def volts(lower, upper, **more) -> Band:
    return Band(kind=Kind.voltage, unit="V", lower=lower, upper=upper, **more)


def ohms(lower, upper, **more) -> Band:
    return Band(kind=Kind.resistance, unit="ohm", lower=lower, upper=upper, **more)


def judge(value, band, u=None, bound=Bound.exact, r=1.0):
    uncertainty = None if u is None else plain_uncertainty(u)
    return decide(value=value, bound=bound, band=band, uncertainty=uncertainty, r=r)


@pytest.mark.parametrize(
    ("value", "judgement"),
    [
        (97.9, "pass"),
        (98.0, "pass"),
        (98.1, "conditional pass"),
        (100.0, "conditional pass"),
        (100.1, "conditional fail"),
        (101.9, "conditional fail"),
        (102.0, "conditional fail"),
        (102.1, "fail"),
    ],
)
def test_a_guarded_band_gives_the_four_statements_and_limits_belong_to_the_better_one(value, judgement):
    assert judge(value, volts(None, 100.0), 1.0).judgement == judgement


def test_lower_limits_mirror_upper_ones():
    for value, judgement in ((102.1, "pass"), (100.0, "conditional pass"), (98.0, "conditional fail"), (97.9, "fail")):
        assert judge(value, volts(100.0, None), 1.0).judgement == judgement


def test_reading_equal_to_the_limit_passes_under_simple_acceptance():
    band = volts(8.1, 9.9, rule=Rule.simple)
    assert judge(9.9, band, 0.1).judgement == "pass"
    assert judge(8.1, band, 0.1).judgement == "pass"
    assert judge(9.900001, band, 0.1).judgement == "fail"


def test_numbers_are_compared_at_twelve_digits():
    assert judge(0.1 + 0.2, volts(None, 0.3, rule=Rule.simple)).judgement == "pass"
    assert judge(0.3 * (1 + 1e-11), volts(None, 0.3, rule=Rule.simple)).judgement == "fail"


def test_without_an_uncertainty_the_judgement_is_simple():
    decision = judge(9.89, volts(8.1, 9.9))
    assert decision.judgement is Judgement.passed
    assert decision.guard_band == 0.0
    assert decision.conformance_probability is None
    assert decision.false_accept_risk is None


def test_a_small_probability_of_conformance_keeps_its_digits():
    from scipy import stats

    found = judge(11.0, volts(8.1, 9.9), 0.1).conformance_probability
    assert found == pytest.approx(stats.norm.sf(11.0) - stats.norm.sf(29.0), rel=1e-11)
    assert judge(6.9, volts(8.1, 10.0), 0.1).conformance_probability == pytest.approx(stats.norm.sf(12.0), rel=1e-11)


def test_zero_uncertainty_makes_conformance_certain_either_way():
    assert judge(9.9, volts(8.1, 9.9), 0.0).conformance_probability == 1.0
    assert judge(9.91, volts(8.1, 9.9), 0.0).conformance_probability == 0.0
    assert judge(9.9, volts(8.1, 9.9), 0.0).judgement == "pass"


def test_a_band_of_no_width_passes_its_one_value_only():
    band = volts(5.0, 5.0, rule=Rule.simple)
    assert judge(5.0, band).judgement == "pass"
    assert judge(5.01, band).judgement == "fail"
    assert judge(5.0, volts(5.0, 5.0), 0.1).judgement == "conditional pass"


def test_a_guard_band_wider_than_the_band_leaves_nothing_to_pass():
    assert judge(5.0, volts(4.9, 5.1), 0.2).judgement == "conditional pass"


def test_a_negative_guard_band_widens_and_is_binary():
    band = volts(None, 100.0)
    assert judge(101.9, band, 1.0, r=-1.0).judgement == "pass"
    assert judge(102.1, band, 1.0, r=-1.0).judgement == "fail"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_not_judged(value):
    decision = judge(value, volts(8.1, 9.9), 0.1)
    assert decision.judgement is Judgement.not_judged
    assert decision.sentence


def test_a_band_without_limits_is_recorded_and_not_judged():
    decision = judge(3.0, volts(None, None), 0.1)
    assert decision.judgement is Judgement.not_judged
    assert "not judged" in decision.sentence


def test_limits_the_wrong_way_round_are_refused():
    with pytest.raises(BandProblem, match="swap"):
        volts(10.0, 9.0)


@pytest.mark.parametrize("limit", [math.nan, math.inf])
def test_a_limit_that_is_no_number_is_refused(limit):
    with pytest.raises(BandProblem, match="no finite number"):
        volts(None, limit)


def test_resistance_below_zero_beyond_the_uncertainty_is_not_judged():
    assert judge(-0.5, ohms(None, 1.0), 0.1).judgement is Judgement.not_judged
    assert "Null the leads" in judge(-0.5, ohms(None, 1.0), 0.1).sentence


def test_resistance_a_little_below_zero_after_nulling_is_judged():
    assert judge(-0.01, ohms(None, 1.0), 0.02).judgement is Judgement.passed


class TestReadingsBeyondTheMeter:
    def test_over_range_meets_a_minimum(self):
        assert judge(None, ohms(1e6, None), bound=Bound.above).judgement is Judgement.passed

    def test_over_range_is_outside_an_upper_limit(self):
        assert judge(None, ohms(None, 1.0), bound=Bound.above).judgement is Judgement.failed

    def test_over_range_meets_a_minimum_of_safety(self):
        band = ohms(1e6, None, safety=True, rule=Rule.simple, capability=0.3)
        assert judge(None, band, 5e6, bound=Bound.above).judgement is Judgement.passed

    def test_above_a_value_meets_a_minimum_that_it_reaches(self):
        assert judge(20e6, ohms(2e6, None), bound=Bound.above).judgement is Judgement.passed
        assert judge(2e6, ohms(2e6, None), bound=Bound.above).judgement is Judgement.passed

    def test_above_a_value_below_the_minimum_tells_nothing(self):
        decision = judge(20e6, ohms(50e6, None), bound=Bound.above)
        assert decision.judgement is Judgement.not_judged
        assert "does not tell" in decision.sentence

    def test_above_a_value_beyond_the_upper_limit_fails(self):
        assert judge(20e6, ohms(1e6, 10e6), bound=Bound.above).judgement is Judgement.failed

    def test_above_a_value_inside_a_two_sided_band_tells_nothing(self):
        assert judge(5e6, ohms(1e6, 10e6), bound=Bound.above).judgement is Judgement.not_judged

    def test_below_a_value_meets_a_maximum(self):
        assert judge(0.01, ohms(None, 0.1), bound=Bound.below).judgement is Judgement.passed

    def test_below_a_value_under_the_minimum_fails(self):
        assert judge(0.01, ohms(1.0, 2.0), bound=Bound.below).judgement is Judgement.failed

    def test_below_a_value_above_the_maximum_tells_nothing(self):
        assert judge(0.5, ohms(None, 0.1), bound=Bound.below).judgement is Judgement.not_judged

    def test_against_a_limit_of_safety_it_takes_a_capable_meter_as_any_reading_does(self):
        band = ohms(None, 0.152, safety=True, rule=Rule.simple, capability=0.3)
        coarse = judge(0.1, band, 0.2, bound=Bound.below)
        assert (coarse.judgement, coarse.capable) == (Judgement.not_judged, False)
        assert coarse.sentence.startswith("This meter cannot judge this")
        assert judge(0.1, band, 0.01, bound=Bound.below).judgement is Judgement.passed
        assert judge(0.1, band, bound=Bound.below).judgement is Judgement.not_judged, "its uncertainty is not known"
        assert judge(0.2, band, 0.2, bound=Bound.above).judgement is Judgement.not_judged
        assert judge(200.0, band, 0.2, bound=Bound.above).judgement is Judgement.failed, "clearly outside"

    def test_against_a_guarded_band_it_keeps_the_guard_band_as_any_reading_does(self):
        """20.0 exactly is a conditional pass here, so that “above 20” can be no pass."""
        assert judge(20.0, ohms(19.9, None), 0.4, bound=Bound.exact).judgement is Judgement.conditional_pass
        above = judge(20.0, ohms(19.9, None), 0.4, bound=Bound.above)
        assert above.judgement is Judgement.conditional_pass
        assert above.sentence == (
            "The reading is above 20 ohm, inside the limit (at least 19.9 ohm), but closer to the edge than this meter "
            "can tell."
        )
        assert judge(21.0, ohms(19.9, None), 0.4, bound=Bound.above).judgement is Judgement.passed
        assert judge(19.0, ohms(19.9, None), 0.4, bound=Bound.above).judgement is Judgement.not_judged
        assert judge(0.95, ohms(None, 1.0), 0.05, bound=Bound.below).judgement is Judgement.conditional_pass

    def test_over_range_of_a_band_without_limits_is_not_judged(self):
        assert judge(None, ohms(None, None), bound=Bound.above).judgement is Judgement.not_judged

    def test_a_bound_that_is_no_number_is_not_judged(self):
        assert judge(math.nan, ohms(1.0, None), bound=Bound.above).judgement is Judgement.not_judged


class TestSafetyLimits:
    band = ohms(None, 0.152, safety=True, rule=Rule.simple, capability=0.30)

    def test_are_applied_at_the_limit_itself_even_where_the_rule_says_guarded(self):
        guarded = ohms(None, 0.152, safety=True, capability=0.30)
        assert judge(0.152, guarded, 0.01).judgement is Judgement.passed
        assert judge(0.153, guarded, 0.01).judgement is Judgement.failed

    def test_a_meter_that_is_not_capable_never_shows_a_pass(self):
        decision = judge(0.0, self.band, 0.06)
        assert decision.judgement is Judgement.not_judged
        assert not decision.capable
        assert "This meter cannot judge this" in decision.sentence

    def test_a_meter_that_is_not_capable_still_shows_a_clear_fail(self):
        assert judge(0.5, self.band, 0.06).judgement is Judgement.failed

    def test_a_reading_outside_by_less_than_the_uncertainty_stays_unjudged(self):
        assert judge(0.2, self.band, 0.06).judgement is Judgement.not_judged

    def test_no_uncertainty_means_no_capability(self):
        assert judge(0.05, self.band).judgement is Judgement.not_judged

    def test_an_insulation_tester_is_held_against_the_reading_where_that_is_larger(self):
        minimum = ohms(1e6, None, safety=True, rule=Rule.simple, capability=0.30)
        assert judge(150e6, minimum, 3e6).judgement is Judgement.passed
        assert judge(2e6, minimum, 1e6).judgement is Judgement.not_judged

    def test_the_edge_of_capability_is_capable(self):
        assert judge(0.0, self.band, 0.15 * 0.152).capable


class TestSentences:
    def test_a_conditional_pass_gives_the_odds_in_plain_words(self):
        decision = judge(9.86, volts(8.1, 9.9), 0.033)
        assert decision.sentence == (
            "9.86 V is inside 8.1 V to 9.9 V, but closer to the edge than this meter can tell: "
            "1 in 9 that it is outside."
        )

    def test_a_conditional_fail_gives_the_odds_of_being_inside(self):
        assert judge(9.94, volts(8.1, 9.9), 0.033).sentence.endswith("1 in 9 that it is inside.")

    def test_no_more_digits_than_the_meter_gave(self):
        decision = decide(
            value=9.12, bound=Bound.exact, band=volts(8.1, 9.9), uncertainty=plain_uncertainty(0.001), step=0.01
        )
        assert decision.sentence.startswith("9.12 V is inside")

    def test_an_edge_that_both_sides_share_is_more_likely_outside_than_inside(self):
        decision = judge(5.0, volts(4.99, 5.01), 0.1)
        assert decision.judgement is Judgement.conditional_pass
        assert "more likely than not (9 in 10) that it is outside" in decision.sentence


@pytest.mark.parametrize(
    ("judgement", "completes", "live", "search"),
    [
        (Judgement.passed, True, True, False),
        (Judgement.conditional_pass, True, False, False),
        (Judgement.conditional_fail, False, False, True),
        (Judgement.failed, False, False, True),
        (Judgement.not_judged, False, False, False),
        ("no such word", False, False, False),
        (None, False, False, False),
    ],
)
def test_what_each_judgement_opens_and_shuts_is_one_rule(judgement, completes, live, search):
    found = completes_step(judgement), opens_live_step(judgement), opens_fault_search(judgement)
    assert found == (completes, live, search)


class TestOverARange:
    def test_more_than_the_range_shows_meets_a_minimum_inside_it(self):
        found = decide(value=None, bound=Bound.above, band=ohms(1e6, None), uncertainty=None, over=60e6)
        assert found.judgement is Judgement.passed
        assert found.sentence == (
            "The reading is over the meter's range (more than 60 Mohm), inside the limit (at least 1 Mohm)."
        )

    def test_more_than_a_small_range_shows_tells_nothing_of_a_minimum_beyond_it(self):
        found = decide(value=None, bound=Bound.above, band=ohms(1e6, None), uncertainty=None, over=600.0)
        assert found.judgement is Judgement.not_judged

    @pytest.mark.parametrize(("upper", "judgement"), [(1e3, Judgement.not_judged), (600.0, Judgement.failed)])
    def test_more_than_a_range_that_ends_inside_the_band_tells_nothing(self, upper, judgement):
        found = decide(value=None, bound=Bound.above, band=ohms(None, upper), uncertainty=None, over=600.0)
        assert found.judgement is judgement


finite = st.floats(-1e6, 1e6)
order = [Judgement.passed, Judgement.conditional_pass, Judgement.conditional_fail, Judgement.failed]


@given(lower=finite, width=st.floats(0, 1e5), value=finite, u=st.floats(0, 1e4), r=st.floats(0, 3))
def test_a_value_outside_never_passes_and_one_inside_never_fails(lower, width, value, u, r):
    decision = judge(value, volts(lower, lower + width), u, r=r)
    inside = lower <= value <= lower + width
    if decision.judgement is Judgement.passed:
        assert inside or math.isclose(value, lower, rel_tol=1e-12) or math.isclose(value, lower + width, rel_tol=1e-12)
    if inside:
        assert decision.judgement in (Judgement.passed, Judgement.conditional_pass)
    assert 0.0 <= decision.conformance_probability <= 1.0
    assert decision.sentence


@given(limit=st.floats(0.1, 1e3), u=st.floats(1e-6, 10), first=st.floats(-2e3, 2e3), second=st.floats(-2e3, 2e3))
def test_moving_away_from_a_limit_never_makes_it_worse(limit, u, first, second):
    better, worse = sorted((first, second))
    band = volts(None, limit)
    assert order.index(judge(better, band, u).judgement) <= order.index(judge(worse, band, u).judgement)
    assert judge(better, band, u).conformance_probability >= judge(worse, band, u).conformance_probability - 1e-12


@given(value=finite, lower=finite, width=st.floats(0, 1e5), u=st.floats(0, 1e4))
def test_a_band_and_its_mirror_image_agree(value, lower, width, u):
    there = judge(value, volts(lower, lower + width), u)
    back = judge(-value, volts(-lower - width, -lower), u)
    assert there.judgement is back.judgement


def test_a_band_of_one_value_is_said_as_that_value():
    assert judge(13.0, volts(3.0, 3.0, rule=Rule.simple)).sentence == "13 V is not the 3 V that is asked for."
    assert judge(3.0, volts(3.0, 3.0, rule=Rule.simple)).sentence == "3 V is the 3 V that is asked for."
    assert say_limits(volts(3.0, 3.0)) == "exactly 3 V"
