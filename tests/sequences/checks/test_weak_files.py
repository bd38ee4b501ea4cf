"""No author can weaken what keeps mains away: the files of an attacker are complained about, and count for nothing."""

from dataclasses import replace

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.state import DueKind, StepStatus
from benchapp.wiring.model.circuit import WiringProblem
from tests.people import staffed
from tests.sequences.bench import Refused, Unit, catalogue, plan_of
from tests.sequences.loaded import load_catalogue

PRIMARY = "    set up: [switch on, fuse in]\n    accept: from wiring\n    shows: [primary continuity, polarity]"
LIVE_EARTH = "    set up: [switch on, fuse in]\n    accept: from wiring\n    shows: [polarity]"
INSULATION = "set up: [switch on, fuse in, L and N joined]"
WEAKENED = {
    "primary with the fuse out": ("continuity", PRIMARY, PRIMARY.replace("fuse in", "fuse out")),
    "primary of up to 900 Mohm": ("continuity", PRIMARY, PRIMARY.replace("from wiring", "between 0 ohm and 900 Mohm")),
    "earth at one pin twice": ("continuity", "path: earth to metal", "at: [supply.E, supply.E]"),
    "polarity at any reading": ("continuity", LIVE_EARTH, LIVE_EARTH.replace("from wiring", "at least 0 ohm")),
    "insulation between outputs": ("insulation", "path: mains to metal", "at: [outputs, outputs]"),
    "insulation with the switch off": ("insulation", INSULATION, INSULATION.replace("]", ", switch off]")),
    "limited power at any current": ("first-power", "accept: from wiring", "accept: at most 100 A"),
    "low at an output by AC": (
        "make-safe",
        "at: [supply.L, supply.N]\n    function: DC voltage",
        "at: [outputs, outputs]\n    function: AC voltage",
    ),
    "polarity at the outputs": (
        "continuity",
        "    what: [continuity, isolation, unused]",
        "    what: [continuity, isolation, unused]\n    shows: [polarity]",
    ),
    "a fuse of any rating": ("plug-rewire", "    accept: from fuse rules\n", ""),
    "a way back that fits nothing": ("make-safe", "say: Before any hand", "fits: {class: III}\nsay: Before any hand"),
    "a wrong selector as a note": (
        "visual-inspection",
        "        judgement: fail\n        fault: {part: selector",
        "        judgement: fail\n        grave: note\n        fault: {part: selector",
    ),
    "a position that burns as a note": (
        "visual-inspection",
        "    fact: selector setting\n",
        "    fact: selector setting\n    grave: note\n",
    ),
    "a selector that no position answers": ("visual-inspection", "    answers from: selector\n", ""),
    "a setting that is kept nowhere": ("visual-inspection", "    fact: selector setting\n", ""),
    "a selector that is always right": (
        "visual-inspection",
        "        judgement: fail\n        fault: {part: selector, mode: loose",
        "        fault: {part: selector, mode: loose",
    ),
}


LOOKS = {
    "nothing but notes": "{check: finish, say: The finish is good., grave: note}",
    "nothing that every unit has": "{check: cord, say: The cord is whole., when: {class: III}}",
    "nothing that must apply": "{check: cord, say: The cord is whole., may not apply: true}",
}


@pytest.mark.parametrize("point", LOOKS.values(), ids=LOOKS)
def test_a_look_at_nothing_grave_shows_nothing(tmp_path, point):
    (tmp_path / "look.yaml").write_text(
        "sequence: look\ntitle: Look\nsteps:\n"
        f"  - inspect: outside\n    say: Look at it.\n    shows: [visual]\n    checkpoints: [{point}]\n",
        encoding="utf-8",
    )
    with pytest.raises(FileProblems, match="applies to every unit and is graver than a note"):
        load_catalogue(tmp_path)


