"""What a technician types: every form that is taken, and a sentence for every form that is not."""

from decimal import Decimal

import pytest

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.doubt import doubt_about
from benchapp.quantities.entry import read_quantity, read_reading
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Bound, describe_reading

VOLTS = {"kind": Kind.voltage, "unit": "V"}
OHMS = {"kind": Kind.resistance, "unit": "ohm"}


@pytest.mark.parametrize(
    ("typed", "shown", "si", "step"),
    [
        ("9.12", "9.12 V", 9.12, "0.01"),
        ("9,12", "9.12 V", 9.12, "0.01"),
        ("9.12 V", "9.12 V", 9.12, "0.01"),
        ("9.12v", "9.12 V", 9.12, "0.01"),
        ("  9.12  V ", "9.12 V", 9.12, "0.01"),
        ("9.12\u2009V", "9.12 V", 9.12, "0.01"),
        ("9.12\u00a0V", "9.12 V", 9.12, "0.01"),
        ("9120mV", "9120 mV", 9.12, "1"),
        ("9120 mV", "9120 mV", 9.12, "1"),
        ("+9.120", "9.120 V", 9.12, "0.001"),
        ("-12", "-12 V", -12.0, "1"),
        ("\u221212 V", "-12 V", -12.0, "1"),
        ("– 12 V", "-12 V", -12.0, "1"),
        ("9.", "9 V", 9.0, "1"),
        (".5", "0.5 V", 0.5, "0.1"),
        ("0,123", "0.123 V", 0.123, "0.001"),
        ("1234,567", "1234.567 V", 1234.567, "0.001"),
        ("3e-3", "0.003 V", 0.003, "0.001"),
        ("1.5E3 mV", "1500 mV", 1.5, "100"),
        ("470m", "470 mV", 0.47, "1"),
        ("1.2k", "1.2 kV", 1200.0, "0.1"),
        ("3V3", "3.3 V", 3.3, "0.1"),
        ("120 uV", "120 µV", 0.00012, "1"),
        ("1\u2009234.5", "1234.5 V", 1234.5, "0.1"),
        ("0.123\u2009456", "0.123456 V", 0.123456, "0.000001"),
        ("12 volts", "12 V", 12.0, "1"),
        ("1.2×10³", "1200 V", 1200.0, "100"),
        ("1.5×10⁻³ V", "0.0015 V", 0.0015, "0.0001"),
        ("3 x 10^-3 V", "0.003 V", 0.003, "0.001"),
        ("0", "0 V", 0.0, "1"),
    ],
)
def test_a_voltage_as_it_is_typed(typed, shown, si, step):
    reading = read_reading(typed, **VOLTS)
    assert reading.typed == typed
    assert str(reading) == shown
    assert reading.si == si
    assert reading.step == Decimal(step)
    assert reading.bound is Bound.exact


@pytest.mark.parametrize(
    ("typed", "si"),
    [
        ("4k7", 4700.0),
        ("4K7", 4700.0),
        ("2R2", 2.2),
        ("2r2", 2.2),
        ("R47", 0.47),
        ("0R1", 0.1),
        ("47k3", 47300.0),
        ("2M2", 2.2e6),
        ("1meg5", 1.5e6),
        ("4k7 ohm", 4700.0),
        ("4k7Ω", 4700.0),
        ("470R", 470.0),
        ("1.5 Mohm", 1.5e6),
        ("1.5M", 1.5e6),
        ("1.5 meg", 1.5e6),
        ("4.7 Kohm", 4700.0),
        ("0.05", 0.05),
        ("50 mohm", 0.05),
        ("50m", 0.05),
        ("1G", 1e9),
    ],
)
def test_a_resistance_as_it_is_typed(typed, si):
    assert read_reading(typed, **OHMS).si == si


@pytest.mark.parametrize(
    "typed",
    [
        "OL",
        "ol",
        "O.L",
        "O.L.",
        "0L",
        "0.L",
        ".OL",
        "overload",
        "over range",
        "Over-range",
        "open",
        "∞",
        "OL Mohm",
        "O.L MΩ",
    ],
)
def test_over_range_has_no_value_and_lies_above(typed):
    reading = read_reading(typed, **OHMS)
    assert reading.quantity is None
    assert reading.si is None
    assert reading.step is None
    assert reading.bound is Bound.above
    assert str(reading) == "over range"


