"""JCGM 100:2008 (GUM): its examples, with the digits it prints and the digits of an unrounded chain.

Confirmed in the text or in public transcriptions: 4.4.3, G.4.1, table G.2, H.1, H.2. From memory, arithmetic
recomputed: 4.3.3, 4.3.4, 4.3.7 example 2 and 5.1.5. Many printed results were worked from rounded values in between:
the printed digits are tested at their own precision.
"""

from math import cos, inf, sin, sqrt
from typing import ClassVar

import pytest

from benchapp.judgement.meters.accuracy import parse_accuracy
from benchapp.judgement.uncertainty.blurred_rectangle import reach
from benchapp.judgement.uncertainty.budget import (
    Source,
    combine,
    coverage_factor,
    plain_uncertainty,
    repeated_source,
    standard_deviation,
)
from benchapp.judgement.uncertainty.propagation import Measured, propagate
from benchapp.judgement.uncertainty.simulation import monte_carlo
from benchapp.judgement.uncertainty.uncertainty import Distribution

TEMPERATURES = (
    96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
    100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
)  # fmt: skip


# 4.4.3, table 1: twenty readings of a temperature
def test_type_a_of_twenty_temperatures():
    assert standard_deviation(TEMPERATURES) == pytest.approx(1.4888444830595, rel=1e-12)
    source = repeated_source("temperature", TEMPERATURES)
    assert source.value == pytest.approx(0.3329157472047, rel=1e-12)
    assert source.degrees_of_freedom == 19


# 4.3.7, 4.3.9, H.1.3.4, F.2.2.1: divisors of type B
@pytest.mark.parametrize(
    ("half_width", "distribution", "standard"),
    [
        (1.0, Distribution.rectangular, 0.577350),
        (1.0, Distribution.triangular, 0.408248),
        (0.5, Distribution.u_shaped, 0.353553),
        (0.5, Distribution.rectangular, 0.288675),  # a digital step of 1: 0.29 of the step
        (4.0, Distribution.rectangular, 2.309401),  # 4.4.5: 96 to 104 °C, 2.3 °C
        (4.0, Distribution.triangular, 1.632993),  # 4.4.6: 1.6 °C
        (0.40e-6, Distribution.rectangular, 0.230940e-6),  # 4.3.7 example 1: 0.23e-6 per °C (from memory)
    ],
)
def test_type_b_by_distribution(half_width, distribution, standard):
    assert combine([Source("limits", half_width, distribution)]).standard == pytest.approx(standard, rel=3e-6)


# 4.3.3 and 4.3.4: certificates with a stated multiple or level (from memory)
def test_type_b_from_a_certificate():
    assert combine([Source("mass", 240e-6 / 3, Distribution.normal)]).standard == pytest.approx(80e-6)
    assert combine([Source("resistor", 129e-6 / 2.58, Distribution.normal)]).standard == pytest.approx(50e-6)


# 4.3.7 example 2 and 5.1.5: a digital voltmeter (from memory)
def test_accuracy_of_reading_and_range_with_repeats():
    accuracy = parse_accuracy("0.0014 % of reading + 0.0002 % of range")
    half_width = accuracy.half_width(0.928571, 0.0, 1.0)
    assert half_width == pytest.approx(14.999994e-6, rel=1e-6)
    assert combine([Source("accuracy", half_width)]).standard == pytest.approx(8.660251e-6, rel=1e-6)
    both = combine([Source("accuracy", half_width), Source("repeats", 12e-6, Distribution.normal)])
    assert both.standard == pytest.approx(14.798647e-6, rel=1e-6)
    assert both.standard / 0.928571 == pytest.approx(16e-6, abs=0.1e-6)


# G.4.1 example: three relative uncertainties with 9, 4 and 14 degrees of freedom
def test_welch_satterthwaite():
    found = combine(
        [
            Source("first", 0.25, Distribution.normal, 1.0, 9),
            Source("second", 0.57, Distribution.normal, 1.0, 4),
            Source("third", 0.82, Distribution.normal, 1.0, 14),
        ]
    )
    assert found.standard == pytest.approx(1.029466, abs=1e-6)
    assert found.degrees_of_freedom == pytest.approx(18.998742, abs=1e-5)
    assert coverage_factor(19, 0.95) == pytest.approx(2.093024, abs=1e-6)
    assert coverage_factor(19, 0.95) * found.standard == pytest.approx(2.1547, abs=1e-4)


# manual of the R package metRology, function w.s: inputs confirmed, result derived
def test_welch_satterthwaite_with_sensitivities():
    sources = [
        Source("a", 0.1, Distribution.normal, 1.0, inf),
        Source("b", 0.3, Distribution.normal, 2.0, 6),
        Source("c", 0.2, Distribution.normal, 3.0, 8),
        Source("d", 1.1, Distribution.normal, 0.5, 3),
    ]
    found = combine(sources)
    assert found.standard == pytest.approx(1.016120, abs=1e-6)
    assert found.degrees_of_freedom == pytest.approx(15.607961, abs=1e-5)


