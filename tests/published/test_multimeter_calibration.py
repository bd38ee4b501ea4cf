"""EA-4/02 supplements S9 (hand-held digital multimeter at 100 V DC) and S2 (10 kg weight); accuracy statements.

S9 from memory, arithmetic recomputed; S2 confirmed (2022 edition). Digit sizes of the accuracy statements: university
lab notes and a school sheet (confirmed); sums derived.
"""

from math import hypot, sqrt

import pytest

from benchapp.judgement.meters.accuracy import parse_accuracy
from benchapp.judgement.uncertainty.blurred_rectangle import reach
from benchapp.judgement.uncertainty.budget import Source, combine
from benchapp.judgement.uncertainty.propagation import Measured, propagate
from benchapp.judgement.uncertainty.simulation import disagreement, monte_carlo
from benchapp.judgement.uncertainty.uncertainty import Distribution
from benchapp.quantities.dimensions import Kind


def error(values):
    return values["indication"] - values["calibrator"]


INPUTS = {
    "indication": Measured(value=100.1, uncertainty=combine([Source("resolution of 0.1 V", 0.05)])),
    "calibrator": Measured(
        value=100.0,
        uncertainty=combine([Source("certificate", 0.002 / 2, Distribution.normal), Source("other effects", 0.011)]),
    ),
}
BUDGET = combine(
    [
        Source("resolution of 0.1 V", 0.05),
        Source("certificate", 0.002 / 2, Distribution.normal, -1.0),
        Source("other effects", 0.011, Distribution.rectangular, -1.0),
    ]
)


def test_the_budget_of_the_multimeter():
    rows = {row.source: row.contribution for row in BUDGET.budget}
    assert rows["resolution of 0.1 V"] == pytest.approx(0.028868, abs=1e-6)
    assert rows["certificate"] == pytest.approx(0.001)
    assert rows["other effects"] == pytest.approx(0.006351, abs=1e-6)
    assert BUDGET.standard == pytest.approx(0.029575, abs=1e-6)


def test_one_rectangular_source_dominates_so_the_coverage_factor_is_1_65():
    """The document takes the factor of the rectangle alone; what the others add to it shows only behind its digits."""
    alone = combine([Source("resolution of 0.1 V", 0.05)])
    k = reach(0.025, alone.dominant, alone.others) / alone.standard
    assert k == pytest.approx(1.645448, abs=1e-6)
    assert k * BUDGET.standard == pytest.approx(0.05, abs=0.002)
    assert BUDGET.dominant == pytest.approx(0.05)
    assert BUDGET.others == pytest.approx(hypot(0.001, 0.006351), abs=1e-6)
    assert round(BUDGET.expanded, 2) == 0.05, "what decisions use, at 95.45 %"
    assert round(2 * BUDGET.standard, 2) == 0.06, "k = 2 would be the wrong answer here"


def test_the_shape_gives_the_half_width_that_monte_carlo_gives():
    """0.05055 V: four million draws of the three terms, beside the document; its rest is not quite normal."""
    assert reach(0.025, BUDGET.dominant, BUDGET.others) == pytest.approx(0.05055, rel=0.01)


def test_monte_carlo_gives_the_half_width_of_the_rectangle():
    drawn = monte_carlo(error, INPUTS, draws=1_000_000, probability=0.95)
    assert 0.5 * (drawn.high - drawn.low) == pytest.approx(0.05055, abs=2e-4)
    assert drawn.mean == pytest.approx(0.1, abs=1e-4)


def test_the_linear_answer_and_monte_carlo_disagree_and_it_is_said():
    note = disagreement(propagate(error, INPUTS), monte_carlo(error, INPUTS), Kind.voltage)
    assert "disagree" in note


# S2: standard 22.5 mg, drift 8.66, comparator 14.4, eccentricity and air buoyancy 5.77 each
def test_the_budget_of_the_weight():
    parts = (22.5, 8.66, 14.4, 5.77, 5.77)
    found = combine([Source(f"part {n}", value, Distribution.normal) for n, value in enumerate(parts)])
    assert found.standard == pytest.approx(29.2437, abs=1e-3)
    assert found.expanded == pytest.approx(58, abs=0.5)


# College of St Benedict/St John's University, fit-error notes; a school sheet of practical skills
@pytest.mark.parametrize(
    ("text", "reading", "digit", "half_width"),
    [
        ("0.5 % + 1 digit", 1.4869, 0.0001, 0.0075345),
        ("0.1 % + 4 digits", 166.51, 0.01, 0.20651),
        ("2 %", 100.0, 0.1, 2.0),
        ("2 % + 2 digits", 100.0, 0.1, 2.2),
    ],
)
def test_half_width_of_an_accuracy_statement(text, reading, digit, half_width):
    assert parse_accuracy(text).half_width(reading, digit, 0.0) == pytest.approx(half_width, rel=1e-9)


def test_a_half_width_of_2_2_volts_is_a_standard_uncertainty_of_1_27():
    assert combine([Source("accuracy", 2.2)]).standard == pytest.approx(2.2 / sqrt(3))
    assert combine([Source("accuracy", 2.2)]).standard == pytest.approx(1.270171, abs=1e-6)
