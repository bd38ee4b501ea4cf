"""A computed value, with the uncertainty of the readings in it."""

import re

import pytest

from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.compute import ComputeAnswer
from tests.sequences.every_kind import tried


def test_computed_value_waits_for_its_readings(each):
    assert "waits for" in tried(each, "every-kind.both", ComputeAnswer()).complaint


def test_computed_value_carries_the_uncertainty_of_its_readings(each):
    one = each.reads("every-kind.first", "1.20 ohm")
    other = each.reads("every-kind.second", "11.00 ohm")
    found = tried(each, "every-kind.both", ComputeAnswer())
    assert found.judgement == "pass"
    assert found.content.value == pytest.approx(12.2)
    one_u = one.content.standard_uncertainty
    found_u = found.content.standard_uncertainty
    assert found_u > one_u
    assert other.content.judgement == "not judged"


def test_sum_of_two_readings_of_one_meter_allows_for_the_error_that_both_share(each):
    one = each.reads("every-kind.first", "1.20 ohm").content
    other = each.reads("every-kind.second", "11.00 ohm").content
    found = tried(each, "every-kind.both", ComputeAnswer())
    own = [next(row.contribution for row in content.budget if row.source == "resolution") for content in (one, other)]
    shared = [(c.standard_uncertainty**2 - u**2) ** 0.5 for c, u in zip((one, other), own, strict=True)]
    assert found.uncertainty.standard == pytest.approx((sum(shared) ** 2 + own[0] ** 2 + own[1] ** 2) ** 0.5)
    assert found.uncertainty.budget[-1].source == "correlation of the sources"


def test_ratio_of_two_readings_of_one_meter_counts_on_no_error_falling_out(each):
    one = each.reads("every-kind.first", "11.00 ohm").content.standard_uncertainty
    each.reads("every-kind.second", "11.00 ohm")
    found = tried(each, "every-kind.share", ComputeAnswer()).uncertainty
    assert found.standard == pytest.approx(2**0.5 * one / 11.0), "as of two readings that share nothing"


def test_few_repeats_of_a_reading_count_with_their_degrees_of_freedom(each):
    entry = each.answer("every-kind.first", ReadingAnswer(typed="1.10 ohm", repeats=("1.20 ohm", "1.60 ohm")))
    each.reads("every-kind.second", "11.00 ohm")
    found = tried(each, "every-kind.both", ComputeAnswer()).uncertainty
    assert entry.content.degrees_of_freedom < 3
    assert found.degrees_of_freedom < 10
    assert found.coverage > 2


def test_computed_value_says_where_the_linear_answer_does_not_hold(each):
    each.reads("every-kind.first", "1.20 ohm")
    each.reads("every-kind.second", "0.05 ohm")
    bent = tried(each, "every-kind.share", ComputeAnswer())
    assert "disagree" in bent.sentence
    each.reads("every-kind.second", "12.00 ohm")
    assert "disagree" not in tried(each, "every-kind.share", ComputeAnswer()).sentence


def test_computed_share_is_shown_in_percent(each):
    each.reads("every-kind.first", "1.20 ohm")
    each.reads("every-kind.second", "12.00 ohm")
    found = tried(each, "every-kind.share", ComputeAnswer())
    assert found.content.value == pytest.approx(0.1)
    assert str(found.reading.quantity.unit.symbol) == "%"


def test_a_share_is_said_in_percent_from_its_source_to_its_sentence(each):
    each.reads("every-kind.first", "1.20 ohm")
    each.reads("every-kind.second", "12.00 ohm")
    each.answer("every-kind.share", ComputeAnswer())
    found = tried(each, "every-kind.rest", ComputeAnswer())
    assert re.match(r"90 % is (in|out)side the limit \(at most 9\d[.\d]* %\)", found.sentence)
    assert (found.content.derivation[0].what, found.content.derivation[0].value) == ("every-kind.share", "10 %")
