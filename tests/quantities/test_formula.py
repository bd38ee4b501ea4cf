"""Formulas: what they come to, exactly; what does not fit together, and where."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities.dimensions import Dimension, Kind
from benchapp.quantities.formula import parse_formula
from benchapp.quantities.problems import FormulaProblem

KINDS = {
    "mains": Kind.voltage,
    "low": Kind.voltage,
    "live-voltage.mains": Kind.voltage,
    "r1": Kind.resistance,
    "current": Kind.current,
    "share": Kind.ratio,
}
EXACT = {
    "mains": Decimal(240),
    "low": Decimal("9.12"),
    "live-voltage.mains": Decimal(230),
    "r1": Decimal(480),
    "current": Decimal("0.5"),
    "share": Decimal("0.2"),
}
FLOATS = {name: float(value) for name, value in EXACT.items()}


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("9 V * (1 + 20 %)", Kind.voltage, "10.8"),
        ("9 V * mains / (240 V) * (1 + 14 %)", Kind.voltage, "10.26"),
        ("live-voltage.mains - low", Kind.voltage, "220.88"),
        ("mains - low", Kind.voltage, "230.88"),
        ("mains -low", Kind.voltage, "230.88"),
        ("-low + mains", Kind.voltage, "230.88"),
        ("--low", Kind.voltage, "9.12"),
        ("mains / r1", Kind.current, "0.5"),
        ("mains * current", Kind.power, "120"),
        ("mains^2 / r1", Kind.power, "120"),
        ("mains**2 ÷ r1", Kind.power, "120"),
        ("mains × current", Kind.power, "120"),
        ("2 * 3 + 4 * 5", Kind.ratio, "26"),
        ("2 - 3 - 4", Kind.ratio, "-5"),
        ("16 / 4 / 2", Kind.ratio, "2"),
        ("-2^2", Kind.ratio, "-4"),
        ("2^-2", Kind.ratio, "0.25"),
        ("sqrt(mains * current * r1)", Kind.voltage, "240"),
        ("abs(low - mains)", Kind.voltage, "230.88"),
        ("min(mains, low, 5 V)", Kind.voltage, "5"),
        ("max(mains, low, 5 V)", Kind.voltage, "240"),
        ("4k7 + 300 ohm", Kind.resistance, "5000"),
        ("1.5 Mohm", Kind.resistance, "1500000"),
        ("5 m/s * 3 s", Kind.length, "15"),
        ("1e-3 V", Kind.voltage, "0.001"),
        (".5V", Kind.voltage, "0.5"),
        ("20 °C + 5 K", Kind.temperature, "25"),
        ("0.1 ohm + 0.2 ohm", Kind.resistance, "0.3"),
    ],
)
def test_a_formula_comes_to_its_value_in_si_units(text, kind, value):
    formula = parse_formula(text)
    assert formula.check(KINDS) == kind.dimension
    assert formula.value(EXACT) == Decimal(value)
    assert float(formula.value(FLOATS)) == pytest.approx(float(value), rel=1e-14)


@pytest.mark.parametrize(
    ("text", "truth"),
    [
        ("abs(low - mains) <= 5 % * mains", False),
        ("low < mains", True),
        ("low ≥ 9.12 V", True),
        ("low = 9.12 V", True),
        ("low == 9120 mV", True),
        ("low != 9.12 V", False),
        ("low ≠ mains", True),
    ],
)
def test_a_comparison_is_true_or_false(text, truth):
    formula = parse_formula(text)
    assert formula.is_comparison
    assert formula.check(KINDS) == Kind.ratio.dimension
    assert formula.value(EXACT) is truth
    assert formula.value(FLOATS) is truth


@pytest.mark.parametrize(
    ("text", "position"),
    [
        ("low / mains * 100", 14),
        ("100 * low / mains", 0),
        ("-(100 * (low / mains))", 2),
        ("low / mains", None),
        ("low / (100 * mains)", None),
        ("low / mains * 100 %", None),
        ("low / mains + 100", None),
        ("low * 1000", None),
    ],
)
def test_a_bare_hundred_among_the_factors_is_found(text, position):
    assert parse_formula(text).factor_of_100 == position


def test_names_are_those_that_need_a_value():
    assert parse_formula("max(mains, low) * 5 % + live-voltage.mains").names == {"mains", "low", "live-voltage.mains"}
    assert parse_formula("min(1 V, 2 V)").names == frozenset()


def test_arrays_are_worked_out_element_by_element():
    formula = parse_formula("max(low, 2 V) * sqrt(share) + abs(-low)")
    low = np.array([1.0, 9.0])
    result = formula.value({"low": low, "share": 0.25})
    assert result == pytest.approx(np.maximum(low, 2) * 0.5 + low)
    assert parse_formula("low < 5 V").value({"low": low}).tolist() == [True, False]


def test_elements_without_a_value_are_nan_or_infinite_and_the_rest_stands():
    result = parse_formula("1 V / low").value({"low": np.array([0.0, 2.0])})
    assert result.tolist() == [np.inf, 0.5]
    assert np.isnan(parse_formula("sqrt(low)").value({"low": np.array([-1.0])})).all()


def test_decimal_and_float_values_may_be_mixed():
    assert parse_formula("mains - low").value({"mains": Decimal(240), "low": 9.5}) == 230.5


@pytest.mark.parametrize(
    ("text", "position", "sentence"),
    [
        ("", 0, "The formula is empty"),
        ("mains +", 7, "The formula breaks off; a number, a name or a bracket is needed"),
        ("(mains", 6, '")" is missing'),
        ("mains)", 5, '")" closes a bracket that was never opened'),
        ("mains low", 6, '"low" stands here without an operator before it'),
        ("2 foo", 2, '"foo" is no unit; between a number and a name stands an operator'),
        ("2 mains", 2, '"mains" is no unit; between a number and a name stands an operator'),
        ("3 V mains", 4, '"mains" stands here without an operator before it'),
        ("1,5 V", 1, "Decimals in a formula are written with a point: 1.5…"),
        ("mx(1 V, 2 V)", 0, '"mx" is no function; did you mean max?'),
        ("print(1)", 0, '"print" is no function; there are abs, max, min, sqrt'),
        ("min(1 V)", 0, "min takes two arguments or more"),
        ("sqrt(1, 2)", 0, "sqrt takes one argument, not 2; decimals are written with a point"),
        ("mains ^ 99", 8, "A power is a whole number from -9 to 9"),
        ("mains ^ low", 8, "A power is a whole number from -9 to 9"),
        ("2 ^ 3 ^ 2", 6, "A power of a power needs brackets"),
        ("1 < 2 < 3", 6, "A formula compares only once"),
        ("max(1 < 2, 3)", 6, '")" is missing'),
        ("mains.__class__", 5, '".__class__" stands here without an operator before it'),
        ("mains[0]", 5, '"[0]" stands here without an operator before it'),
        ("'a'", 0, '"\'" cannot stand here; a number, a name or a bracket is needed'),
        ("lambda: 1", 6, '": 1" stands here without an operator before it'),
        ("(" * 31 + "1" + ")" * 31, 30, "The formula has more than 30 brackets inside each other"),
        ("+".join(["1"] * 150), 201, "The formula has more than 200 parts. Split it into several steps"),
        ("9V-low", 1, '"V-low" is no unit; between a number and a name stands an operator'),
    ],
)
def test_what_cannot_be_read_is_refused_at_its_character(text, position, sentence):
    with pytest.raises(FormulaProblem) as caught:
        parse_formula(text)
    assert caught.value.position == position
    assert caught.value.sentence.startswith(f"{sentence} (character {position + 1} of the formula")


def test_a_formula_too_long_is_refused():
    with pytest.raises(FormulaProblem, match="The formula has 501 characters; 500 are allowed"):
        parse_formula("1" * 501)


@pytest.mark.parametrize(
    ("text", "position", "sentence"),
    [
        ("mains + r1", 6, "A resistance cannot be added to a voltage."),
        ("mains - 5 %", 6, "A ratio cannot be taken from a voltage. To change it by a share, write value * (1 - 5 %)."),
        ("mains < r1", 6, "A voltage cannot be compared with a resistance."),
        ("max(mains, r1)", 11, "max needs values of one kind: a voltage and a resistance do not go together."),
        ("sqrt(mains)", 0, "The square root of a voltage is not a quantity."),
        ("mains + mains * mains", 6, "A quantity in V² cannot be added to a voltage."),
        ("1 + mians", 4, '"mians" is not known here. Did you mean mains?'),
        ("1 + quux", 4, '"quux" is not known here. It must be an earlier step or a value of the equipment.'),
        ("mains-low", 0, '"mains-low" is not known here. To subtract, put spaces round the sign: mains - low.'),
        ("low-r-mains", 0, '"low-r-mains" is not known here. Did you mean mains?'),
        ("low²", 0, '"low²" is not known here. To raise it to a power, write low^2.'),
        ("mains-2", 0, '"mains-2" is not known here. To subtract, put spaces round the sign: mains - 2.'),
        ("(mains^9)^9", 9, "The powers of the units grow beyond any quantity."),
    ],
)
def test_parts_that_do_not_fit_are_refused_when_the_file_is_read(text, position, sentence):
    with pytest.raises(FormulaProblem) as caught:
        parse_formula(text).check(KINDS)
    assert caught.value.position == position
    assert caught.value.sentence == sentence


@pytest.mark.parametrize("values", [EXACT, FLOATS], ids=["decimal", "float"])
@pytest.mark.parametrize(
    ("text", "position", "sentence"),
    [
        ("1 V / (low - 9.12 V)", 4, "The formula divides by zero with these readings (character 5)."),
        ("(low - 9.12 V)^-1", 14, "The formula divides by zero with these readings (character 15)."),
        (
            "sqrt(low - mains)",
            0,
            "The formula takes the square root of a value below zero with these readings (character 1).",
        ),
        ("missing + 1 V", 0, '"missing" is not known here. It must be an earlier step or a value of the equipment.'),
    ],
)
def test_a_formula_without_a_value_says_why(text, position, sentence, values):
    with pytest.raises(FormulaProblem) as caught:
        parse_formula(text).value(values)
    assert caught.value.position == position
    assert caught.value.sentence == sentence


def test_a_value_beyond_floats_is_refused():
    with pytest.raises(FormulaProblem, match="grows beyond every number"):
        parse_formula("(low^9)^9").value({"low": 1e30})
    with pytest.raises(FormulaProblem, match="no finite value"):
        parse_formula("low * low").value({"low": 1e200})
    with pytest.raises(FormulaProblem, match="no finite value"):
        parse_formula("low + 1 V").value({"low": float("nan")})


def test_a_dimension_may_stand_for_a_kind():
    assert parse_formula("a * 1 V").check({"a": Dimension((0, 0, 0, 1, 0))}) == Kind.power.dimension


def test_formulas_with_the_same_text_are_equal():
    assert parse_formula("1 V") == parse_formula("1 V")
    assert str(parse_formula("1 V + low")) == "1 V + low"


NUMBERS = st.decimals(min_value=Decimal("0.001"), max_value=1000, places=3)
TREES = st.recursive(
    NUMBERS.map(lambda number: (str(number), number)),
    lambda inner: st.tuples(inner, st.sampled_from("+-*"), inner).map(
        lambda parts: (
            f"({parts[0][0]} {parts[1]} {parts[2][0]})",
            {"+": parts[0][1] + parts[2][1], "-": parts[0][1] - parts[2][1], "*": parts[0][1] * parts[2][1]}[parts[1]],
        )
    ),
    max_leaves=8,
)


@given(TREES)
def test_any_formula_of_numbers_agrees_with_decimal_arithmetic(tree):
    text, value = tree
    assert parse_formula(text).value({}) == value


@given(st.floats(-1e6, 1e6), st.floats(0.001, 1e6))
def test_a_float_a_decimal_and_an_array_give_the_same(one, other):
    formula = parse_formula("max(a, b) * 2 - abs(a) / b + sqrt(b * b)")
    plain = formula.value({"a": one, "b": other})
    exact = formula.value({"a": Decimal(one), "b": Decimal(other)})
    array = formula.value({"a": np.array([one]), "b": np.array([other])})
    assert plain == pytest.approx(float(exact), rel=1e-9, abs=1e-9)
    assert plain == pytest.approx(array[0], rel=1e-12)
