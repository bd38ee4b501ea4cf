"""Which of the workshop's meters would settle a reading that this one could not."""

import pytest

from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.decision.advice import advise, settling_meters
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.limits.bands import limit_band
from benchapp.judgement.limits.cords import LimitFacts
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.judgement.statements.band import Band
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound


def decision_of(meter, function, value, band, **more):
    uncertainty = uncertainty_of(meter, function, value, **more)
    return decide(value=value, bound=Bound.exact, band=band, uncertainty=uncertainty)


@pytest.fixture
def nine_volts() -> Band:
    return parse_accept("9 V ± 10 %").band({}, kind=Kind.voltage)


def test_the_better_meter_settles_what_the_coarse_one_cannot(meters, nine_volts):
    coarse = meters["tb-m2"]
    decision = decision_of(coarse, Function.ac_voltage, 9.72, nine_volts)
    assert decision.judgement == "conditional pass"
    advice = advise(decision, nine_volts, Function.ac_voltage, meters.values(), used=coarse)
    assert advice == "Take it again with “Hand meter, true RMS”."


def test_a_lower_range_of_the_same_meter_may_be_enough(meters, nine_volts):
    good = meters["tb-m1"]
    decision = decision_of(good, Function.dc_voltage, 9.7, nine_volts, range_name="600 V")
    assert decision.judgement == "conditional pass"
    advice = advise(decision, nine_volts, Function.dc_voltage, meters.values(), used=good, range_name="600 V")
    assert advice.startswith("Take it again on its lower range")


def test_nulled_leads_may_be_enough(meters):
    good = meters["tb-m1"]
    band = parse_accept("1.2 ohm ± 15 %").band({}, kind=Kind.resistance)
    decision = decision_of(good, Function.resistance, 1.2, band)
    assert decision.judgement == "conditional pass"
    advice = advise(decision, band, Function.resistance, meters.values(), used=good)
    assert advice == "Take it again with the leads nulled."


def test_a_digit_that_was_left_out_may_be_enough(meters, nine_volts):
    good = meters["tb-m1"]
    decision = decision_of(good, Function.dc_voltage, 9.0, nine_volts, step=3.0)
    advice = advise(decision, nine_volts, Function.dc_voltage, meters.values(), used=good)
    assert advice.startswith("Take it again with every digit that the meter shows")


def test_a_digit_that_was_left_out_is_asked_for_before_the_leads(meters, gb):
    band = limit_band(gb, "earth-continuity", LimitFacts(equipment_class="I", cord_area=0.75e-6, cord_length=2.0))
    good = meters["tb-it1"]
    decision = decision_of(good, Function.earth_continuity, 0.1, band, step=0.1, lead_resistance=0.0)
    assert decision.judgement == "not judged"
    advice = advise(decision, band, Function.earth_continuity, meters.values(), used=good, step=0.1)
    assert advice == "Take it again with every digit that the meter shows."


def test_less_than_a_value_by_an_incapable_meter_is_answered_too(meters, gb):
    band = limit_band(gb, "earth-continuity", LimitFacts(equipment_class="I", cord_area=0.75e-6, cord_length=2.0))
    coarse = meters["tb-m2"]
    known = uncertainty_of(coarse, Function.earth_continuity, 0.1, lead_resistance=0.0)
    decision = decide(value=0.1, bound=Bound.below, band=band, uncertainty=known)
    advice = advise(decision, band, Function.earth_continuity, meters.values(), used=coarse)
    assert advice == "Take it again with “Insulation and earth tester”."


def test_an_incapable_meter_is_answered_with_those_that_could(meters, gb):
    band = limit_band(gb, "earth-continuity", LimitFacts(equipment_class="I", cord_area=0.75e-6, cord_length=2.0))
    coarse = meters["tb-m2"]
    decision = decision_of(coarse, Function.earth_continuity, 0.1, band, lead_resistance=0.0)
    assert decision.judgement == "not judged"
    advice = advise(decision, band, Function.earth_continuity, meters.values(), used=coarse)
    assert advice == "Take it again with “Insulation and earth tester”."


def test_where_no_meter_can_the_nearest_is_named(meters):
    band = parse_accept("9 V ± 0.01 V").band({}, kind=Kind.voltage)
    decision = decision_of(meters["tb-m2"], Function.dc_voltage, 9.0, band)
    advice = advise(decision, band, Function.dc_voltage, meters.values(), used=meters["tb-m2"])
    assert advice == "None of this workshop's meters can settle it; “Hand meter, true RMS” comes nearest."


def test_a_function_that_no_meter_has_is_said(meters):
    band = parse_accept("20 °C ± 1 °C").band({}, kind=Kind.temperature)
    decision = decide(value=21.5, bound=Bound.exact, band=band, uncertainty=None)
    unsettled = decision_of(meters["tb-m1"], Function.dc_voltage, 20.96, band)
    assert advise(decision, band, Function.temperature, meters.values()) == ""
    assert "has the function temperature" in advise(unsettled, band, Function.temperature, meters.values())


def test_what_is_settled_needs_no_advice(meters, nine_volts):
    decision = decision_of(meters["tb-m1"], Function.dc_voltage, 9.0, nine_volts)
    assert advise(decision, nine_volts, Function.dc_voltage, meters.values()) == ""


def test_the_surest_meter_comes_first(meters, nine_volts):
    assert [m.meter for m in settling_meters(9.0, nine_volts, Function.dc_voltage, meters.values())] == [
        "tb-m1",
        "tb-m2",
        "tb-it1",
    ]