def weakened(folder, name, old, new):
    text = (shipped_folder("sequences") / f"{name}.yaml").read_text(encoding="utf-8").split("\nworked cases:")[0]
    assert old in text
    (folder / f"{name}.yaml").write_text(text.replace(old, new, 1) + "\n", encoding="utf-8")


@pytest.mark.parametrize("weak", WEAKENED.values(), ids=WEAKENED)
def test_a_weakened_file_is_complained_about(tmp_path, weak):
    weakened(tmp_path, *weak)
    with pytest.raises(FileProblems) as found:
        load_catalogue(tmp_path)
    assert f"{weak[0]}.yaml" in str(found.value) or "way back" in str(found.value)


def test_a_voltage_of_mains_fed_equipment_is_live_whatever_its_file_says(tmp_path):
    (tmp_path / "quick.yaml").write_text(
        "sequence: quick\ntitle: Quick look\nsteps:\n"
        "  - measure: out\n    say: AC volts at the outlet.\n    function: AC voltage\n"
        "    at: [outlet.1, outlet.2]\n    accept: 9 V ± 20 %\n",
        encoding="utf-8",
    )
    (tmp_path / "route.yaml").write_text(
        "route: quick\ntitle: Quick\nequipment: [tb-mu1]\nsequences: [quick]\nway back: make-safe\n", encoding="utf-8"
    )
    plan = make_plan(load_catalogue(tmp_path), "quick", "tb-mu1", staffed())
    assert plan.step("quick.out").supply is Supply.full
    unit = Unit(plan=plan)
    unit.hold("tb-m1")
    with pytest.raises(Refused, match="Mains stays away"):
        unit.reads("quick.out", "9.1 V", "tb-m1")


@pytest.mark.parametrize("function", ["DC current", "frequency"])
def test_a_current_or_a_frequency_is_no_dead_test(tmp_path, function):
    (tmp_path / "quick.yaml").write_text(
        "sequence: quick\ntitle: Quick look\nsteps:\n"
        f"  - measure: out\n    say: Plug it in and read.\n    function: {function}\n    at: [outlet.1, outlet.2]\n",
        encoding="utf-8",
    )
    with pytest.raises(FileProblems, match=f"“{function}” shows nothing without power"):
        load_catalogue(tmp_path)


def test_insulation_that_leaves_out_the_case_keeps_mains_away(tmp_path):
    edit = "    path: mains to metal", "    when: {class: III}\n    path: mains to metal"
    weakened(tmp_path, "insulation", *edit)
    with pytest.raises(FileProblems, match="tests insulation at the bare metal of the case of tb-mu1"):
        load_catalogue(tmp_path)
    name = "sequences/insulation.yaml"
    texts = {**catalogue().texts, name: catalogue().texts[name].replace(*edit)}
    plan = make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed())
    rows = {row.id: row for row in Unit(plan=plan).state.interlock[Supply.limited]}
    assert "between mains and the bare metal of the case" in rows["insulation"].why


SUBSTANCE = {
    "plug": (
        "plug-rewire",
        "    opens: [plug]\n    shows: [plug]\n",
        "    opens: [plug]\n",
        "inspects the plug inside",
    ),
    "polarity": (
        "continuity",
        "    shows: [polarity]\n\n  - measure: primary",
        "\n  - measure: primary",
        "the neutral pin of the mains plug against the earth pin",
    ),
}


@pytest.mark.parametrize("role", SUBSTANCE)
def test_a_role_without_its_substance_keeps_mains_away(tmp_path, role):
    name, old, new, why = SUBSTANCE[role]
    weakened(tmp_path, name, old, new)
    unit = Unit(plan=make_plan(load_catalogue(tmp_path), "mains-unit", "tb-mu1", staffed()))
    unit.go(lambda due: due.kind is DueKind.shut)
    rows = {row.id: row for row in unit.state.interlock[Supply.limited]}
    assert not rows[role].holds
    assert why in rows[role].why