@pytest.mark.parametrize(
    ("typed", "bound", "si"),
    [
        (">20 Mohm", Bound.above, 20e6),
        ("> 20 Mohm", Bound.above, 20e6),
        ("≥20M", Bound.above, 20e6),
        (">=20M", Bound.above, 20e6),
        ("over 20 Mohm", Bound.above, 20e6),
        ("more than 999 Mohm", Bound.above, 999e6),
        ("<0.01 ohm", Bound.below, 0.01),
        ("< 0,01", Bound.below, 0.01),
        ("≤0.01", Bound.below, 0.01),
        ("less than 0.01", Bound.below, 0.01),
        ("under 0R01", Bound.below, 0.01),
    ],
)
def test_a_bound_keeps_its_direction(typed, bound, si):
    reading = read_reading(typed, **OHMS)
    assert (reading.bound, reading.si) == (bound, si)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "Nothing was typed. Type what the meter shows, for example 9.12 V."),
        ("   ", "Nothing was typed. Type what the meter shows, for example 9.12 V."),
        ("9.12 A", '"9.12 A" is a current; a voltage is needed here, for example 9.12 V.'),
        ("4R7", '"4R7" is a resistance; a voltage is needed here, for example 9.12 V.'),
        ("9.12 xV", 'The unit "xV" is not known. Did you mean V?'),
        ("hello", '"hello" is not a number. Type what the meter shows, for example 9.12 V.'),
        ("-", '"-" is not a number. Type what the meter shows, for example 9.12 V.'),
        ("V", '"V" is not a number. Type what the meter shows, for example 9.12 V.'),
        (".", '"." has no digits. Type the number that the meter shows.'),
        ("1,234", '"1,234" can be read in two ways: 1.234 or 1234. Write 1.234 with a point, or 1234.'),
        ("12,345 V", '"12,345 V" can be read in two ways: 12.345 or 12345. Write 12.345 with a point, or 12345.'),
        ("1,234.5", '"1,234.5" has two decimal marks: it could mean 1.2345 or 1234.5. Use one point and nothing else.'),
        ("1.234,5", '"1.234,5" has two decimal marks: it could mean 1.2345 or 1234.5. Use one point and nothing else.'),
        ("1,234,567", '"1,234,567" has 2 decimal marks: it could mean 1.234567 or 1234567. Use one point or none.'),
        ("9..", '"9.." has more marks than a number needs. Write it with one decimal point.'),
        ("9..12", '"9..12" has 2 decimal marks: it could mean 9.12 or 912. Use one point or none.'),
        ("1 234", '"1 234" has a gap between its digits: it could mean 1.234 or 1234. Write it without the gap.'),
        ("1'234", '"1\'234" has a gap between its digits: it could mean 1.234 or 1234. Write it without the gap.'),
        ("1\u200923", '"1\u200923" has spaces between its digits. Write the number without spaces.'),
        ("9.12 V 3", '"9.12 V 3" holds more than one number with its unit. Type one value alone.'),
        ("9.1–9.3 V", '"9.1-9.3 V" holds more than one number with its unit. Type one value alone.'),
        ("9 V ± 5 %", '"9 V ± 5 %" holds more than one number with its unit. Type one value alone.'),
        ("240 VAC", '"240 VAC" says AC or DC after the unit. The step says which it is: type the number and V.'),
        ("12 V dc", '"12 V dc" says AC or DC after the unit. The step says which it is: type the number and V.'),
        ("1e999999999", '"1e999999999" has a power of ten beyond 30. Check the exponent.'),
        ("1×10^99 V", '"1×10^99 V" has a power of ten beyond 30. Check the exponent.'),
        ("9 x 12 V", '"9 x 12 V" holds more than one number with its unit. Type one value alone.'),
        ("\u200f9.12 V", '"9.12 V" holds a character that cannot be seen (U+200F). Type the value anew.'),
        ("9.12\x00V", '"9.12V" holds a character that cannot be seen (U+0000). Type the value anew.'),
        ("\ud800", "This holds a character that cannot be seen (U+D800). Type the value anew."),
        ("1e99", '"1e99" has a power of ten beyond 30. Check the exponent.'),
        ("1" * 21, f'"{"1" * 21}" has more than 20 digits. Write only those the meter shows.'),
        ("9" * 61, f'"{"9" * 60}…" is longer than a value can be. Type the number and its unit.'),
        ("-OL", '"-OL" is over range with a minus sign. Take it again on a higher range, or with the leads swapped.'),
        ("OL ohm", '"OL ohm" is a resistance; a voltage is needed here, for example 9.12 V.'),
        ("nan", '"nan" is not a number. Type what the meter shows, for example 9.12 V.'),
        ("inf", '"inf" is not a number. Type what the meter shows, for example 9.12 V.'),
        ("٣", '"٣" is not a number. Type what the meter shows, for example 9.12 V.'),
        ("½ V", '"½ V" is not a number. Type what the meter shows, for example 9.12 V.'),
    ],
)
def test_what_cannot_be_a_voltage_is_refused_with_a_sentence(typed, sentence):
    with pytest.raises(EntryProblem) as caught:
        read_reading(typed, **VOLTS)
    assert caught.value.sentence == sentence


