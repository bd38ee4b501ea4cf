"""Red goes on the positive pin of a stated output: a sound centre-negative adapter passes, a wrong one fails."""

import pytest

from benchapp.desktop.bench.touching import parts_touched
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.step_names import reading_name, step_name
from tests.sequences.bench import Unit
from tests.sequences.interlock.watched import make_workplace

ADAPTER = """
equipment: adapter
title: Mains adapter with a DC output
class: II
supply: {{voltage: 240 V, frequency: 50 Hz, power: 6 VA}}
cord: {{length: 2 m, area: 0.5 mm², cores: 2}}
plug: moulded
connectors: {{plug: gb-13a-plug, output: barrel-5.5-2.1}}
circuit:
  - {{fuse: plug-fuse, between: [plug.L, cord.L], rating: 3 A, place: plug}}
  - {{link: cord-live, between: [cord.L, mains.L], cord core: true}}
  - {{link: cord-neutral, between: [plug.N, mains.N], cord core: true}}
  - {{winding: primary, between: [mains.L, mains.N], rated: 240 V supply, resistance: 900 ohm ± 10 %}}
  - {{winding: secondary, between: [ac.1, ac.2], rated: 8 V off load, resistance: 3 ohm ± 15 %}}
  - {{diode: rectifier, between: [ac.1, {positive}]}}
  - {{link: return, between: [ac.2, {negative}]}}
  - {{barrier: mains-to-output, between: [plug, output], at least: 2 Mohm}}
outputs:
  - {{output: dc, between: [{positive}, {negative}], volts: 9 V ± 10 %, source: rating plate}}
"""
CENTRES = {"centre-negative": ("output.outer", "output.inner"), "centre-positive": ("output.inner", "output.outer")}


def place(centre):
    positive, negative = CENTRES[centre]
    text = ADAPTER.format(positive=positive, negative=negative)
    return make_workplace("mains-item", "adapter", more=(("resources/equipment/adapter.yaml", text),))


def reading_of(centre):
    unit = Unit(place(centre).plan)
    step = next(one for one in unit.plan.steps if one.function == "DC voltage")
    return unit, step


def judged(centre, typed):
    unit, step = reading_of(centre)
    return evaluate(
        unit.plan, unit.state, step.address, ReadingAnswer(typed=typed, meter="tb-m1"), at=unit.at
    ).judgement


@pytest.mark.parametrize("centre", CENTRES)
def test_red_goes_on_the_positive_pin_in_words_and_on_the_face(centre):
    unit, step = reading_of(centre)
    positive, negative = CENTRES[centre]
    assert step.terminals == (negative, positive)
    say = unit.plan.circuit.say
    assert f"Black probe on {say(negative)}, red probe on {say(positive)}." in step.say
    (part,) = parts_touched(unit.plan, step.terminals, ())
    assert {touch.probe: f"output.{touch.spot}" for touch in part.touches} == {"red": positive, "black": negative}


def test_paper_says_which_pin_is_positive():
    unit, step = reading_of("centre-negative")
    assert reading_name(unit.plan.circuit, step) == "Output outer + to inner −"
    unit, step = reading_of("centre-positive")
    assert reading_name(unit.plan.circuit, step) == "Output inner + to outer −"
    dead = next(one for one in unit.plan.steps if one.function == "resistance")
    assert reading_name(unit.plan.circuit, dead) == step_name(dead)


@pytest.mark.parametrize("centre", CENTRES)
@pytest.mark.parametrize(
    ("typed", "judgement"),
    [("9 V", "pass"), ("-9 V", "fail"), ("0.02 V", "fail")],
    ids=["as stated", "crossed", "AC in place of DC"],
)
def test_an_adapter_passes_as_its_plate_states_it_and_fails_crossed_or_with_ac(centre, typed, judgement):
    """A DC meter shows nearly nothing of an AC output."""
    assert judged(centre, typed) == judgement