# table G.2: Student's t (spot rows)
@pytest.mark.parametrize(
    ("freedom", "row"),
    [
        (2, (1.32, 2.92, 4.30, 4.53, 9.92, 19.21)),
        (3, (1.20, 2.35, 3.18, 3.31, 5.84, 9.22)),
        (4, (1.14, 2.13, 2.78, 2.87, 4.60, 6.62)),
        (5, (1.11, 2.02, 2.57, 2.65, 4.03, 5.51)),
        (8, (1.07, 1.86, 2.31, 2.37, 3.36, 4.28)),
        (10, (1.05, 1.81, 2.23, 2.28, 3.17, 3.96)),
        (16, (1.03, 1.75, 2.12, 2.17, 2.92, 3.54)),
        (20, (1.03, 1.72, 2.09, 2.13, 2.85, 3.42)),
        (50, (1.01, 1.68, 2.01, 2.05, 2.68, 3.16)),
        (inf, (1.000, 1.645, 1.960, 2.000, 2.576, 3.000)),
    ],
)
def test_table_of_students_t(freedom, row):
    for percent, printed in zip((68.27, 90, 95, 95.45, 99, 99.73), row, strict=True):
        assert coverage_factor(freedom, percent / 100) == pytest.approx(printed, abs=0.0052)


# G.6.5: the coverage factors of a rectangle, p times the square root of three (from memory)
@pytest.mark.parametrize(("probability", "printed"), [(0.95, 1.65), (0.99, 1.71), (1.0 - 1e-9, 1.73)])
def test_coverage_factors_of_a_rectangular_distribution(probability, printed):
    alone = combine([Source("limits", 1.0)])
    k = reach(0.5 * (1.0 - probability), alone.dominant, alone.others) / alone.standard
    assert round(k, 2) == printed


# 7.2.4: 100.02147 g, u = 0.35 mg, 9 degrees of freedom, 95 %
def test_coverage_of_nine_degrees_of_freedom():
    assert coverage_factor(9, 0.95) == pytest.approx(2.262157, abs=1e-6)
    assert coverage_factor(9, 0.95) * 0.35 == pytest.approx(0.791755, abs=1e-6)


class TestEndGauge:
    """H.1: the length of an end gauge, in nm; l = ls + d − ls (δα θ + αs δθ)."""

    difference = combine(
        [
            Source("repeats", 5.8, Distribution.normal, 1.0, 24),
            Source("random effects of the comparator", 3.9, Distribution.normal, 1.0, 5),
            Source("systematic effects of the comparator", 6.7, Distribution.normal, 1.0, 8),
        ]
    )
    inputs: ClassVar = {
        "standard": Measured(
            value=50_000_623.0, uncertainty=combine([Source("certificate", 25.0, Distribution.normal, 1.0, 18)])
        ),
        "difference": Measured(value=215.0, uncertainty=difference),
        "expansion": Measured(value=11.5e-6, uncertainty=combine([Source("limits", 2e-6)])),
        "temperature": Measured(
            value=-0.1,
            uncertainty=combine(
                [Source("mean", 0.2, Distribution.normal), Source("cycle", 0.5, Distribution.u_shaped)]
            ),
        ),
        "expansion difference": Measured(
            value=0.0, uncertainty=combine([Source("limits", 1e-6, Distribution.rectangular, 1.0, 50)])
        ),
        "temperature difference": Measured(
            value=0.0, uncertainty=combine([Source("limits", 0.05, Distribution.rectangular, 1.0, 2)])
        ),
    }

    @staticmethod
    def length(v):
        bend = v["expansion difference"] * v["temperature"] + v["expansion"] * v["temperature difference"]
        return v["standard"] + v["difference"] - v["standard"] * bend

    def test_the_difference_has_its_own_budget(self):
        assert self.difference.standard == pytest.approx(9.7, abs=0.05)
        assert self.difference.degrees_of_freedom == pytest.approx(25.447, abs=1e-3)
        printed_from_rounded = self.difference.degrees_of_freedom * (9.7 / self.difference.standard) ** 4
        assert printed_from_rounded == pytest.approx(25.6, abs=0.05)

    def test_length_uncertainty_and_degrees_of_freedom(self):
        found = propagate(self.length, self.inputs)
        assert found.value == pytest.approx(50_000_838.0, abs=1e-6)
        assert found.uncertainty.standard == pytest.approx(31.66, abs=0.05)
        assert found.uncertainty.degrees_of_freedom == pytest.approx(16.75, abs=0.15)
        rows = {row.source: row.contribution for row in found.uncertainty.budget}
        assert rows["standard"] == pytest.approx(25)
        assert rows["expansion difference"] == pytest.approx(2.9, abs=0.05)
        assert rows["temperature difference"] == pytest.approx(16.6, abs=0.05)
        assert rows["expansion"] == pytest.approx(0, abs=1e-9)
        assert rows["temperature"] == pytest.approx(0, abs=1e-9)

    def test_coverage_at_99_percent_with_whole_degrees_of_freedom(self):
        found = propagate(self.length, self.inputs)
        k = coverage_factor(int(found.uncertainty.degrees_of_freedom), 0.99)
        assert k == pytest.approx(2.92078, abs=1e-5)
        assert k * found.uncertainty.standard == pytest.approx(92.5, abs=0.2)

    def test_monte_carlo_sees_the_second_order_terms(self):
        # H.1.7: 11.7 nm and 1.7 nm more, together 34 nm (from memory); drawn t and rectangular sources add spread
        drawn = monte_carlo(self.length, self.inputs, draws=400_000)
        assert drawn.standard > propagate(self.length, self.inputs).uncertainty.standard
        assert drawn.mean == pytest.approx(50_000_838.0, abs=0.5)


