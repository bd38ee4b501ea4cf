"""Uncertainties of readings worked at once: every entry equals the one-by-one budget."""

import math

import numpy as np
import pytest

from benchapp.judgement.columns.uncertainty import uncertainty_of_columns
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.readings import uncertainty_of


def optional(number: float) -> float | None:
    return None if math.isnan(number) else float(number)


@pytest.mark.parametrize(
    ("meter", "function", "span"),
    [
        ("tb-m1", Function.dc_voltage, (1e-4, 900)),
        ("tb-m2", Function.ac_voltage, (1e-3, 600)),
        ("tb-m1", Function.resistance, (1e-2, 5e7)),
        ("tb-it1", Function.insulation, (1e4, 9e8)),
    ],
)
def test_uncertainties_of_columns_equal_those_of_readings(meters, meter, function, span):
    rng = np.random.default_rng(3)
    values = np.exp(rng.uniform(*np.log(span), 500)) * rng.choice([1, -1], 500)
    tops = np.array([one.full_scale for one in meters[meter].function(function).ranges])
    values[:100] = rng.choice([0.0, 0.91, 0.95, 1.0], 100) * rng.choice(tops, 100)
    steps = rng.choice([0.0, 1e-3, 1e-2, 0.1, 10.0, 1e4, 1e5], 500)
    leads = rng.choice([0.0, 0.2, np.nan], 500)
    found = uncertainty_of_columns(meters[meter], function, values, steps, leads)
    for location in range(500):
        expected = uncertainty_of(
            meters[meter],
            function,
            float(values[location]),
            step=float(steps[location]),
            lead_resistance=optional(leads[location]),
        )
        assert found.standards[location] == pytest.approx(expected.standard, rel=1e-12)
        assert found.dominants[location] == pytest.approx(expected.dominant, rel=1e-12)
        assert found.others[location] == pytest.approx(expected.others, rel=1e-12)


def test_a_value_beyond_the_meter_has_no_uncertainty(meters):
    found = uncertainty_of_columns(meters["tb-m1"], Function.dc_voltage, np.array([5.0, 2000.0]), np.zeros(2))
    assert np.isnan(found.standards).tolist() == [False, True]
    assert found.dominants[1] == 0.0
