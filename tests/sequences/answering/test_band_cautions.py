"""What must be said of a band stands in the entry of its reading, from nothing but what a file can hold."""

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Unit, catalogue

SEQUENCE = """\
sequence: said
title: What is said of a band
supply: full
steps:
  - measure: mains
    say: At the plug-in meter.
    function: mains voltage
    accept: limit mains-voltage
    shows: [mains]
  - measure: output
    say: Between pins 1 and 2.
    at: [outlet.1, outlet.2]
    function: AC voltage
    accept: from wiring
  - measure: bent
    say: The same, behind a switching supply.
    at: [outlet.1, outlet.2]
    function: AC voltage
    accept: from wiring
    waveform: square
  - measure: unused
    say: Between pin 1 and the unused pin 5.
    at: [outlet.1, outlet.5]
    function: AC voltage
    accept: from wiring
  - measure: shunted
    say: The same across a shunt.
    set up: [load of 10 kohm on outlet.1 and outlet.5]
    at: [outlet.1, outlet.5]
    function: AC voltage
    accept: from wiring
  - measure: rippled
    say: The same two pins, the meter on AC.
    at: [outlet.2, outlet.3]
    function: AC voltage
    accept: from wiring
  - measure: offset
    say: Between pins 1 and 2, the meter on DC.
    at: [outlet.1, outlet.2]
    function: DC voltage
    accept: from wiring
  - measure: rectified
    say: Between pins 2 and 3, behind the rectifier.
    at: [outlet.2, outlet.3]
    function: DC voltage
    accept: from wiring
"""
DEAD = """\
sequence: cold
title: Dead readings
steps:
  - measure: primary
    say: Between L and N.
    at: [supply.L, supply.N]
    function: resistance
    accept: from wiring
"""
RATED = "rated: 9 V at 0.6 A on load"
REGULATION = "    regulation: 14 %\n    resistance: 1.2 ohm ± 15 %\n"
OUTPUT = """\
outputs:
  - output: rectified
    between: [outlet.2, outlet.3]
    volts: 24 V ± 10 %
    current: DC
    source: a known-good unit, TB-007
"""


def plan_with(*changes: tuple[str, str], more: str = ""):
    texts = dict(catalogue().texts)
    name = catalogue().names["equipment", "tb-mu1"]
    for before, after in changes:
        assert before in texts[name]
        texts[name] = texts[name].replace(before, after, 1)
    route = "route: r\ntitle: Said\nequipment: [tb-mu1]\nsequences: [cold, said]\n"
    texts |= {name: texts[name] + more, "said.yaml": SEQUENCE, "cold.yaml": DEAD, "r.yaml": route}
    return make_plan(catalogue_from_texts(texts), "r", "tb-mu1", staffed())


def said_of(plan, step: str, typed: str, *, meter: str = "tb-m1", unit: Unit | None = None) -> list[str]:
    """Every line of derivation, corrections and cautions that the reading's entry would carry."""
    unit = unit or Unit(plan)
    found = evaluate(plan, unit.state, step, ReadingAnswer(typed=typed, meter=meter), at=unit.at)
    assert found.complaint is None
    content = found.content
    lines = [f"{line.what}: {line.value} ({line.source})" for line in (*content.derivation, *content.corrections)]
    return [*lines, *content.cautions, *content.meter_cautions]


def one_says(lines: list[str], *words: str) -> bool:
    return any(all(word in line for word in words) for line in lines)


@pytest.fixture(scope="module")
def plan():
    return plan_with()


@pytest.mark.parametrize(
    ("rated", "words"),
    [
        ("rated: 9 V at 0.6 A on load", ("10.5 % to 17.5 %", "the equipment file", "common practice")),
        ("rated: 9 V at 0.6 A off load", ("0 %: the rating is off load",)),
        ("rated: 9 V at 0.6 A", ("does not say on load or off load",)),
    ],
)
def test_on_load_off_load_or_silent_the_plate_s_basis_is_said(rated, words):
    assert one_says(said_of(plan_with((RATED, rated)), "said.output", "10.2 V"), "regulation", *words)