@pytest.mark.parametrize(
    ("typed", "kind", "unit", "sentence"),
    [
        ("9.12", Kind.voltage, "", '"9.12" has no unit. Write for example 9.12 V.'),
        (
            "-5",
            Kind.resistance,
            "ohm",
            '"-5": a resistance is never below zero. Null the leads again and repeat the reading.',
        ),
        (
            "-0.02 ohm",
            Kind.resistance,
            "",
            '"-0.02 ohm": a resistance is never below zero. Null the leads again and repeat the reading.',
        ),
        ("-5 m", Kind.length, "", '"-5 m": a length is never below zero. Check the sign.'),
        ("-300", Kind.temperature, "°C", '"-300" is colder than anything can be. Check the sign and the unit.'),
        ("5 m", Kind.time, "s", '"5 m" is a length; a time is needed here, for example 9.12 s.'),
        ("4k7 kohm", Kind.resistance, "", '"4k7 kohm" has two prefixes. Write for example 4.7 kohm.'),
        ("4k7", Kind.temperature, "°C", '"4k7" cannot be read as a temperature. Write for example 9.12 °C.'),
        ("4G7", Kind.capacitance, "", '"4G7" cannot be read as a capacitance. Write for example 4.7 µF.'),
        ("5 furlong", Kind.length, "m", 'The unit "furlong" is not known. For a length, write for example m.'),
    ],
)
def test_what_cannot_be_of_its_kind_is_refused_with_a_sentence(typed, kind, unit, sentence):
    with pytest.raises(EntryProblem) as caught:
        read_reading(typed, kind=kind, unit=unit)
    assert caught.value.sentence == sentence


@pytest.mark.parametrize(
    ("typed", "kind", "si"),
    [
        ("23 C", Kind.temperature, 23.0),
        ("-5 °C", Kind.temperature, -5.0),
        ("296.15 K", Kind.temperature, 23.0),
        ("5 K", Kind.temperature_difference, 5.0),
        ("4n7", Kind.capacitance, 4.7e-9),
        ("470u", Kind.capacitance, 470e-6),
        ("16 mfd", Kind.capacitance, 16e-6),
        ("0.75 mm²", Kind.area, 0.75e-6),
        ("90 s", Kind.time, 90.0),
        ("1.5 min", Kind.time, 90.0),
        ("50 Hz", Kind.frequency, 50.0),
        ("33.3 rpm", Kind.frequency, 0.555),
        ("19 cm/s", Kind.speed, 0.19),
        ("8 VA", Kind.power, 8.0),
        ("0.2", Kind.ratio, 0.2),
        ("14 %", Kind.ratio, 0.14),
        ("5m", Kind.length, 5.0),
    ],
)
def test_other_kinds_as_they_are_typed(typed, kind, si):
    assert read_reading(typed, kind=kind).si == pytest.approx(si, rel=1e-15)


