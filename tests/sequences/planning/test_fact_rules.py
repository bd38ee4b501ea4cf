"""A fact of a unit may ask for more care than its design does, never for less."""

import math

import pytest

from benchapp.files.shipped import shipped_folder
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import FactContent
from benchapp.sequences.planning.state import StepStatus
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
        ("mains-unit", "tb-mu1", {"surge suppressor": "yes"}),
        ("mains-unit", "tb-mu1", {"heating": "yes"}),
        ("mains-unit", "tb-mu1", {"power": "20 W"}),
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
        {"room temperature": math.nan}, {"room temperature": 90.0}, {"winding temperature": "1000 °C"},
        {"plug": "soldered"}, {"power": "20 kW"}, {"cord area": "1e9 mm²"}, {"plug fuse rating": "1e30 A"},
        {"live chasis": "yes"}, {"Class": "I"}, {"colour": "grey"},
    ],
    ids=str,
)  # fmt: skip
def test_a_fact_that_cannot_be_is_refused(fact):
    with pytest.raises(Refused):
        unit_of().record_content(EntryKind.fact, FactContent(facts=fact))


@pytest.mark.parametrize(
    "fact",
    [{"class": "unknown"}, {"class": "0"}, {"cord cores": "2"}, {"cord length": "25 m"}, {"cord area": "0.5 mm²"},
     {"plug fuse rating": "1 A"}, {"live chassis": "yes"}, {"power": "5 W"}, {"voltage selector": "yes"}],
    ids=str,
)  # fmt: skip
def test_a_fact_that_asks_for_more_is_taken(fact):
    unit = unit_of()
    unit.record(EntryKind.fact, facts=fact)
    assert set(fact) <= set(unit.state.facts)


def test_bare_metal_on_class_ii_that_its_file_does_not_name_keeps_mains_away():
    unit = unit_of(equipment="tb-mu2")
    say(unit, bare_metal="yes")
    rows = {row.id: row for row in unit.state.interlock[Supply.limited]}
    assert "bare metal that its file does not name" in rows["insulation"].why
    assert not rows["insulation"].holds


def test_a_smaller_fuse_recorded_later_asks_for_the_fuse_again():
    unit = unit_of()
    unit.go_to("first-power.plug-in")
    say(unit, plug_fuse_rating="1 A")
    assert unit.state.steps["plug-rewire.fuse-rating"].status is StepStatus.stale
    with pytest.raises(Refused, match="plug was inspected"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


@pytest.mark.parametrize(("name", "said"), [("hand-held", "yes")])
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
    unit.answer("visual-inspection.plug", AskAnswer(answer="rewirable"))
    assert unit.state.facts["class"] == "I"
    assert unit.state.steps["continuity.earth"].status is not StepStatus.skipped


def test_a_thinner_cord_of_ordinary_length_still_moves_the_earth_limit():
    unit = unit_of()
    say(unit, cord_length="3 m")
    unit.go_to("continuity.earth")
    given = ReadingAnswer(typed="0.16 ohm", meter="tb-it1")
    assert unit.answer("continuity.earth", given).content.judgement == "pass"


# A cord of its own ----------------------------------------------------------------------------------------------------


def test_the_fuse_is_held_against_this_units_own_cord(tmp_path):
    plan = plan_with(tmp_path, "resources/equipment/tb-mu1.yaml", ("    rating: 3 A\n", "    rating: 13 A\n"))
    unit = Unit(plan=plan)
    say(unit, cord_area="0.5 mm²")
    with pytest.raises(Refused, match="allows 3 A at most"):
        say(unit, plug_fuse_rating="13 A")
    unit.go_to("plug-rewire.fuse-rating")
    with pytest.raises(Refused, match="allows 3 A at most"):
        unit.answer("plug-rewire.fuse-rating", AskAnswer(answer="13 A"))


def test_cord_and_fuse_said_together_are_held_against_each_other():
    with pytest.raises(Refused, match="allows 3 A at most"):
        unit_of().record(EntryKind.fact, facts={"plug fuse rating": "5 A", "cord area": "0.5 mm²"})


def test_double_insulation_needs_no_earth_whatever_cord_is_fitted():
    unit = unit_of(equipment="tb-mu2")
    say(unit, bare_metal="yes")
    say(unit, cord_cores="3")
    rows = {row.id: row for row in unit.state.interlock[Supply.limited]}
    assert rows["cord"].holds
    assert "earth continuity" not in rows


def test_a_two_core_cord_on_class_i_keeps_mains_away_until_three_cores_are_fitted():
    unit = unit_of()
    unit.go_to("first-power.plug-in")
    say(unit, cord_cores="2")
    with pytest.raises(Refused, match="two cores cannot earth bare metal"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))
    unit.record(EntryKind.repair, part="cord", done="three-core cord fitted", opened=["cord", "plug"], fault=None)
    say(unit, cord_cores="3")
    unit.go_to("first-power.plug-in")
    assert unit.state.steps["continuity.earth"].holds


