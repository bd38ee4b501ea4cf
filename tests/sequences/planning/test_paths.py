"""Paths of a design: every bare metal that can be touched is read to, by the design and not by a step's words."""

import pytest

from benchapp.files.locations import FileProblems
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Unit
from tests.sequences.loaded import load_catalogue

IRON = """
equipment: iron
title: Tool with a bonded tip
class: I
supply: {voltage: 240 V, frequency: 50 Hz, power: 8 VA}
cord: {length: 2 m, area: 0.75 mm², cores: 3}
plug: rewirable
bare metal: true
connectors: {plug: gb-13a-plug}
points: {case: bare metal of the case, tip: bare metal of the tip}
circuit:
  - {fuse: plug-fuse, between: [plug.L, cord.L], rating: 3 A, place: plug}
  - {link: cord-live, between: [cord.L, mains.L], cord core: true}
  - {link: cord-neutral, between: [plug.N, mains.N], cord core: true}
  - {earth: cord-earth, between: [plug.E, case], cord core: true}
  - {earth: tip-bond, between: [case, tip]}
  - {winding: primary, between: [mains.L, mains.N], rated: 240 V supply, resistance: 480 ohm ± 10 %}
  - {winding: low, between: [low.a, low.b], rated: 9 V at 0.6 A on load, resistance: 1 ohm ± 15 %}
  - {resistor: glow, between: [low.a, low.b], resistance: 40 ohm ± 10 %}
  - {link: low-bond, between: [low.b, tip]}
  - {barrier: mains-to-case, between: [mains, case], at least: 1 Mohm}
  - {barrier: mains-to-tip, between: [mains, tip], at least: 3 Mohm}
"""
CLASS_TWO = (
    IRON.replace("class: I\n", "class: II\n")
    .replace("cores: 3", "cores: 2")
    .replace("  - {earth: cord-earth, between: [plug.E, case], cord core: true}\n", "")
    .replace("  - {earth: tip-bond, between: [case, tip]}\n", "  - {link: case-tip, between: [case, tip]}\n")
)


def catalogue_with(folder, text, **files):
    (folder / "iron.yaml").write_text(text, encoding="utf-8")
    for name, more in files.items():
        (folder / f"{name}.yaml").write_text(more, encoding="utf-8")
    return load_catalogue(folder)


def plan_of_iron(folder, text=IRON):
    return make_plan(catalogue_with(folder, text), "mains-item", "iron", staffed())


def addresses(plan, stage):
    return [step.address for step in plan.steps if step.stage == stage and len(step.terminals) == 2]


def test_each_bare_metal_is_read_for_earth_and_insulation(tmp_path):
    plan = plan_of_iron(tmp_path)
    assert [one for one in addresses(plan, "continuity") if ".earth" in one] == [
        "continuity.earth/case",
        "continuity.earth/tip",
    ]
    assert addresses(plan, "insulation") == ["insulation.live-to-case/case", "insulation.live-to-case/tip"]


def test_a_reading_names_its_own_two_ends(tmp_path):
    step = plan_of_iron(tmp_path).step("continuity.earth/tip")
    assert step.say.endswith("Here from the earth pin of the mains plug to the bare metal of the tip.")


@pytest.mark.parametrize(("point", "part"), [("case", "mains-to-case"), ("tip", "mains-to-tip")])
def test_poor_insulation_blames_the_barrier_of_the_design(tmp_path, point, part):
    unit = Unit(plan=plan_of_iron(tmp_path))
    unit.go_to(f"insulation.live-to-case/{point}")
    given = ReadingAnswer(typed="0.2 Mohm", meter="tb-it1")
    tried = evaluate(unit.plan, unit.state, f"insulation.live-to-case/{point}", given, at=unit.at)
    assert [one.part for one in tried.content.faults] == [part]


@pytest.mark.parametrize(("typed", "judgement"), [("2.9 Mohm", "fail"), ("3.0 Mohm", "pass")])
def test_insulation_is_held_to_the_stricter_of_table_and_barrier(tmp_path, typed, judgement):
    unit = Unit(plan=plan_of_iron(tmp_path))
    unit.go_to("insulation.live-to-case/tip")
    given = ReadingAnswer(typed=typed, meter="tb-it1")
    assert evaluate(unit.plan, unit.state, "insulation.live-to-case/tip", given, at=unit.at).judgement == judgement


def test_outputs_of_the_shipped_class_one_unit_are_held_to_their_barrier():
    unit = Unit(plan=make_plan(load_catalogue(), "mains-unit", "tb-mu1", staffed()))
    unit.go_to("insulation.live-to-outputs")
    given = ReadingAnswer(typed="1.2 Mohm", meter="tb-it1")
    tried = evaluate(unit.plan, unit.state, "insulation.live-to-outputs", given, at=unit.at)
    assert tried.judgement == "fail"
    assert [one.part for one in tried.content.faults] == ["mains-to-outlet"]
    assert tried.band.derivation[-1].what == (
        "the insulation between mains and outlet is to have more than the table asks: at least"
    )


def test_a_route_that_leaves_out_a_bare_metal_is_refused(tmp_path):
    text = (load_catalogue().texts["sequences/continuity.yaml"]).partition("\nworked cases:")[0] + "\n"
    case_alone = text.replace("path: earth to metal", "at: [supply.E, case]").replace("part: from wiring", "part: plug")
    with pytest.raises(FileProblems) as refused:
        catalogue_with(tmp_path, IRON, continuity=case_alone)
    assert "tests earth continuity at the bare metal of the tip of iron" in str(refused.value)


def test_a_fault_from_the_wiring_needs_a_path(tmp_path):
    text = (load_catalogue().texts["sequences/continuity.yaml"]).partition("\nworked cases:")[0] + "\n"
    with pytest.raises(FileProblems) as refused:
        catalogue_with(tmp_path, IRON, continuity=text.replace("path: earth to metal", "at: [supply.E, case]"))
    assert "from wiring" in str(refused.value)


def test_double_insulated_bare_metal_is_tested_and_not_shut(tmp_path):
    unit = Unit(plan=plan_of_iron(tmp_path, CLASS_TWO))
    unit.go_to("first-power.plug-in")
    assert {"insulation.live-to-case/case", "insulation.live-to-case/tip"} <= set(unit.state.readings)
    unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))
