"""What is taken out of a reading before it is judged."""

import pytest

from benchapp.judgement import Function, Waveform, corrected


def test_measured_leads_are_taken_off_a_resistance(meters):
    found = corrected(0.35, meters["tb-m1"], Function.resistance, lead_resistance=0.20)
    assert found.value == pytest.approx(0.15)
    assert found.derivation[0].what == "leads taken off"


def test_nulled_leads_and_other_functions_leave_the_reading_as_it_is(meters):
    assert corrected(0.35, meters["tb-m1"], Function.resistance, lead_resistance=0.0).value == 0.35
    assert corrected(0.35, meters["tb-m1"], Function.dc_voltage, lead_resistance=0.2).value == 0.35


def test_the_load_of_the_meter_is_taken_out_of_a_voltage(meters):
    found = corrected(10.909090909, meters["tb-m1"], Function.dc_voltage, source_resistance=1e6)
    assert found.value == pytest.approx(12.0)
    assert "tb-m1" in found.derivation[0].source


def test_a_waveform_matters_to_an_average_responding_meter_alone(meters):
    square = corrected(1.1107, meters["tb-m2"], Function.ac_voltage, waveform=Waveform.square)
    assert square.value == pytest.approx(1.0, rel=1e-4)
    assert corrected(1.1107, meters["tb-m1"], Function.ac_voltage, waveform=Waveform.square).value == 1.1107
    assert corrected(1.0, meters["tb-m2"], Function.ac_voltage, waveform=Waveform.sine).value == 1.0
