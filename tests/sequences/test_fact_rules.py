"""A fact of a unit may ask for more care than its design does, never for less."""

import math

import pytest

from benchapp.sequences import AskGiven, EntryKind, ReadingGiven, StepStatus, Supply
from tests.sequences.bench import Refused, Unit, plan_of
from tests.sequences.weakened import plan_with


def unit_of(route="mains-unit", equipment="tb-mu1"):
    return Unit(plan=plan_of(route, equipment))


def say(unit, **facts):
    return unit.record(EntryKind.fact, facts={name.replace("_", " "): value for name, value in facts.items()})


@pytest.mark.parametrize(
    ("route", "equipment", "fact"),
    [
        ("mains-unit", "tb-mu1", {"class": "II"}),
        ("mains-unit", "tb-mu1", {"mains fed": "no"}),
        ("mains-unit", "tb-mu1", {"plug fuse": "no"}),
        ("mains-unit", "tb-mu1", {"plug fuse rating": "5 A"}),
        ("mains-unit", "tb-mu1", {"bare metal": "no"}),
        ("mains-unit", "tb-mu1", {"design": "tb-mu2"}),
        ("mains-unit", "tb-mu2", {"cord cores": "3"}),
        ("recorder", "tb-rec1", {"voltage selector": "no"}),
        ("recorder", "tb-rec1", {"internal fuse": "no"}),
        ("loudspeaker", "tb-ls1", {"mains fed": "yes"}),
    ],
)
def test_a_fact_that_only_asks_for_less_is_refused_with_what_to_do(route, equipment, fact):
    with pytest.raises(Refused, match="describe it as its own equipment"):
        unit_of(route, equipment).record(EntryKind.fact, facts=fact)


@pytest.mark.parametrize(
    "fact",
    [
        {"cord cores": "0"}, {"cord cores": "none"}, {"cord cores": "4"}, {"cord cores": 2.5}, {"cord cores": True},
        {"cord length": "0.05 m"}, {"cord length": "180 m"}, {"cord length": math.nan}, {"cord length": -1.0},
        {"cord area": "0.9 mm²"}, {"cord area": 0.0}, {"cord area": math.inf},
        {"power": math.nan}, {"power": -5.0}, {"power": math.inf}, {"power": None}, {"power": "0 W"},
        {"plug fuse rating": "14 A"}, {"plug fuse rating": math.nan}, {"plug fuse rating": -3.0},
        {"class": None}, {"class": "IV"}, {"class": 1}, {"class": ""},
        {"live chassis": 0}, {"live chassis": None}, {"live chassis": "maybe"},
        {"heating": 1}, {"hand-held": "sort of"},
        {"room temperature": math.nan}, {"plug": "soldered"},
    ],
    ids=str,
)  # fmt: skip
def test_a_fact_that_cannot_be_is_refused(fact):
    with pytest.raises(Refused):
        unit_of().record(EntryKind.fact, facts=fact)


@pytest.mark.parametrize(
    "fact",
    [{"class": "unknown"}, {"class": "0"}, {"cord cores": "2"}, {"cord length": "25 m"}, {"cord area": "0.5 mm²"},
     {"plug fuse rating": "1 A"}, {"live chassis": "yes"}, {"power": "20 W"}, {"voltage selector": "yes"}],
    ids=str,
)  # fmt: skip
def test_a_fact_that_asks_for_more_is_taken(fact):
    unit = unit_of()
    unit.record(EntryKind.fact, facts=fact)
    assert set(fact) <= set(unit.state.facts)


def test_bare_metal_on_class_ii_asks_for_an_earth_path():
    unit = unit_of(equipment="tb-mu2")
    say(unit, bare_metal="yes")
    missing = {row.id for row in unit.state.interlock[Supply.limited] if not row.holds}
    assert {"earth continuity", "cord"} <= missing


def test_a_smaller_fuse_recorded_later_asks_for_the_fuse_again():
    unit = unit_of()
    unit.go_to("first-power.plug-in")
    say(unit, plug_fuse_rating="1 A")
    assert unit.state.steps["plug-rewire.fuse-rating"].status is StepStatus.stale
    with pytest.raises(Refused, match="plug was inspected"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


@pytest.mark.parametrize(("name", "said"), [("heating", "yes"), ("hand-held", "yes"), ("surge suppressor", "yes")])
def test_a_fact_nobody_had_stated_makes_stale_what_was_judged_without_it(name, said):
    unit = unit_of()
    unit.go_to("first-power.plug-in")
    unit.record(EntryKind.fact, facts={name: said})
    assert unit.state.steps["insulation.live-to-case"].status is StepStatus.stale


def test_an_asked_fact_skips_no_safety_step(tmp_path):
    told = ("    fact: plug\n", "    fact: class\n")
    value = ("      - answer: rewirable\n", "      - answer: rewirable\n        value: II\n")
    unit = Unit(plan=plan_with(tmp_path, "sequences/visual-inspection.yaml", told, value))
    unit.go_to("visual-inspection.plug")
    unit.answer("visual-inspection.plug", AskGiven(answer="rewirable"))
    assert unit.state.facts["class"] == "I"
    assert unit.state.steps["continuity.earth"].status is not StepStatus.skipped


def test_a_thinner_cord_of_ordinary_length_still_moves_the_earth_limit():
    unit = unit_of()
    say(unit, cord_length="3 m")
    unit.go_to("continuity.earth")
    given = ReadingGiven(typed="0.16 ohm", meter="tb-it1")
    assert unit.answer("continuity.earth", given).content["judgement"] == "pass"
