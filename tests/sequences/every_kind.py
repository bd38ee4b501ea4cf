"""A sequence with steps of most kinds, on a made-up route of its own."""

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import Evaluation
from tests.people import staffed
from tests.sequences.bench import Unit, catalogue

EVERY_KIND = """\
sequence: every-kind
title: A step of every kind
steps:
  - wait: cool
    say: Let it cool.
    time: 2 min
  - photo: plate
    say: Take the rating plate.
    at least: 2
  - measure: first
    say: Between the pins.
    at: [outlet.1, outlet.2]
    function: resistance
    accept: 1.2 ohm ± 20 %
  - measure: second
    say: Between the other pins.
    at: [outlet.2, outlet.3]
    function: resistance
  - compute: both
    say: In series.
    value: first + second
    unit: ohm
    accept: between 10 ohm and 15 ohm
  - compute: share
    say: The smaller as a part of the larger.
    value: first / second
    unit: "%"
  - compute: rest
    say: What is left of the larger.
    value: 1 - first / second
    unit: "%"
    accept: at most 100 % - share
  - measure: flexed
    say: Flex it, keep the highest.
    at: [outlet.1, outlet.2]
    function: resistance
    keep: highest
    accept: at most 2 ohm
  - measure: stops
    say: Never above one ohm.
    at: [outlet.1, outlet.2]
    function: resistance
    accept: at most 5 ohm
    stop above: 1 ohm
    stop words: Off at once.
    fault: {part: low, mode: shorted, words: too much}
  - ask: length
    say: How long is the cord?
    value: m
    fact: cord length
  - ask: note-only
    say: Does it look nice?
    answers:
      - answer: yes
      - answer: no
        judgement: fail
        grave: note
"""
ROUTE = "route: r\ntitle: One of each\nequipment: [tb-mu1]\nsequences: [every-kind]\n"


def plan_of_every_kind() -> Plan:
    texts = {**catalogue().texts, "every-kind.yaml": EVERY_KIND, "r.yaml": ROUTE}
    return make_plan(catalogue_from_texts(texts), "r", "tb-mu1", staffed())


def tried(unit: Unit, address: str, given) -> Evaluation:
    return evaluate(unit.plan, unit.state, address, given, at=unit.at)
