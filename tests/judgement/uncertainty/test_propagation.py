"""Values worked out from others, held against the uncertainties library, GTC and Monte Carlo."""

import math

import GTC
import numpy as np
import pytest
from uncertainties import correlated_values, umath

from benchapp.judgement.statements.problems import BudgetProblem
from benchapp.judgement.uncertainty.budget import Source, combine, plain_uncertainty
from benchapp.judgement.uncertainty.propagation import Measured, propagate
from benchapp.judgement.uncertainty.simulation import disagreement, monte_carlo
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.formula import parse_formula
from benchapp.quantities.problems import FormulaProblem

FORMULAS = [
    "a + b - c",
    "a * b / c",
    "a ^ 2 / (b + c)",
    "sqrt(a * b) + c",
    "a / (1 + b / c)",
    "max(a, b, c)",
    "abs(a - 2 * b) * c",
]
AS_PYTHON = {
    "sqrt(a * b) + c": lambda a, b, c: umath.sqrt(a * b) + c,
    "abs(a - 2 * b) * c": lambda a, b, c: umath.sqrt((a - 2 * b) ** 2) * c,
    "max(a, b, c)": lambda a, b, c: max((a, b, c), key=lambda one: one.nominal_value),
}


def in_python(text, a, b, c):
    if text in AS_PYTHON:
        return AS_PYTHON[text](a, b, c)
    return eval(text.replace("^", "**"), {"a": a, "b": b, "c": c})


def measured(value, u, nu=math.inf):
    return Measured(value=value, uncertainty=combine([Source("stated", u, "normal", 1.0, nu)]))


def test_three_thousand_formulas_agree_with_the_uncertainties_library():
    rng = np.random.default_rng(5)
    for number in range(3000):
        text = FORMULAS[number % len(FORMULAS)]
        values = rng.uniform(1, 50, 3) * 10 ** float(rng.integers(-2, 3))
        sizes = values * rng.uniform(1e-4, 0.02, 3)
        factors = rng.normal(size=(3, 5))
        covariance = factors @ factors.T
        spread = np.sqrt(np.diag(covariance))
        r = covariance / np.outer(spread, spread)
        expected = in_python(text, *correlated_values(list(values), r * np.outer(sizes, sizes)))
        found = propagate(
            parse_formula(text).value,
            {name: measured(float(v), float(u)) for name, v, u in zip("abc", values, sizes, strict=True)},
            {("a", "b"): float(r[0, 1]), ("b", "c"): float(r[1, 2]), ("a", "c"): float(r[0, 2])},
        )
        assert found.value == pytest.approx(expected.nominal_value, rel=1e-12)
        largest = max(abs(found.sensitivities[n]) * u for n, u in zip("abc", sizes, strict=True))
        assert found.uncertainty.standard == pytest.approx(expected.std_dev, rel=1e-7, abs=1e-6 * largest)


def test_degrees_of_freedom_of_a_derived_value_agree_with_gtc():
    rng = np.random.default_rng(6)
    for _ in range(500):
        values, sizes = rng.uniform(1, 10, 3), rng.uniform(0.01, 0.2, 3)
        freedoms = [float(n) for n in rng.integers(2, 30, 3)]
        a, b, c = (GTC.ureal(float(v), float(u), n) for v, u, n in zip(values, sizes, freedoms, strict=True))
        expected = a * b / c
        found = propagate(
            parse_formula("a * b / c").value,
            {n: measured(float(v), float(u), nu) for n, v, u, nu in zip("abc", values, sizes, freedoms, strict=True)},
        )
        assert found.uncertainty.standard == pytest.approx(expected.u, rel=1e-8)
        assert found.uncertainty.degrees_of_freedom == pytest.approx(expected.df, rel=1e-7)


def test_an_input_of_zero_has_a_sensitivity_too():
    found = propagate(parse_formula("a * b").value, {"a": measured(0.0, 0.1), "b": measured(3.0, 0.0)})
    assert found.sensitivities["a"] == pytest.approx(3.0)
    assert found.uncertainty.standard == pytest.approx(0.3)


def test_an_input_that_is_exactly_zero_counts_for_nothing():
    found = propagate(parse_formula("a + b").value, {"a": measured(0.0, 0.0), "b": measured(3.0, 0.1)})
    assert found.uncertainty.standard == pytest.approx(0.1)


def test_a_correlation_of_an_unknown_name_is_refused():
    with pytest.raises(BudgetProblem, match="no input"):
        propagate(parse_formula("a + 1").value, {"a": measured(1.0, 0.1)}, {("a", "b"): 0.5})


class TestMonteCarlo:
    def test_agrees_with_the_linear_answer_where_the_formula_is_straight(self):
        inputs = {"a": measured(9.0, 0.05), "b": measured(240.0, 1.2)}
        model = parse_formula("a / b").value
        assert disagreement(propagate(model, inputs), monte_carlo(model, inputs), Kind.ratio) == ""

    def test_disagrees_where_it_bends_and_says_so_in_plain_words(self):
        inputs = {"a": measured(1.0, 0.5)}
        model = parse_formula("a ^ 2").value
        note = disagreement(propagate(model, inputs), monte_carlo(model, inputs), Kind.ratio)
        assert "disagree" in note
        assert "wider of the two" in note

    def test_draws_the_same_again(self):
        inputs = {"a": measured(1.0, 0.5, 4.0)}
        model = parse_formula("a ^ 2").value
        assert monte_carlo(model, inputs) == monte_carlo(model, inputs)

    def test_draws_every_distribution_with_its_own_spread(self):
        for distribution in ("rectangular", "triangular", "U-shaped", "normal"):
            source = Source("one", 0.3, distribution)
            inputs = {"a": Measured(value=2.0, uncertainty=combine([source]))}
            drawn = monte_carlo(parse_formula("a * 1").value, inputs)
            assert drawn.standard == pytest.approx(combine([source]).standard, rel=0.01), distribution
            assert drawn.mean == pytest.approx(2.0, abs=0.005)

    def test_keeps_the_correlation_of_its_inputs(self):
        inputs = {"a": measured(5.0, 0.1), "b": measured(5.0, 0.1)}
        model = parse_formula("a - b").value
        drawn = monte_carlo(model, inputs, {("a", "b"): 0.9})
        assert drawn.standard == pytest.approx(
            propagate(model, inputs, {("a", "b"): 0.9}).uncertainty.standard, rel=0.02
        )

    def test_a_formula_without_a_value_for_most_draws_is_a_sentence(self):
        inputs = {"a": Measured(value=-4.0, uncertainty=plain_uncertainty(0.1))}
        with pytest.raises((BudgetProblem, FormulaProblem)):
            monte_carlo(parse_formula("sqrt(a)").value, inputs)
