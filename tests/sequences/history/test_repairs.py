"""The list of a repair: what is done, what it opens, what it warns of."""

from dataclasses import replace

import pytest

from benchapp.errors import BenchError
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document, read_document
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.history.repairs import repair_list
from benchapp.sequences.history.retest import opened_by
from benchapp.sequences.language.repairs import SHIPPED as SHIPPED_LISTS
from benchapp.sequences.language.repairs import WAYS_TO_FAIL, UsualRepairs
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Workshop
from benchapp.wiring.model.mains_place import MainsPlace, mains_place
from tests.sequences.bench import catalogue, plan_of
from tests.sequences.loaded import load_catalogue

SHIPPED = (("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1"), ("loudspeaker", "tb-ls1"))


def plans():
    routes = catalogue().routes
    return [
        plan_of(next(name for name, route in routes.items() if equipment in route.equipment), equipment)
        for _, equipment in SHIPPED
    ]


def listed(part, mode, equipment="tb-mu1", **facts):
    plan = next(plan for plan in plans() if plan.equipment.equipment == equipment)
    return repair_list(plan, {**plan.facts, **facts}, part, mode)


def test_an_open_joint_is_made_anew_between_isolating_and_closing():
    said = listed("low-a-twin", "open")
    words = [action.words for action in said.actions]
    assert words[0].startswith("Plug out of the socket")
    assert words[1].startswith("Stored charge let go")
    assert words[2].startswith("Open the case of Mains unit, two AC outputs")
    assert "the joint at pin 4" in words[3]
    assert any("make it anew" in line for line in words)
    assert words[-1].startswith("Strain relief holds the cord. Close the cover")
    assert [str(one) for one in said.opens] == ["enclosure"]
    assert said.cautions == ("unplugged-work", "soldering")


def test_a_crossed_pair_opens_what_is_behind_its_connector():
    outlet = listed("outlet.2, outlet.3", "crossed")
    assert [str(one) for one in outlet.opens] == ["enclosure"]
    assert any("pin 2 of the outlet and pin 3 of the outlet" in action.words for action in outlet.actions)
    plug = listed("plug.L, plug.N", "crossed")
    assert [str(one) for one in plug.opens] == ["plug"]


def test_the_fuse_of_the_plug_opens_the_plug_and_the_one_inside_the_case():
    assert [str(one) for one in listed("plug-fuse", "open").opens] == ["plug"]
    assert [str(one) for one in listed("inside-fuse", "open", "tb-rec1").opens] == ["enclosure"]


def test_what_is_opened_is_closed_again_the_other_way_round():
    said = listed("cord-earth", "high resistance")
    opened = [action.words for action in said.actions if action.opens]
    assert [words.split()[0] for words in opened] == ["Open", "Take", "Open"]
    assert [action.words for action in said.actions][-3].startswith("Leave the plug open")
    assert "Close the cover" in said.actions[-1].words


def test_a_moulded_plug_is_cut_off_not_mended():
    assert any(
        "Cut it off and destroy it" in action.words for action in listed("plug", "damaged", plug="moulded").actions
    )


def test_what_takes_no_mains_warns_of_none():
    said = listed("crossover-coil", "open", "tb-ls1")
    assert said.actions[0].words == "Nothing connected to it."
    assert "unplugged-work" not in said.cautions


def test_a_part_that_no_circuit_knows_gets_the_plainest_list():
    said = listed("knob", "missing")
    assert said.opens == ()
    assert any("Put right knob" in action.words for action in said.actions)


@pytest.mark.parametrize("plan", plans(), ids=lambda plan: plan.equipment.equipment)
def test_no_list_opens_less_than_the_part_cannot_do_without(plan):
    pins = [f"{a}, {b}" for plug in plan.circuit.connectors.values() for a, b in plug.neighbours]
    for part in (*plan.circuit.parts, *pins, "plug", "cord", "enclosure"):
        for mode in WAYS_TO_FAIL:
            said = repair_list(plan, plan.facts, part, mode)
            assert {str(one) for one in said.opens} >= opened_by(plan, part, ())
            assert {str(action.opens) for action in said.actions if action.opens} == {str(one) for one in said.opens}
            assert any(action.work for action in said.actions)


def test_a_plug_that_is_inspected_again_is_left_open_and_not_closed_twice():
    fuse = [action.words for action in listed("plug-fuse", "wrong rating").actions]
    assert fuse[-1].startswith("Leave the plug open")
    assert not any("Close the plug" in line for line in fuse)
    plan = plan_of()
    without = replace(plan, steps=tuple(step for step in plan.steps if step.address != "plug-rewire.close"))
    closed = repair_list(without, plan.facts, "plug-fuse", "wrong rating").actions
    assert closed[-1].words.startswith("Close the plug")


def test_every_caution_of_a_list_is_one_that_we_have():
    lists = catalogue().repairs[SHIPPED_LISTS]
    named = {caution for work in lists.work for caution in work.cautions}
    assert named | set(lists.cautions.mains) <= set(catalogue().cautions)


