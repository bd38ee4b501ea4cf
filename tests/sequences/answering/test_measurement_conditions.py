"""What judgement is told of how a reading was taken: leads, source resistance, frequency, waveform, temperature."""

from dataclasses import replace

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Unit, catalogue

DEAD = """\
sequence: dead
title: Dead readings
steps:
  - measure: leads
    say: Touch the leads together.
    function: resistance
    accept: at most 0.5 ohm
    shows: [leads proved]
  - ask: warm
    say: How warm are the windings?
    value: °C
    fact: winding temperature
  - ask: room
    say: How warm is it here?
    value: °C
    fact: room temperature
  - measure: path
    say: Between case and earth pin.
    at: [supply.E, case]
    function: resistance
    accept: at most 1 ohm
  - measure: primary
    say: Between L and N.
    at: [supply.L, supply.N]
    function: resistance
    accept: from wiring
"""
LIVE = """\
sequence: live
title: Live readings
supply: full
steps:
  - measure: fed
    say: Between pins 1 and 2.
    at: [outlet.1, outlet.2]
    function: AC voltage
  - measure: straight
    say: Between pins 4 and 2.
    at: [outlet.4, outlet.2]
    function: AC voltage
  - measure: bent
    say: Between pins 3 and 2.
    at: [outlet.3, outlet.2]
    function: AC voltage
    waveform: square
"""
WITH_FEED = """\
  - resistor: feed
    between: [low.a, outlet.1]
    resistance: 100 kohm ± 10 %
    say: the resistor at pin 1
"""
BARE_LINK = """\
  - link: low-a
    between: [low.a, outlet.1]
    say: the joint at pin 1
"""


@pytest.fixture(scope="module")
def plan():
    texts = {name: text.replace(BARE_LINK, WITH_FEED) for name, text in catalogue().texts.items()}
    route = "route: r\ntitle: Both\nequipment: [tb-mu1]\nsequences: [dead, live]\n"
    texts |= {"dead.yaml": DEAD, "live.yaml": LIVE, "r.yaml": route}
    return make_plan(catalogue_from_texts(texts), "r", "tb-mu1", staffed())


@pytest.fixture
def unit(plan) -> Unit:
    unit = Unit(plan)
    unit.hold("tb-m1", lead_resistance=0.12)
    unit.hold("tb-m2")
    return unit


def tried(unit: Unit, address: str, typed: str, meter: str = "tb-m1"):
    return evaluate(unit.plan, unit.state, address, ReadingAnswer(typed=typed, meter=meter), at=unit.at)


def sources(found) -> list[str]:
    return [row.source for row in found.content.budget]


def test_a_reading_of_the_leads_themselves_keeps_the_leads(unit):
    found = tried(unit, "dead.leads", "0.12 ohm")
    assert (found.content.value, found.content.corrections, found.content.of_leads) == (0.12, (), True)
    assert not any("leads" in source for source in sources(found))


def test_a_little_below_zero_with_the_leads_taken_off_is_zero(unit):
    found = tried(unit, "dead.path", "0.11 ohm")
    assert found.judgement == "pass"
    assert found.content.value == 0.0
    assert [line.what for line in found.content.corrections] == [
        "leads taken off",
        "below zero by less than the uncertainty",
    ]


def test_far_below_zero_with_the_leads_taken_off_asks_for_the_leads_again(unit):
    found = tried(unit, "dead.path", "0.01 ohm")
    assert found.complaint.startswith("0.01 ohm is less than the leads alone were measured to have (0.12 ohm)")
    assert "Measure the leads again" in found.complaint
    assert found.band.upper == 1.0


def test_nulled_leads_leave_the_reading_as_it_is(plan):
    unit = Unit(plan)
    unit.record(EntryKind.meter, meter="tb-m1", lead_resistance=None, nulled=True)
    found = tried(unit, "dead.path", "0.05 ohm")
    assert (found.content.value, found.content.lead_resistance) == (0.05, 0.0)
    assert "leads nulled" in sources(found)