@pytest.mark.parametrize(
    ("typed", "kind", "shown"),
    [
        ("4k7", Kind.resistance, "4.7 kohm"),
        ("4n7", Kind.capacitance, "4.7 nF"),
        ("47k", Kind.resistance, "47 kohm"),
        ("1.5M", Kind.resistance, "1.5 Mohm"),
        ("100n", Kind.capacitance, "100 nF"),
        ("4.7u", Kind.capacitance, "4.7 µF"),
        ("300 K", Kind.temperature_difference, "300 K"),
        ("3V3", Kind.voltage, "3.3 V"),
        ("9.12 V", Kind.voltage, "9.12 V"),
        (">20 Mohm", Kind.resistance, "> 20 Mohm"),
        ("< 10 mA", Kind.current, "< 10 mA"),
        ("9.12", Kind.ratio, "9.12"),
    ],
)
def test_where_any_kind_will_do_the_text_says_which(typed, kind, shown):
    reading = read_reading(typed, kind=None)
    assert reading.quantity.unit.kind is kind
    assert str(reading) == shown
    assert read_reading("OL", kind=None).quantity is None


def test_a_letter_that_could_be_a_thousand_or_a_kelvin_is_refused_with_both():
    with pytest.raises(EntryProblem) as caught:
        read_reading("470K", kind=None)
    assert caught.value.sentence == ('"470K" can be read in two ways: 470 kohm or 470 kelvin. Write the unit in full.')
    assert read_reading("470K", kind=Kind.resistance).si == 470e3  # IEC 60062 spells it so
    assert read_reading("470K", kind=Kind.temperature_difference).si == 470


def test_decimal_values_stay_exact():
    assert read_quantity("10.8 V").si_exact == Decimal("10.8")
    assert read_quantity("9120 mV").si_exact == Decimal("9.12")
    assert read_quantity("0.1 ohm").si_exact + read_quantity("0.2 ohm").si_exact == Decimal("0.3")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("240 V", "240 V"),
        ("4k7", "4.7 kohm"),
        ("4n7", "4.7 nF"),
        ("4m7", "4.7 mF"),
        ("4m7 ohm", "4.7 mohm"),
        ("4m7 H", "4.7 mH"),
        ("5 %", "5 %"),
        ("9.12", "9.12"),
        ("5 furlong", "5 furlong"),
    ],
)
def test_a_quantity_of_any_kind_is_read_from_files(text, shown):
    assert str(read_quantity(text)) == shown


def test_the_last_digit_has_its_weight_in_si_units_too():
    assert read_reading("9120 mV", **VOLTS).si_step == 0.001
    assert read_reading("4k7", **OHMS).si_step == 100.0
    assert read_reading("OL", **OHMS).si_step is None


def test_a_reading_is_described_for_programs():
    assert describe_reading(read_reading(">20 Mohm", **OHMS)) == {
        "typed": ">20 Mohm",
        "value": "20",
        "unit": "Mohm",
        "kind": "resistance",
        "bound": "above",
        "si": 20e6,
        "step": "1",
    }
    assert describe_reading(read_reading("OL", **OHMS)) == {
        "typed": "OL",
        "value": None,
        "unit": None,
        "kind": None,
        "bound": "above",
        "si": None,
        "step": None,
    }


@pytest.mark.parametrize(
    ("typed", "kind", "lower", "upper", "doubt"),
    [
        ("2 mohm", Kind.resistance, 1e6, None, "2 mohm is far from what is expected here. Did you mean 2 Mohm?"),
        ("50 ohm", Kind.resistance, None, 0.1, "50 ohm is far from what is expected here. Did you mean 50 mohm?"),
        ("9120 V", Kind.voltage, 8.1, 9.9, "9120 V is far from what is expected here. Did you mean 9120 mV?"),
        ("9.12 mV", Kind.voltage, 8.1, 9.9, "9.12 mV is far from what is expected here. Did you mean 9.12 V?"),
        ("9.12 V", Kind.voltage, 8.1, 9.9, ""),
        ("30 V", Kind.voltage, 8.1, 9.9, ""),
        ("0 V", Kind.voltage, 8.1, 9.9, ""),
        ("OL", Kind.resistance, None, 0.1, ""),
        (">20 Mohm", Kind.resistance, None, 0.1, ""),
        ("1 mohm", Kind.resistance, None, None, ""),
        ("5 min", Kind.time, 0.001, 0.002, ""),
    ],
)
def test_a_slip_of_the_prefix_is_asked_about(typed, kind, lower, upper, doubt):
    assert doubt_about(read_reading(typed, kind=kind), lower, upper) == doubt
