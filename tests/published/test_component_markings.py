"""IEC 60062:2016 with amendment 1:2019 (BS 1852): letter-and-digit codes and colours. Status beside each table."""

from decimal import Decimal

import pytest

from benchapp.quantities.colours import read_colours
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.quantities.markings import read_marking, write_marking

VALUES = [  # confirmed (encyclopedia)
    ("R47", Kind.resistance, "0.47"),
    ("4R7", Kind.resistance, "4.7"),
    ("470R", Kind.resistance, "470"),
    ("4K7", Kind.resistance, "4.7e3"),
    ("47K3", Kind.resistance, "47.3e3"),
    ("470K", Kind.resistance, "470e3"),
    ("4M7", Kind.resistance, "4.7e6"),
    ("1K0", Kind.resistance, "1e3"),
    ("2M2", Kind.resistance, "2.2e6"),
    ("10p", Kind.capacitance, "10e-12"),
    ("4n7", Kind.capacitance, "4.7e-9"),
    ("1K5", Kind.resistance, "1.5e3"),  # calculated by the same rule
]


@pytest.mark.parametrize(("code", "kind", "value"), VALUES)
def test_a_published_code_reads_as_its_value(code, kind, value):
    assert read_marking(code).quantity.si_exact == Decimal(value)
    assert read_marking(code).quantity.unit.kind is kind
    assert read_reading(code, kind=kind).quantity.si_exact == Decimal(value)


@pytest.mark.parametrize(("code", "kind", "value"), VALUES)
def test_a_value_is_written_as_the_published_code(code, kind, value):
    assert write_marking(Decimal(value), kind) == code


def test_a_code_that_begins_with_its_letter_is_a_fraction():
    assert read_marking("u47").quantity.si_exact == Decimal("0.47e-6")  # calculated by the same rule


@pytest.mark.parametrize(
    ("letter", "per_cent"),
    [
        *[("F", "1"), ("J", "5"), ("K", "10"), ("M", "20")],  # confirmed (encyclopedia)
        *[("B", "0.1"), ("C", "0.25"), ("D", "0.5"), ("G", "2")],  # from memory
    ],
)
def test_a_letter_after_the_value_is_its_tolerance(letter, per_cent):
    marking = read_marking(f"4K7{letter}")
    assert marking.quantity.si_exact == 4700
    assert str(marking.tolerance) == f"{per_cent} %"


def test_k_and_m_are_multipliers_inside_the_value_and_tolerances_after_it():
    assert str(read_marking("4K7K").quantity) == "4.7 kohm"
    assert str(read_marking("4K7K").tolerance) == "10 %"
    assert str(read_marking("4M7M").quantity) == "4.7 Mohm"
    assert str(read_marking("4M7M").tolerance) == "20 %"
    assert read_marking("470K").tolerance is None


def test_small_capacitors_have_absolute_tolerances():  # from memory
    assert str(read_marking("4p7C").tolerance) == "0.25 pF"
    assert str(read_marking("47pJ").tolerance) == "5 %"


DIGITS = ["black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white"]  # confirmed


@pytest.mark.parametrize(("digit", "colour"), list(enumerate(DIGITS)))
def test_each_colour_is_its_digit_and_its_power_of_ten(digit, colour):
    (reading,) = read_colours(["brown", colour, "black", "gold"])
    assert reading.resistance.value == 10 + digit
    (reading,) = read_colours(["brown", "black", colour, "gold"])
    assert reading.resistance.value == 10 * Decimal(10) ** digit


@pytest.mark.parametrize(("colour", "factor"), [("gold", "0.1"), ("silver", "0.01"), ("pink", "0.001")])  # confirmed
def test_metal_colours_and_pink_divide(colour, factor):
    (reading,) = read_colours(["yellow", "violet", colour, "gold"])
    assert reading.resistance.value == 47 * Decimal(factor)


@pytest.mark.parametrize(  # confirmed (reference pages)
    ("colour", "per_cent"),
    [
        ("brown", "1"),
        ("red", "2"),
        ("green", "0.5"),
        ("blue", "0.25"),
        ("violet", "0.1"),
        ("gold", "5"),
        ("silver", "10"),
    ],
)
def test_each_colour_is_its_tolerance(colour, per_cent):
    (reading,) = read_colours(["yellow", "violet", "red", colour])
    assert str(reading.tolerance) == f"{per_cent} %"
    assert str(reading.resistance) == "4700 ohm"


def test_no_fourth_band_is_twenty_per_cent():  # confirmed (reference pages)
    (reading,) = read_colours(["yellow", "violet", "red"])
    assert str(reading.tolerance) == "20 %"


@pytest.mark.parametrize(
    ("colour", "present", "older"),
    [
        ("orange", "0.05", "3"),  # confirmed (reference pages; encyclopedia copy for older parts)
        ("yellow", "0.02", "4"),  # confirmed (reference pages; encyclopedia copy for older parts)
        ("grey", "0.01", "0.05"),  # 0.01 from memory; a public chart has 0.05
    ],
)
def test_a_colour_that_has_meant_two_tolerances_offers_both(colour, present, older):
    now, then = read_colours(["yellow", "violet", "red", colour])
    assert (str(now.tolerance), str(then.tolerance)) == (f"{present} %", f"{older} %")
    assert "older" in now.note
    assert "older" in then.note
    assert now.resistance == then.resistance


def test_five_and_six_bands_have_three_digits():
    (reading,) = read_colours(["yellow", "violet", "black", "brown", "brown"])
    assert str(reading.resistance) == "4700 ohm"
    assert reading.temperature_coefficient is None
    (reading,) = read_colours(["yellow", "violet", "black", "brown", "brown", "red"])
    assert reading.temperature_coefficient == 50  # from memory