class TestResistanceReactanceImpedance:
    """H.2: R, X and Z from five simultaneous readings of V, I and φ."""

    volts = (5.007, 4.994, 5.005, 4.990, 4.999)
    milliamperes = (19.663, 19.639, 19.640, 19.685, 19.678)
    radians = (1.0456, 1.0438, 1.0468, 1.0428, 1.0433)

    @classmethod
    def inputs(cls):
        columns = {"V": cls.volts, "I": [i / 1000 for i in cls.milliamperes], "phi": cls.radians}
        return {
            name: Measured(value=sum(column) / 5, uncertainty=plain_uncertainty(standard_deviation(column) / sqrt(5)))
            for name, column in columns.items()
        }

    @classmethod
    def correlations(cls):
        def r(a, b):
            mean_a, mean_b = sum(a) / 5, sum(b) / 5
            joint = sum((x - mean_a) * (y - mean_b) for x, y in zip(a, b, strict=True)) / 4
            return joint / (standard_deviation(a) * standard_deviation(b))

        return {
            ("V", "I"): r(cls.volts, cls.milliamperes),
            ("V", "phi"): r(cls.volts, cls.radians),
            ("I", "phi"): r(cls.milliamperes, cls.radians),
        }

    models: ClassVar = {
        "R": lambda v: v["V"] / v["I"] * cos(v["phi"]),
        "X": lambda v: v["V"] / v["I"] * sin(v["phi"]),
        "Z": lambda v: v["V"] / v["I"],
    }

    def test_the_inputs_and_their_correlations(self):
        inputs = self.inputs()
        assert inputs["V"].value == pytest.approx(4.9990)
        assert inputs["V"].uncertainty.standard == pytest.approx(0.0032, abs=5e-5)
        assert inputs["I"].uncertainty.standard == pytest.approx(0.0095e-3, abs=5e-8)
        assert inputs["phi"].uncertainty.standard == pytest.approx(0.00075, abs=5e-6)
        assert list(self.correlations().values()) == pytest.approx([-0.355311, 0.857624, -0.645111], abs=1e-6)

    @pytest.mark.parametrize(
        ("name", "value", "printed", "exact"),
        [("R", 127.73217, 0.071, 0.071071), ("X", 219.84651, 0.295, 0.295582), ("Z", 254.25970, 0.236, 0.236336)],
    )
    def test_values_and_uncertainties(self, name, value, printed, exact):
        found = propagate(self.models[name], self.inputs(), self.correlations())
        assert found.value == pytest.approx(value, abs=1e-5)
        assert found.uncertainty.standard == pytest.approx(printed, abs=0.0006)
        assert found.uncertainty.standard == pytest.approx(exact, abs=1e-6)

    @pytest.mark.parametrize(
        ("first", "second", "r"), [("R", "X", -0.588430), ("R", "Z", -0.485259), ("X", "Z", 0.992512)]
    )
    def test_correlations_of_the_results(self, first, second, r):
        inputs, given = self.inputs(), self.correlations()
        one, other = (propagate(self.models[name], inputs, given) for name in (first, second))
        covariance = sum(
            one.sensitivities[a] * self.spread(a) * other.sensitivities[b] * self.spread(b) * self.between(a, b)
            for a in inputs
            for b in inputs
        )
        assert covariance / (one.uncertainty.standard * other.uncertainty.standard) == pytest.approx(r, abs=1e-5)

    def spread(self, name):
        return self.inputs()[name].uncertainty.standard

    def between(self, one, other):
        """The correlation coefficient of two inputs (H.2.3: the covariance of results, equation H.9)."""
        given = self.correlations()
        return 1.0 if one == other else given.get((one, other), given.get((other, one), 0.0))

    def test_a_budget_that_forgets_the_correlations_is_wrong(self):
        # derived: 0.194, 0.201 and 0.204 ohm without them
        for name, wrong in (("R", 0.194), ("X", 0.201), ("Z", 0.204)):
            assert propagate(self.models[name], self.inputs()).uncertainty.standard == pytest.approx(wrong, abs=1e-3)
