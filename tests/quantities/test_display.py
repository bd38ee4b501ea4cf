"""Numbers as people see them. GUM cases: JCGM 100:2008, 7.2.6 (confirmed)."""

import math

import pytest

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show, show_uncertainty


@pytest.mark.parametrize(
    ("value", "kind", "shown"),
    [
        (9.12, Kind.voltage, "9.12 V"),
        (230.0, Kind.voltage, "230 V"),
        (0.1 + 0.2, Kind.voltage, "300 mV"),
        (10.799999999999999, Kind.voltage, "10.8 V"),
        (1.5e6, Kind.resistance, "1.5 Mohm"),
        (4700.0, Kind.resistance, "4.7 kohm"),
        (0.05, Kind.resistance, "0.05 ohm"),
        (0.00025, Kind.resistance, "250 µohm"),
        (999.96, Kind.voltage, "1 kV"),
        (-0.012, Kind.current, "-12 mA"),
        (0.0, Kind.voltage, "0 V"),
        (-0.0, Kind.voltage, "0 V"),
        (0.75e-6, Kind.area, "0.75 mm²"),
        (1.8, Kind.length, "1.8 m"),
        (20.0, Kind.temperature, "20 °C"),
        (1 / 3, Kind.ratio, "0.3333"),
        (4.7e-9, Kind.capacitance, "4.7 nF"),
        (90.0, Kind.time, "90 s"),
        (math.inf, Kind.resistance, "∞ ohm"),
        (-math.inf, Kind.ratio, "−∞"),
        (math.nan, Kind.voltage, "no value"),
        (1e300, Kind.voltage, "1e+294 MV"),
        (4.5e-15, Kind.capacitance, "0.0045 pF"),
    ],
)
def test_a_stated_value_has_no_digits_that_nobody_stated(value, kind, shown):
    assert show(value, kind) == shown


@pytest.mark.parametrize(
    ("value", "uncertainty", "kind", "shown"),
    [
        (10.05762, 0.027, Kind.resistance, "10.058 ohm"),  # GUM 7.2.6
        (9.1234, 0.02, Kind.voltage, "9.123 V"),
        (9.1234, 0.2, Kind.voltage, "9.12 V"),
        (500.0, 1200.0, Kind.voltage, "0.5 kV"),
        (12345.0, 150.0, Kind.resistance, "12.34 kohm"),
        (0.0, 0.02, Kind.voltage, "0.000 V"),
        (9.1, 0.0, Kind.voltage, "9.1 V"),
        (9.1, math.nan, Kind.voltage, "9.1 V"),
    ],
)
def test_digits_fit_the_uncertainty(value, uncertainty, kind, shown):
    assert show(value, kind, uncertainty=uncertainty) == shown


@pytest.mark.parametrize(
    ("value", "step", "uncertainty", "shown"),
    [
        (9.12, 0.01, None, "9.12 V"),
        (9.1, 0.01, None, "9.10 V"),
        (9.1234, 0.01, 0.0001, "9.12 V"),
        (0.5, 0.01, None, "0.50 V"),
        (0.5, 0.001, None, "500 mV"),
        (240.0, 1.0, None, "240 V"),
        (0.0, 0.001, None, "0.000 V"),
        (9.0, 1e-30, None, "9.000000000000000 V"),
    ],
)
def test_no_digit_is_shown_that_the_meter_did_not_give(value, step, uncertainty, shown):
    assert show(value, Kind.voltage, step=step, uncertainty=uncertainty) == shown


@pytest.mark.parametrize(
    ("value", "kind", "unit", "step", "shown"),
    [
        (0.03, Kind.ratio, "%", None, "3 %"),
        (0.9263, Kind.ratio, "%", None, "92.63 %"),
        (0.926, Kind.ratio, "%", 0.001, "92.6 %"),
        (0.926, Kind.ratio, "", None, "0.926"),
        (300.0, Kind.time, "min", None, "5 min"),
        (90.0, Kind.time, "min", None, "1.5 min"),
        (300.0, Kind.time, "min", 1.0, "5.0 min"),
        (33.3 / 60, Kind.frequency, "rpm", 0.1 / 60, "33.3 rpm"),
        (20.0, Kind.temperature, "°F", None, "68 °F"),
        (1500.0, Kind.power, "VA", None, "1.5 kVA"),
        (9.12, Kind.voltage, "mV", None, "9.12 V"),
        (0.0953, Kind.speed, "cm/s", 0.0001, "9.53 cm/s"),
        (0.03, Kind.ratio, "V", None, "0.03"),
        (0.03, Kind.ratio, "no unit at all", None, "0.03"),
    ],
)
def test_the_unit_that_was_written_is_kept_and_only_its_prefix_changes(value, kind, unit, step, shown):
    assert show(value, kind, step=step, unit=unit) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [
        *[(300.0, "5 min"), (120.0, "2 min"), (90.0, "90 s"), (130.0, "2 min 10 s"), (5400.0, "90 min")],
        *[
            (7200.0, "2 h"),
            (8105.0, "2 h 15 min 5 s"),
            (130.5, "130.5 s"),
            (0.002, "2 ms"),
            (0.0, "0 s"),
            (1e300, "1e+300 s"),
        ],
    ],
)
def test_a_stated_time_is_said_as_people_say_it(seconds, shown):
    assert show(seconds, Kind.time) == shown


@pytest.mark.parametrize(
    ("uncertainty", "kind", "unit", "shown"),
    [
        (0.0123, Kind.ratio, "%", "1.3 %"),
        (1.0, Kind.temperature, "°F", "1.8 °F"),  # a difference: the scale's zero is of no matter
        (0.5 / 60, Kind.frequency, "rpm", "0.50 rpm"),
        (0.0, Kind.ratio, "%", "0 %"),
    ],
)
def test_an_uncertainty_keeps_the_unit_that_was_written(uncertainty, kind, unit, shown):
    assert show_uncertainty(uncertainty, kind, unit=unit) == shown


@pytest.mark.parametrize(
    ("uncertainty", "kind", "shown"),
    [
        (0.01047, Kind.resistance, "0.011 ohm"),  # GUM 7.2.6: 10.47 mohm → 11 mohm
        (28050.0, Kind.frequency, "28 kHz"),  # GUM 7.2.6
        (0.02, Kind.voltage, "20 mV"),
        (0.0, Kind.voltage, "0 V"),
        (0.0996, Kind.voltage, "100 mV"),
        (math.inf, Kind.voltage, "∞ V"),
    ],
)
def test_an_uncertainty_has_two_digits_and_is_rounded_up_unless_the_rest_is_negligible(uncertainty, kind, shown):
    assert show_uncertainty(uncertainty, kind) == shown
