"""Component markings and preferred values: behaviour at the edges. The tables are held in tests/published."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities.colours import read_colours
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.markings import read_marking, write_marking
from benchapp.quantities.preferred import Series, is_preferred, preferred_value, series_of, series_values
from benchapp.quantities.problems import EntryProblem


@given(st.integers(1, 9999), st.integers(-2, 8))
def test_a_resistance_written_in_the_code_reads_back(digits, power):
    value = Decimal(digits).scaleb(power)
    assert read_marking(write_marking(value, Kind.resistance)).quantity.si_exact == value


@given(st.integers(1, 999), st.integers(-12, -4))
def test_a_capacitance_written_in_the_code_reads_back(digits, power):
    value = Decimal(digits).scaleb(power)
    assert read_marking(write_marking(value, Kind.capacitance, "K")).quantity.si_exact == value


@pytest.mark.parametrize("text", ["", "4", "K", "47", "4.7K", "4K7K7", "4X7", "K47K7", "OL", "4K7z"])
def test_what_is_no_code_is_refused(text):
    with pytest.raises(EntryProblem, match="is no letter-and-digit code"):
        read_marking(text)


def test_an_unknown_tolerance_letter_is_refused():
    with pytest.raises(
        EntryProblem, match="the tolerance letter Z is not known; there are A, B, C, D, F, G, J, K, M, N"
    ):
        read_marking("4K7Z")


@pytest.mark.parametrize(
    ("value", "kind", "sentence"),
    [
        ("12345", Kind.resistance, "at most 4 digits, above zero"),
        ("0", Kind.resistance, "at most 4 digits, above zero"),
        ("-1", Kind.resistance, "at most 4 digits, above zero"),
        ("NaN", Kind.resistance, "at most 4 digits, above zero"),
        ("1e-9", Kind.resistance, "outside the range of the code"),
        ("1e30", Kind.resistance, "outside the range of the code"),
        ("5", Kind.voltage, "no way to write a voltage"),
    ],
)
def test_what_the_code_cannot_write_is_refused(value, kind, sentence):
    with pytest.raises(EntryProblem, match=sentence):
        write_marking(Decimal(value), kind)


@pytest.mark.parametrize(
    ("bands", "sentence"),
    [
        (["red", "red"], "A resistor has three to six bands, not 2."),
        (["gold", "violet", "yellow"], "Band 1 cannot be gold: it stands for no digit. Turn the part round"),
        (["red", "gold", "red", "gold"], "Band 2 cannot be gold: it stands for no digit."),
        (["red", "red", "red", "black"], "A band that gives the tolerance cannot be black."),
        (["red", "vilet", "red"], '"vilet" is no colour of the code. Did you mean violet?'),
        (["red", "red", "red", "red", "red", "gold"], "A band that gives the temperature coefficient cannot be gold."),
    ],
)
def test_bands_that_say_nothing_are_refused(bands, sentence):
    with pytest.raises(EntryProblem) as caught:
        read_colours(bands)
    assert caught.value.sentence.startswith(sentence)


def test_other_names_of_colours_are_known():
    assert read_colours(["Gray", "PURPLE", " red ", "no band"]) == read_colours(["grey", "violet", "red"])


@given(st.sampled_from(Series), st.decimals(min_value=Decimal("1e-12"), max_value=Decimal("1e12"), allow_nan=False))
def test_the_nearest_preferred_value_is_preferred_and_none_is_nearer(series, value):
    nearest = preferred_value(value, series)
    assert is_preferred(nearest, series)
    scale = nearest.adjusted()
    others = [
        Decimal(v).scaleb(p - (len(str(v)) - 1)) for v in series_values(series) for p in (scale - 1, scale, scale + 1)
    ]
    distance = max(nearest / value, value / nearest)
    assert all(max(other / value, value / other) >= distance for other in others)


@given(st.sampled_from(Series), st.data())
def test_every_preferred_value_is_its_own_nearest_in_any_decade(series, data):
    value = Decimal(data.draw(st.sampled_from(series_values(series)))).scaleb(data.draw(st.integers(-12, 9)))
    assert preferred_value(value, series) == value
    assert is_preferred(float(value), series)


def test_the_coarsest_series_is_named_and_old_values_are_in_none():
    assert series_of(4700.0) is Series.E3
    assert series_of(Decimal("0.82")) is Series.E12
    assert series_of(49900) is Series.E96
    assert series_of(50000) is None


@pytest.mark.parametrize("value", [0, -1, float("nan"), float("inf")])
def test_what_has_no_decade_has_no_preferred_value(value):
    with pytest.raises(EntryProblem, match="has no preferred value near it"):
        preferred_value(value, Series.E12)
