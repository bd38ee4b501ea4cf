"""Accuracy statements: what they allow, and what is no statement."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.judgement.meters.accuracy import parse_accuracy
from benchapp.judgement.statements.problems import AccuracyProblem


@pytest.mark.parametrize(
    ("text", "half_width"),
    [
        ("0.5 % + 3 counts", 0.5 + 0.3),
        ("0.5 % + 3", 0.5 + 0.3),
        ("±(0.5 % + 3 digits)", 0.5 + 0.3),
        ("0.05 % of reading + 0.01 % of range", 0.05 + 0.06),
        ("2 %", 2.0),
        ("3 counts", 0.3),
        ("1 count + 1 %", 1.1),
    ],
)
def test_the_half_width_at_100_volts_on_a_600_volt_range_of_a_tenth(text, half_width):
    assert parse_accuracy(text).half_width(100.0, 0.1, 600.0) == pytest.approx(half_width)


def test_a_negative_reading_has_the_accuracy_of_its_size():
    assert parse_accuracy("1 %").half_width(-5.0, 0.01, 6.0) == pytest.approx(0.05)


@pytest.mark.parametrize(
    "text", ["", "good", "5 % counts", "0.5 % + 0.5 %", "3 of range", "150 %", "1 % +", "-1 %", "x" * 200]
)
def test_what_is_no_statement_is_refused_with_an_example(text):
    with pytest.raises(AccuracyProblem):
        parse_accuracy(text)


@settings(max_examples=3000)
@given(text=st.text(max_size=120))
def test_any_text_is_a_statement_or_a_sentence(text):
    try:
        accuracy = parse_accuracy(text)
    except AccuracyProblem as problem:
        outcome = problem.sentence
    else:
        outcome = accuracy.text
        assert accuracy.half_width(1.0, 0.001, 2.0) >= 0
    assert outcome