# A plug that is said to be moulded ------------------------------------------------------------------------------------


def inside(unit):
    return unit.state.steps["plug-rewire.plug-inside"].status


def test_one_person_alone_does_not_make_a_rewirable_plug_moulded():
    unit = unit_of()
    unit.go_to("visual-inspection.plug")
    tried = evaluate(unit.plan, unit.state, "visual-inspection.plug", AskAnswer(answer="moulded"), at=unit.at)
    (question,) = tried.questions
    assert question.startswith("The design says plug: rewirable, and that counts. If this one is moulded, a second")
    unit.answer("visual-inspection.plug", AskAnswer(answer="moulded"))
    say(unit, plug="moulded")
    unit.record(EntryKind.fact, "", " kt ", facts={"plug": "moulded"})
    assert unit.state.facts["plug"] == "rewirable"
    assert inside(unit) is not StepStatus.skipped


def test_two_people_make_it_moulded_until_one_of_them_takes_it_back():
    unit = unit_of()
    unit.go_to("visual-inspection.plug")
    said = unit.answer("visual-inspection.plug", AskAnswer(answer="moulded"))
    unit.record(EntryKind.fact, "", "MH", facts={"plug": "moulded"})
    assert unit.state.facts["plug"] == "moulded"
    assert inside(unit) is StepStatus.skipped
    unit.withdraw(said)
    assert inside(unit) is not StepStatus.skipped


# Facts that a step asks for -------------------------------------------------------------------------------------------

ASKED = "  - ask: told\n    say: What?\n    value: {unit}\n    fact: {fact}\n  - inspect: outside"


@pytest.mark.parametrize(
    ("fact", "unit", "typed"),
    [("cord length", "m", "900 m"), ("cord area", "mm²", "0.9 mm²"), ("plug fuse rating", "A", "20 A"),
     ("power", "W", "1e7 W"), ("cord length", "m", "-2 m"), ("room temperature", "°C", "200 °C")],
)  # fmt: skip
def test_an_asked_fact_that_cannot_be_is_refused(tmp_path, fact, unit, typed):
    edit = ("  - inspect: outside", ASKED.format(fact=fact, unit=unit))
    asked = Unit(plan=plan_with(tmp_path, "sequences/visual-inspection.yaml", edit))
    asked.go_to("visual-inspection.told")
    with pytest.raises(Refused):
        asked.answer("visual-inspection.told", AskAnswer(answer=typed))


def test_a_misspelt_fact_is_refused_with_the_right_name():
    with pytest.raises(Refused, match="Did you mean live chassis"):
        unit_of().record(EntryKind.fact, facts={"live chasis": "yes"})


@pytest.mark.parametrize(("setting", "fits"), [("240 V", True), ("220", False), ("110 V", False)])
def test_mains_stays_away_from_a_selector_that_stands_at_another_voltage(tmp_path, setting, fits):
    unit = Unit(plan=plan_at_110(tmp_path)) if setting == "110 V" else unit_of("recorder", "tb-rec1")
    say(unit, selector_setting=setting)
    rows = {row.id: row for row in unit.state.interlock[Supply.limited]}
    assert rows["setting"].holds is fits


def plan_at_110(folder):
    """The recorder with 110 V in place of 220 V on its selector and windings."""
    text = (shipped_folder("resources") / "equipment" / "tb-rec1.yaml").read_text(encoding="utf-8")
    edits = [(line, line.replace("220", "110")) for line in text.splitlines() if "220" in line]
    return plan_with(folder, "resources/equipment/tb-rec1.yaml", *edits, route="recorder", equipment="tb-rec1")
