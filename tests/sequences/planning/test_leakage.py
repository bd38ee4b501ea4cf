"""Touch and protective-conductor current: read where the workshop has a meter for them, else named as not tested."""

from dataclasses import replace

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import METERS, Unit, catalogue

WITHOUT = ("  protective conductor current:\n", "  touch current:\n")
"""functions of the shipped plug-in meter, each with its two lines, that are cut out for a workshop without them"""
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
SHIPPED = "resources/meters/tb-pm1.yaml"
CURRENTS = {
    "tb-mu1": ("live-voltage.protective-conductor-current", "3.40 mA", "3.60 mA"),
    "tb-mu2": ("live-voltage.touch-current", "0.24 mA", "0.26 mA"),
}


def equipped(equipment):
    texts = {**catalogue().texts, "resources/meters/tb-lk1.yaml": METER}
    return Unit(plan=make_plan(catalogue_from_texts(texts), "mains-unit", equipment, staffed()))


@pytest.fixture
def leakage_meter(monkeypatch):
    for function in ("touch current", "protective conductor current"):
        monkeypatch.setitem(METERS, function, "tb-lk1")


@pytest.mark.usefixtures("leakage_meter")
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
    texts = dict(catalogue().texts)
    lines = texts[SHIPPED].splitlines(keepends=True)
    for head in WITHOUT:
        at = lines.index(head)
        del lines[at : at + 3]
    texts[SHIPPED] = "".join(lines)
    unit = Unit(plan=make_plan(catalogue_from_texts(texts), "mains-unit", equipment, staffed()))
    address = CURRENTS[equipment][0]
    unit.finish()
    assert "no meter for" in unit.state.steps[address].why
    left = [one for one in unit.state.not_tested if one.startswith("Live voltages: ")]
    assert left == [f"Live voltages: {address.partition('.')[2].replace('-', ' ')}"]


def test_a_region_without_the_limit_leaves_it_out_too():
    plan = equipped("tb-mu2").plan
    without = replace(plan, profile=plan.profile.model_copy(update={"touch_current": None}))
    assert without.cannot_read(without.step("live-voltage.touch-current")).startswith("the limits here state no")


@pytest.mark.parametrize("equipment", CURRENTS)
def test_the_shipped_plug_in_meter_reads_it(equipment):
    unit = Unit(plan=make_plan(catalogue(), "mains-unit", equipment, staffed()))
    unit.finish()
    assert unit.state.steps[CURRENTS[equipment][0]].holds
    assert not [one for one in unit.state.not_tested if one.startswith("Live voltages: ")]


def test_a_heater_is_read_when_it_is_hot_and_held_to_the_limit_of_heaters():
    unit = Unit(plan=make_plan(catalogue(), "mains-heater", "tb-hp1", staffed()))
    address = "first-power-by-resistance.protective-conductor-current"
    unit.go_to(address)
    assert unit.state.steps["first-power-by-resistance.heating"].holds
    judged = [
        evaluate(unit.plan, unit.state, address, ReadingAnswer(typed=typed, meter="tb-pm1"), at=unit.at).judgement
        for typed in ("0.60 mA", "0.90 mA")
    ]
    assert judged == ["pass", "fail"]
