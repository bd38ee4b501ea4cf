"""A reading through a diode, held against what its polarity lets conduct."""

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Unit, catalogue

SEQUENCE = """\
sequence: clamp
title: Through the clamp
steps:
  - measure: clamp
    say: Between pins 2 and 5.
    at: [outlet.2, outlet.5]
    function: resistance
    accept: from wiring
  - probe: pins
    say: At the outlet.
    connector: outlet
    what: [continuity]
"""
CLAMP = "  - {diode: clamp, between: [outlet.5, outlet.2], say: the clamp diode}\n  - barrier: mains-to-outlet\n"
OUTPUT = """\
outputs:
  - {output: clamped, between: [outlet.2, outlet.5], volts: 1 V, source: made up}
"""


@pytest.fixture(scope="module")
def plan():
    texts = dict(catalogue().texts)
    name = catalogue().names["equipment", "tb-mu1"]
    texts[name] = texts[name].replace("  - barrier: mains-to-outlet\n", CLAMP, 1) + OUTPUT
    texts |= {"c.yaml": SEQUENCE, "r.yaml": "route: r\ntitle: Clamp\nequipment: [tb-mu1]\nsequences: [clamp]\n"}
    return make_plan(catalogue_from_texts(texts), "r", "tb-mu1", staffed())


def judged(plan, address: str, typed: str):
    unit = Unit(plan)
    given = ReadingAnswer(typed=typed, meter="tb-m1")
    return evaluate(plan, unit.state, address, given, at=unit.at)


def probe_of(plan) -> str:
    return next(s.address for s in plan.steps if s.probe is not None and "the clamp diode" in s.probe.why)


def test_a_shorted_diode_fails(plan):
    assert judged(plan, "clamp.clamp", "0.0 ohm").judgement == "fail"


def test_the_probe_says_which_lead_goes_where_and_what_blocks_must_read_high(plan):
    step = plan.step(probe_of(plan))
    assert step.terminals == ("outlet.5", "outlet.1")  # black on the anode: blocked; through the 9 V winding
    assert "Black probe on pin 5 of the outlet, red probe on pin 1 of the outlet." in step.say
    assert judged(plan, step.address, "OL").judgement == "pass"
    assert judged(plan, step.address, "1.4 ohm").judgement == "fail"  # the winding alone: the diode is shorted
    assert any("red is taken as the meter's positive lead" in one for one in step.band.cautions)