def test_the_load_of_the_meter_is_taken_off_by_the_source_resistance_of_the_circuit(unit):
    """Thévenin, course text, from memory: 100 kohm behind a 1 Mohm meter read low by 1/1.1, 10 Mohm by 1/1.01."""
    poor, good = tried(unit, "live.fed", "9.00 V", "tb-m2"), tried(unit, "live.fed", "9.802 V", "tb-m1")
    assert poor.content.source_resistance == pytest.approx(100e3, rel=1e-4)
    assert poor.content.value == pytest.approx(9.9, rel=1e-5)
    assert good.content.value == pytest.approx(9.802 * 1.01, rel=1e-5)
    row = next(row for row in poor.content.budget if row.source.startswith("source resistance"))
    assert row.contribution == pytest.approx(9.0 * 10e3 / 1e6 / 3**0.5, rel=1e-3)  # ±10 % of 100 kohm, rectangular


def test_a_source_too_low_to_load_is_left_out(unit):
    found = tried(unit, "live.straight", "10.26 V", "tb-m2")
    assert found.content.source_resistance is None
    assert found.content.corrections == ()


def test_the_frequency_of_the_supply_chooses_the_accuracy(unit):
    assert tried(unit, "live.straight", "10.26 V").content.frequency == 50.0
    assert tried(unit, "dead.path", "0.2 ohm").content.frequency is None


def test_a_stated_waveform_puts_an_average_responding_meter_right_and_no_other(unit):
    """Form factor of a square wave 1, of a sine π/(2√2): an average-responding meter shows 1.1107 × (reference 9.4)."""
    poor, good = tried(unit, "live.bent", "11.107 V", "tb-m2"), tried(unit, "live.bent", "10.00 V", "tb-m1")
    assert poor.content.value == pytest.approx(10.0, rel=1e-4)
    assert good.content.value == 10.0
    assert poor.content.waveform == "square"


def test_a_warm_room_widens_the_uncertainty_and_is_said(unit):
    before = tried(unit, "dead.path", "0.5 ohm").content
    unit.record(EntryKind.fact, facts={"room temperature": 33.0})
    found = tried(unit, "dead.path", "0.5 ohm")
    assert found.content.expanded_uncertainty > before.expanded_uncertainty
    assert found.content.temperature == 33.0
    assert any("outside 18 °C to 28 °C" in words for words in found.content.meter_cautions)
    assert any("33 °C" in source for source in sources(found))


def test_a_stated_winding_temperature_takes_the_place_of_the_assumed_one(unit):
    """Copper 0.00393 per kelvin at 20 °C (IEC 60228 Annex B, as cited by the band)."""
    assumed = tried(unit, "dead.primary", "500 ohm").band
    unit.record_content(EntryKind.answer, _answered(unit, "dead.warm", "60"), "dead.warm")
    stated = tried(unit, "dead.primary", "500 ohm").band
    assert stated.lower == pytest.approx(0.9 * 480 * (1 + 0.00393 * 40), rel=1e-3)
    assert stated.lower > assumed.lower
    assert ("winding temperature", "60 °C") in {(line.what, line.value) for line in stated.derivation}


def _answered(unit: Unit, address: str, answer: str):
    found = evaluate(unit.plan, unit.state, address, AskAnswer(answer=answer), at=unit.at)
    assert found.complaint is None
    return found.content


def test_cautions_of_the_meter_stand_in_every_reading(unit):
    unit.wait(days=30)
    found = tried(unit, "live.straight", "10.26 V", "tb-m2")
    words = " ".join(found.content.meter_cautions)
    assert "calibration overdue since 2026-06-10" in words
    assert "right for sine waves alone" in words
    assert tried(unit, "live.straight", "10.26 V", "tb-m1").content.meter_cautions == ()


def test_the_budget_of_an_entry_gives_its_uncertainty_back(unit):
    found = evaluate(
        unit.plan,
        unit.state,
        "live.straight",
        ReadingAnswer(typed="10.26 V", meter="tb-m1", repeats=("10.28 V", "10.25 V")),
        at=unit.at,
    )
    again = found.content.uncertainty
    assert again == found.uncertainty
    assert sum(row.share for row in again.budget) == pytest.approx(1.0)
    assert again.coverage > 2.0
    assert replace(found.content, coverage=None).uncertainty is None
