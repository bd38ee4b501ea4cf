"""The uncertainty of one reading: what each circumstance adds to the budget."""

from math import sqrt

import pytest

from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.judgement.statements.problems import MeterProblem
from benchapp.judgement.uncertainty.blurred_rectangle import reach
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading


def sources(uncertainty):
    return [row.source for row in uncertainty.budget]


def test_accuracy_and_resolution_are_rectangular_and_divided_by_root_three(meters):
    found = uncertainty_of(meters["tb-m1"], Function.dc_voltage, read_reading("9.12 V", kind=Kind.voltage))
    half_width = 0.003 * 9.12 + 2 * 0.01
    assert found.standard == pytest.approx(sqrt(half_width**2 / 3 + 0.005**2 / 3))
    assert found.expanded == pytest.approx(reach(0.02275, half_width, 0.005 / sqrt(3)))
    assert sources(found) == ["accuracy ±(0.3 % + 2 counts), range to 60 V", "resolution"]
    assert sum(row.share for row in found.budget) == pytest.approx(1)


def test_a_coarser_typed_digit_counts_for_more_than_the_meter_s_resolution(meters):
    fine = uncertainty_of(meters["tb-m1"], Function.dc_voltage, read_reading("9.12 V", kind=Kind.voltage))
    coarse = uncertainty_of(meters["tb-m1"], Function.dc_voltage, read_reading("9 V", kind=Kind.voltage))
    assert coarse.budget[1].value == 0.5
    assert coarse.standard > fine.standard


def test_less_than_a_value_was_not_rounded_to_its_digits(meters):
    exact, below = (read_reading(text, kind=Kind.resistance) for text in ("0.1 ohm", "<0.1 ohm"))
    found = [
        uncertainty_of(meters["tb-it1"], Function.earth_continuity, one, lead_resistance=0.0) for one in (exact, below)
    ]
    assert [one.budget[1].value for one in found] == [0.05, 0.005]


def test_a_zero_is_as_uncertain_as_the_range_that_shows_such_a_zero(meters):
    """A zero with fewer digits is never the surer one."""
    zeros = [read_reading(text, kind=Kind.voltage) for text in ("0.0000 V", "0.000 V", "0.00 V", "0.0 V", "0 V")]
    found = [uncertainty_of(meters["tb-m1"], Function.dc_voltage, zero) for zero in zeros]
    counts = [3 * 0.0001, 2 * 0.001, 2 * 0.01, 2 * 0.1, 2 * 1.0]
    assert [one.budget[0].value for one in found] == pytest.approx(counts)
    assert [one.expanded for one in found] == sorted(one.expanded for one in found)


def test_a_meter_outside_its_reference_temperature_is_less_accurate(meters):
    meter = meters["tb-m1"]
    cold = uncertainty_of(meter, Function.dc_voltage, 9.12, temperature=8.0)
    half_width = 0.003 * 9.12 + 2 * 0.01
    assert cold.budget[0].value == pytest.approx(half_width * (1 + 0.1 * 10)), "added, as makers state it"
    assert "10 °C outside 18 °C to 28 °C" in cold.budget[0].source
    assert sources(uncertainty_of(meter, Function.dc_voltage, 9.12, temperature=20.0)) == sources(
        uncertainty_of(meter, Function.dc_voltage, 9.12)
    )


def test_leads_neither_nulled_nor_measured_count_in_full(meters):
    meter = meters["tb-m1"]
    unknown = uncertainty_of(meter, Function.resistance, 1.2)
    nulled = uncertainty_of(meter, Function.resistance, 1.2, lead_resistance=0.0)
    measured = uncertainty_of(meter, Function.resistance, 1.2, lead_resistance=0.18)
    assert unknown.budget[-1].value == 0.2
    assert nulled.budget[-1].source == "leads nulled"
    assert measured.budget[-1].source == "leads measured and taken off"
    assert nulled.standard == measured.standard < unknown.standard


def test_leads_do_not_matter_to_a_voltage(meters):
    assert len(uncertainty_of(meters["tb-m1"], Function.dc_voltage, 9.12).budget) == 2


def test_repeats_add_a_type_a_row_with_its_degrees_of_freedom(meters):
    found = uncertainty_of(meters["tb-m1"], Function.dc_voltage, 9.12, repeats=(9.1, 9.12, 9.14))
    row = found.budget[-1]
    assert row.distribution == "t"
    assert row.degrees_of_freedom == 2
    assert row.value == pytest.approx(0.02 / sqrt(3))
    assert 2 < found.degrees_of_freedom < float("inf")
    assert found.coverage > 2


def test_accuracy_follows_the_frequency(meters):
    meter = meters["tb-m1"]
    mains = uncertainty_of(meter, Function.ac_voltage, 9.12, frequency=50.0)
    audio = uncertainty_of(meter, Function.ac_voltage, 9.12, frequency=1000.0)
    assert audio.standard > 2 * mains.standard
    with pytest.raises(MeterProblem, match="20000 Hz"):
        uncertainty_of(meter, Function.ac_voltage, 9.12, frequency=20e3)


def test_over_range_has_the_uncertainty_of_the_top_of_the_largest_range(meters):
    found = uncertainty_of(meters["tb-it1"], Function.insulation, read_reading("OL", kind=Kind.resistance))
    assert found.budget[0].value == pytest.approx(0.06 * 1e9 + 5 * 1e6)


def test_over_a_range_that_was_set_by_hand_has_the_uncertainty_of_the_top_of_that_range(meters):
    found = uncertainty_of(
        meters["tb-m1"], Function.resistance, read_reading("OL", kind=Kind.resistance), range_name="600 ohm"
    )
    assert found.budget[0].value == pytest.approx(0.005 * 600 + 3 * 0.1)


def test_a_function_that_the_meter_lacks_is_a_sentence(meters):
    with pytest.raises(MeterProblem, match="no function insulation; it has"):
        uncertainty_of(meters["tb-m1"], Function.insulation, 1e6)