def test_an_output_that_hangs_together_with_mains_is_never_plugged_in(tmp_path):
    """No file with one is read; the interlock knows it all the same."""
    name = "resources/equipment/tb-mu2.yaml"
    text = catalogue().texts[name]
    text = text[: text.index("  - barrier:")] + "  - link: bridge\n    between: [secondary.b, mains.N]\n"
    (tmp_path / "tb-mu2.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(FileProblems, match="conducts to mains"):
        load_catalogue(tmp_path)
    with pytest.raises(WiringProblem):
        make_plan(catalogue_from_texts({**catalogue().texts, name: text}), "mains-unit", "tb-mu2", staffed())
    plan = replace(plan_of(equipment="tb-mu2"), joined_to_mains="the inner contact of the output")
    rows = {row.id: row for row in Unit(plan=plan).state.interlock[Supply.limited]}
    assert not rows["chassis"].holds
    assert "hangs together with the mains" in rows["chassis"].why


@pytest.mark.parametrize(
    ("address", "typed", "repeat", "meter"),
    [
        ("insulation.live-to-case", "0.1 Mohm", ">200 Mohm", "tb-it1"),
        ("insulation.live-to-case", "0.1 Mohm", "15 Mohm", "tb-it1"),
        ("continuity.live-earth", "20 ohm", "OL", "tb-m1"),
    ],
)
def test_repeats_hide_no_bad_reading(address, typed, repeat, meter):
    unit = Unit(plan=plan_of())
    given = ReadingAnswer(typed=typed, repeats=(repeat,), meter=meter)
    tried = evaluate(unit.plan, unit.state, address, given, at=unit.at)
    assert tried.complaint == "Give one reading here, the worst: neither a limit of safety nor “OL” is met on average."


def test_a_unit_that_never_was_on_mains_is_not_sold(tmp_path):
    (tmp_path / "route.yaml").write_text(
        "route: dead\ntitle: Dead tests only\nequipment: [tb-mu1]\n"
        "sequences: [visual-inspection, plug-rewire, continuity, insulation]\nway back: make-safe\n",
        encoding="utf-8",
    )
    unit = Unit(plan=make_plan(load_catalogue(tmp_path), "dead", "tb-mu1", staffed()))
    unit.finish()
    assert unit.state.may_sell == "it takes mains and this was not shown: limited power"


def test_an_earth_path_to_an_output_is_none_to_bare_metal(tmp_path):
    fault = "    fault: {part: from wiring, mode: high resistance, words: The earth path is too high or open.}\n"
    text = catalogue().texts["sequences/continuity.yaml"]
    start = text.index("    path: earth to metal")
    whole = text[start : text.index(fault) + len(fault)]
    edit = whole, whole.replace("path: earth to metal", "at: [supply.E, outputs]").replace(fault, "")
    weakened(tmp_path, "continuity", *edit)
    with pytest.raises(FileProblems, match="tests earth continuity at the bare metal of the case of tb-mu1"):
        load_catalogue(tmp_path)
    name = "sequences/continuity.yaml"
    texts = {**catalogue().texts, name: catalogue().texts[name].replace(*edit)}
    plan = make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed())
    rows = {row.id: row for row in Unit(plan=plan).state.interlock[Supply.limited]}
    assert rows["earth continuity"].why == "no step of this route measures the earth path to the bare metal of the case"


def test_an_answer_named_like_a_fact_is_not_the_fact(tmp_path):
    """A question called "class" leaves no earth test out, whatever is answered."""
    ask = "  - ask: class\n    say: Which?\n    answers: [{answer: II}, {answer: one}]\n  - measure: leads-before"
    weakened(tmp_path, "continuity", "  - measure: leads-before", ask)
    unit = Unit(plan=make_plan(load_catalogue(tmp_path), "mains-unit", "tb-mu1", staffed()))
    unit.go_to("continuity.class")
    unit.answer("continuity.class", AskAnswer(answer="II"))
    assert unit.state.steps["continuity.earth"].status is not StepStatus.skipped
