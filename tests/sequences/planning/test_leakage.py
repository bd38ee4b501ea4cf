"""Touch and protective-conductor current: read where the workshop has a meter for them, else named as not tested."""

from dataclasses import replace

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import METERS, Unit, catalogue, plan_of

METER = """
meter: tb-lk1
title: Plug-in leakage meter
kind: leakage meter
category: [CAT II 300 V]
calibrated: 2026-04-14
due: 2027-04-14
functions:
  touch current:
    ranges: [{to: 10 mA, resolution: 0.001 mA, accuracy: 2 % + 3 counts}]
  protective conductor current:
    ranges: [{to: 10 mA, resolution: 0.001 mA, accuracy: 2 % + 3 counts}]
"""
CURRENTS = {
    "tb-mu1": ("live-voltage.protective-conductor-current", "3.40 mA", "3.60 mA"),
    "tb-mu2": ("live-voltage.touch-current", "0.24 mA", "0.26 mA"),
}


def equipped(equipment):
    texts = {**catalogue().texts, "resources/meters/tb-lk1.yaml": METER}
    return Unit(plan=make_plan(catalogue_from_texts(texts), "mains-unit", equipment, staffed()))


@pytest.fixture(autouse=True)
def leakage_meter(monkeypatch):
    for function in ("touch current", "protective conductor current"):
        monkeypatch.setitem(METERS, function, "tb-lk1")


@pytest.mark.parametrize("equipment", CURRENTS)
def test_the_current_of_its_class_is_held_to_the_published_limit(equipment):
    unit = equipped(equipment)
    address, good, bad = CURRENTS[equipment]
    unit.go_to(address)
    judged = [
        evaluate(unit.plan, unit.state, address, ReadingAnswer(typed=typed, meter="tb-lk1"), at=unit.at).judgement
        for typed in (good, bad)
    ]
    assert judged == ["pass", "fail"]


@pytest.mark.parametrize("equipment", CURRENTS)
def test_without_a_meter_it_is_left_out_and_named(equipment):
    unit = Unit(plan=plan_of(equipment=equipment))
    address = CURRENTS[equipment][0]
    unit.finish()
    assert "no meter for" in unit.state.steps[address].why
    left = [one for one in unit.state.not_tested if one.startswith("Live voltages: ")]
    assert left == [f"Live voltages: {address.partition('.')[2].replace('-', ' ')}"]


def test_a_region_without_the_limit_leaves_it_out_too():
    plan = equipped("tb-mu2").plan
    without = replace(plan, profile=plan.profile.model_copy(update={"touch_current": None}))
    assert without.cannot_read(without.step("live-voltage.touch-current")).startswith("the limits here state no")