def test_an_unknown_regulation_takes_a_broad_default_and_says_whose_it_is():
    changes = [(REGULATION, "    resistance: 1.2 ohm ± 15 %\n"), (RATED, "rated: 9 V on load")]
    lines = said_of(plan_with(*changes), "said.output", "10.2 V")
    assert one_says(lines, "regulation", "5 % to 35 %", "common practice, no source")


def test_a_rectified_output_takes_its_band_from_the_source_that_is_named():
    lines = said_of(plan_with(more=OUTPUT), "said.rectified", "24.1 V")
    assert one_says(lines, "output rectified", "24 V ± 10 %", "a known-good unit, TB-007")
    assert not one_says(lines, "regulation")


def test_an_unused_pin_is_called_a_ghost_and_not_judged(plan):
    unit = Unit(plan)
    found = evaluate(plan, unit.state, "said.unused", ReadingAnswer(typed="31.4 V", meter="tb-m1"), at=unit.at)
    assert found.judgement == "not judged"
    assert found.content.to_judge is False
    assert one_says(said_of(plan, "said.unused", "31.4 V"), "ghost voltage", "stated shunt")


def test_across_a_stated_shunt_the_ghost_is_judged(plan):
    unit = Unit(plan)

    def judged(typed: str) -> str:
        given = ReadingAnswer(typed=typed, meter="tb-m1")
        return evaluate(plan, unit.state, "said.shunted", given, at=unit.at).judgement

    assert (judged("0.01 V"), judged("9.8 V")) == ("pass", "fail")
    assert one_says(said_of(plan, "said.shunted", "0.01 V"), "load: 10 kohm", "as set up")


def test_without_a_mains_reading_the_legal_range_counts_and_says_so(plan):
    lines = said_of(plan, "said.output", "10.2 V")
    assert one_says(lines, "mains, not measured", "216.2 V to 253 V")
    assert one_says(lines, "No mains reading: the band covers the whole legal range.")


def test_a_mains_reading_counts_with_its_own_uncertainty(plan):
    unit = Unit(plan)
    unit.hold("tb-pm1")
    reading = ReadingAnswer(typed="240.0 V", meter="tb-pm1")
    tried = evaluate(plan, unit.state, "said.mains", reading, at=unit.at)
    entry = unit.draft(EntryKind.answer, "said.mains", "KT", tried.content)
    unit.entries.append(entry)
    lines = said_of(plan, "said.output", "10.2 V", unit=unit)
    assert one_says(lines, "said.mains", "240 V ±", "rated 240 V", "entry")
    assert not one_says(lines, "legal range")


def test_a_winding_nobody_measured_is_assumed_at_room_temperature(plan):
    lines = said_of(plan, "cold.primary", "484 ohm")
    assert one_says(lines, "winding temperature", "assumed 15 °C to 35 °C", "IEC 60228")


def test_an_average_responding_meter_says_so_and_is_put_right_where_the_wave_is_stated(plan):
    lines = said_of(plan, "said.output", "10.2 V", meter="tb-m2")
    assert one_says(lines, "forms its AC readings from the average", "sine waves alone")
    bent = said_of(plan, "said.bent", "11.3 V", meter="tb-m2")
    assert one_says(bent, "average-responding meter on a square wave", "× 0.900316", "form factor")
    assert not one_says(said_of(plan, "said.bent", "10.2 V"), "average-responding")


@pytest.mark.parametrize(("step", "typed", "wanted"), [("rippled", "24 V", "DC voltage"), ("offset", "10.2 V", "AC")])
def test_dc_read_on_ac_and_ac_read_on_dc_are_not_judged(step, typed, wanted):
    plan = plan_with(more=OUTPUT)
    unit = Unit(plan)
    given = ReadingAnswer(typed=typed, meter="tb-m1")
    assert evaluate(plan, unit.state, f"said.{step}", given, at=unit.at).judgement == "not judged"
    assert one_says(said_of(plan, f"said.{step}", typed), "not judged", f"must ask for {wanted}")