@pytest.mark.parametrize(
    ("right", "wrong", "words"),
    [
        ("modes: [crossed]", "modes: [crosed]", "“crosed” is no way to fail"),
        ("Undo {part};", "Undo {prat};", "braces may only hold part, place, unit"),
        ("opens: [plug]\n", "opens: [plig]\n", "plug"),
    ],
)
def test_a_slip_in_the_file_is_complained_about_at_its_line(right, wrong, words):
    file = shipped_folder("resources") / "repairs" / "usual-repairs.yaml"
    text = read_document(file).text
    assert right in text
    with pytest.raises(BenchError) as caught:
        build_model(parse_document(text.replace(right, wrong, 1), "own.yaml"), UsualRepairs)
    line = text[: text.index(right)].count("\n") + 1
    assert words in str(caught.value)
    assert f"own.yaml:{line}:" in str(caught.value)


FILTERED = """
equipment: own-filtered
title: Mains filter in a metal box
made: 1980
class: I
supply: {voltage: 240 V, frequency: 50 Hz, power: 20 VA}
cord: {length: 2 m, area: 0.75 mm², cores: 3}
plug: rewirable
bare metal: true
connectors: {plug: gb-13a-plug, out: binding-posts-2}
points: {case: bare metal of the case}
circuit:
  - {fuse: plug-fuse, between: [plug.L, in.L], rating: 3 A, place: plug}
  - {link: cord-neutral, between: [plug.N, in.N], cord core: true}
  - {earth: bond, between: [plug.E, case]}
  - {fuse: inside-fuse, between: [in.L, mains.L], rating: 500 mA}
  - {switch: power, positions: {"on": [[mains.L, fed.L]], "off": []}, usual: "on"}
  - {capacitor: x-part, between: [mains.L, in.N], capacitance: 100 nF}
  - {capacitor: spark-part, between: [mains.L, fed.L], capacitance: 10 nF}
  - {capacitor: y-live, between: [mains.L, case], capacitance: 2.2 nF}
  - {capacitor: y-bridge, between: [in.N, rail.minus], capacitance: 1 nF}
  - {winding: primary, between: [fed.L, in.N], rated: 240 V supply, resistance: 300 ohm ± 10 %}
  - {winding: secondary, between: [low, rail.minus], rated: 12 V off load, resistance: 1 ohm ± 15 %}
  - {diode: rectifier, between: [low, rail.plus]}
  - {capacitor: reservoir, between: [rail.plus, rail.minus], capacitance: 2200 µF}
  - {link: plus, between: [rail.plus, out.red]}
  - {link: minus, between: [rail.minus, out.black]}
  - {barrier: mains-to-out, between: [plug, out], at least: 2 Mohm}
  - {barrier: mains-to-case, between: [plug.L, case], at least: 1 Mohm}
outputs:
  - {output: dc, between: [out.red, out.black], volts: 12 V ± 30 %, source: made up}
"""


@pytest.fixture(scope="module")
def filtered(tmp_path_factory):
    folder = tmp_path_factory.mktemp("filtered")
    (folder / "own.yaml").write_text(FILTERED, encoding="utf-8")
    return make_plan(load_catalogue(folder), "mains-item", "own-filtered", Workshop())


@pytest.mark.parametrize(
    ("part", "place", "asked"),
    [
        ("x-part", MainsPlace.across_mains, "class X or Y"),
        ("spark-part", MainsPlace.across_mains, "class X or Y"),
        ("y-live", MainsPlace.mains_to_metal, "class Y capacitor and no other"),
        ("y-bridge", MainsPlace.mains_to_metal, "class Y capacitor and no other"),
        ("reservoir", None, "at least its voltage"),
    ],
)
def test_a_capacitor_is_replaced_by_the_class_that_its_place_asks_for(filtered, part, place, asked):
    said = repair_list(filtered, filtered.facts, part, "shorted")
    assert mains_place(filtered.circuit, part) == place
    assert any(asked in action.words for action in said.actions)
    assert ("IEC 60384-14" in " ".join(action.words for action in said.actions)) is (place is not None)
    assert "solvents" in said.cautions


def test_a_fuse_inside_is_replaced_by_rating_characteristic_and_breaking_capacity(filtered):
    words = " ".join(action.words for action in repair_list(filtered, filtered.facts, "inside-fuse", "open").actions)
    assert "characteristic (F quick, T slow)" in words
    assert "breaking capacity" in words


def test_an_own_list_takes_no_safety_class_away(filtered):
    own = UsualRepairs.model_validate(
        {"repairs": "ours", "title": "ours", "work": [{"fits": {"parts": ["capacitor"]}, "do": ["Fit what is there."]}]}
    )
    plan = replace(filtered, repairs=(*filtered.repairs, own))
    words = [action.words for action in repair_list(plan, plan.facts, "y-live", "shorted").actions]
    assert any("class Y capacitor and no other" in line for line in words)
