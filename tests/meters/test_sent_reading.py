"""A reading that was sent, written as a person would type it."""

import pytest

from benchapp.judgement.meters.functions import Function, kind_of
from benchapp.meters.answers import read_answer
from benchapp.meters.sent_reading import count_of, field_text
from benchapp.quantities.entry import read_reading
from tests.meters.records import record

METER = record()


@pytest.mark.parametrize(
    ("sent", "function", "written"),
    [
        ("+1.04123400E+01", Function.ac_voltage, "10.4123 V"),
        ("+2.00001238E-01", Function.resistance, "0.20 ohm"),
        ("+1.04000000E+01", Function.ac_voltage, "10.40 V"),
        ("+2.41000000E+02", Function.ac_voltage, "241.0 V"),
        ("+4.70000000E+03", Function.resistance, "4.70 kohm"),
        ("+4.73000000E+01", Function.resistance, "47.30 ohm"),
        ("+3.50000000E-01", Function.resistance, "0.35 ohm"),
        ("+0.00000000E+00", Function.dc_voltage, "0.00 V"),
        ("-1.50000000E+00", Function.dc_voltage, "-1.50 V"),
        ("+1.25000000E-02", Function.dc_voltage, "0.0125 V"),
        ("+9.54790000E-04", Function.dc_voltage, "0.001 V"),
        ("9.9E37", Function.resistance, "OL"),
    ],
)
def test_it_is_written_without_exponent_or_idle_zeros(sent, function, written):
    reading = read_answer(sent, function)
    assert field_text(reading, count_of(METER, function, reading)) == written


@pytest.mark.parametrize("value", [0.0, 0.0123, 0.5, 1.0, 47.31, 999.96, 1234.5, 59999.0])
@pytest.mark.parametrize("function", [Function.ac_voltage, Function.resistance])
def test_what_is_written_is_read_as_what_was_sent(value, function):
    reading = read_answer(f"{value:+.6E}", function)
    text = field_text(reading, count_of(METER, function, reading))
    assert read_reading(text, kind=kind_of(function)).si == pytest.approx(value, rel=1e-9)


def test_the_meters_own_counts_are_those_of_its_range():
    assert count_of(METER, Function.ac_voltage, read_answer("10.41234", Function.ac_voltage)) == 0.01
    assert count_of(METER, Function.ac_voltage, read_answer("900", Function.ac_voltage)) is None
