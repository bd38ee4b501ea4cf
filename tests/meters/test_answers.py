"""Numbers as instruments send them."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.judgement.meters.functions import Function
from benchapp.meters.answers import read_answer
from benchapp.meters.problems import MeterProblem
from benchapp.quantities.quantity import Bound


@pytest.mark.parametrize(
    ("answer", "value", "step"),
    [
        ("42", "42", "1"),
        ("+042", "42", "1"),
        ("-1.50", "-1.50", "0.01"),
        (".5", "0.5", "0.1"),
        ("+1.04123E+01", "10.4123", "0.0001"),
        ("1e-3", "0.001", "0.001"),
        (" 9.12\r", "9.12", "0.01"),
    ],
)
def test_integers_decimals_and_exponents_are_read(answer, value, step):
    """NR1, NR2 and NR3 forms of IEEE 488.2."""
    reading = read_answer(answer, Function.dc_voltage)
    assert (reading.quantity.value, reading.step) == (Decimal(value), Decimal(step))


def test_over_range_is_the_standards_number():
    """9.9E37 stands for infinity (SCPI-1999, volume 1, 7.2.1; from memory)."""
    assert read_answer("+9.90000000E+37", Function.resistance).bound is Bound.above
    assert read_answer("9.9E37", Function.resistance).quantity is None


def test_under_range_says_what_to_do():
    with pytest.raises(MeterProblem, match="over range with a minus sign"):
        read_answer("-9.9E37", Function.dc_voltage)


def test_not_a_number_is_no_reading():
    with pytest.raises(MeterProblem, match="has no reading to give"):
        read_answer("9.91E37", Function.dc_voltage)


def test_a_number_beyond_all_is_refused():
    with pytest.raises(MeterProblem, match="which no instrument can measure"):
        read_answer("1E99", Function.dc_voltage)


def test_nulled_leads_a_little_below_zero_read_zero():
    assert read_answer("-1.3E-03", Function.continuity).si == 0


def test_a_resistance_far_below_zero_is_refused():
    with pytest.raises(MeterProblem, match="The meter answered “-12”"):
        read_answer("-12", Function.resistance)


@given(value=st.decimals(min_value=-1000, max_value=1000, allow_nan=False, places=6))
def test_every_number_survives_the_way(value):
    assert read_answer(f"{value:+E}", Function.dc_voltage).quantity.value == value


@given(text=st.text(max_size=40))
def test_any_text_is_a_reading_or_a_sentence(text):
    try:
        reading = read_answer(text, Function.dc_voltage)
    except BenchError:
        return
    assert reading.bound in Bound
