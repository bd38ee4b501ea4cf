"""What is taken out of a reading before it is judged."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.judgement.meters.corrections import Corrected, Waveform, corrected, not_below_zero
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.statements.problems import LeadsProblem


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


@given(read=st.floats(0, 10), leads=st.floats(0, 10), expanded=st.floats(0, 1))
def test_no_resistance_with_its_leads_taken_off_is_ever_below_zero(meters, read, leads, expanded):
    known = corrected(read, meters["tb-m1"], Function.resistance, lead_resistance=leads)
    try:
        found = not_below_zero(read, known, expanded).value
    except LeadsProblem:
        assert known.value < -expanded
    else:
        assert found == max(known.value, 0.0)


def test_a_resistance_typed_below_zero_is_left_for_the_decision(meters):
    assert not_below_zero(-1.0, Corrected(value=-1.0), 0.1).value == -1.0
    assert not_below_zero(-0.05, Corrected(value=-0.05), 0.1).value == 0.0
