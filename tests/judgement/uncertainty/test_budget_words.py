"""The budget table as people read it."""

from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.judgement.uncertainty.budget import Source, combine
from benchapp.judgement.uncertainty.budget_words import budget_table, combined_words
from benchapp.judgement.uncertainty.uncertainty import Distribution
from benchapp.quantities.dimensions import Kind


def test_the_largest_contribution_comes_first_and_every_column_is_filled(meters):
    found = uncertainty_of(meters["tb-m1"], Function.resistance, 1.2, repeats=(1.19, 1.2, 1.22))
    lines = budget_table(found, Kind.resistance)
    assert lines[0].source == "leads neither nulled nor measured"
    assert lines[0].value == "±0.20 ohm"
    assert lines[0].distribution == "rectangular"
    assert lines[0].contribution == "0.12 ohm"
    assert lines[0].share.endswith("%")
    assert {line.distribution for line in lines} == {"rectangular", "t"}


def test_a_standard_uncertainty_has_no_sign():
    lines = budget_table(combine([Source("spread", 0.02, Distribution.normal)]), Kind.voltage)
    assert (lines[0].value, lines[0].share) == ("20 mV", "100.0 %")


def test_correlation_has_its_own_line_and_may_take_away():
    found = combine([Source("a", 1.0, Distribution.normal), Source("b", 0.5, Distribution.normal)], {(0, 1): -0.5})
    lines = budget_table(found, Kind.voltage)
    assert any(line.source == "correlation of the sources" and line.share.startswith("-") for line in lines)


def test_the_last_line_gives_coverage_and_degrees_of_freedom(meters):
    single = uncertainty_of(meters["tb-m1"], Function.dc_voltage, 9.12)
    assert combined_words(single, Kind.voltage) == (
        "u = 28 mV, U = 46 mV (k = 1.66, one rectangular source outweighs the rest, 95.45 %)"
    )
    normal = combine([Source("certificate", 0.02, Distribution.normal)])
    assert combined_words(normal, Kind.voltage) == "u = 20 mV, U = 40 mV (k = 2.00, ν = ∞, 95.45 %)"
    repeated = combine([Source("spread", 0.02, Distribution.student, 1.0, 4)])
    assert combined_words(repeated, Kind.voltage) == "u = 20 mV, U = 58 mV (k = 2.87, ν = 4.0, 95.45 %)"
