"""An equipment file says at line and column what is wrong with it."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from benchapp.errors import BenchError
from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.checks.ratings import check_ratings
from benchapp.wiring.model.circuit import Circuit, WiringProblem
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment

RESOURCES = Path(__file__).parents[3] / "resources"
SOUND = """\
- {link: live, between: [in.1, p.a]}
- {winding: primary, between: [p.a, in.2], resistance: 400 ohm}
- {winding: low, between: [out.1, out.2], rated: 9 V at 0.6 A on load, resistance: 1.2 ohm}
"""


def problems_of(written: Callable[..., Circuit], parts: str, **more: str) -> list[tuple[tuple[str | int, ...], str]]:
    with pytest.raises(WiringProblem) as caught:
        written(parts, **more)
    return [(problem.key, problem.what) for problem in caught.value.problems]


def test_a_sound_file_compiles(written: Callable[..., Circuit]) -> None:
    circuit = written(SOUND)
    assert circuit.connectors["out"].unused == {"out.3", "out.4"}
    assert circuit.supply is not None
    assert circuit.supply.live == "in.1"


def test_a_pin_that_exists_nowhere_is_named_with_the_nearest_one(written: Callable[..., Circuit]) -> None:
    with pytest.raises(WiringProblem) as caught:
        written(SOUND + "- {link: extra, between: [out.1, out.33]}\n")
    (problem,) = caught.value.problems
    assert problem.key == ("circuit", 3, "between", 1)
    assert "'out.33' exists nowhere" in problem.what
    assert problem.nearest == "out.3"


def test_a_misspelt_inside_node_is_an_end_where_nothing_else_is_connected(written: Callable[..., Circuit]) -> None:
    found = problems_of(written, SOUND.replace("between: [p.a, in.2]", "between: [p.aa, in.2]"))
    assert (("circuit", 0, "between", 1), "'live' ends at 'p.a', where nothing else is connected") in found


def test_a_part_that_no_terminal_reaches_floats(written: Callable[..., Circuit]) -> None:
    loose = (
        "- {resistor: r1, between: [x, y], resistance: 1 ohm}\n- {resistor: r2, between: [x, y], resistance: 1 ohm}\n"
    )
    found = problems_of(written, SOUND + loose)
    assert [key for key, _ in found] == [("circuit", 3, "between", 0), ("circuit", 4, "between", 0)]
    assert "floats" in found[0][1]


def test_a_winding_needs_its_resistance(written: Callable[..., Circuit]) -> None:
    (found,) = problems_of(written, SOUND.replace(", resistance: 1.2 ohm", ""))
    assert found == (("circuit", 2, "winding"), "the winding 'low' has no resistance, and a dead test reads it")


def test_regulation_that_the_resistances_contradict_is_refused(written: Callable[..., Circuit]) -> None:
    parts = SOUND.replace("resistance: 1.2 ohm", "resistance: 1.2 ohm, regulation: 60 %")
    (found,) = problems_of(written, parts)
    assert found[0] == ("circuit", 2, "regulation")
    assert "stated as 60 %" in found[1]


def test_outputs_that_need_more_than_the_plate_allows_are_refused(written: Callable[..., Circuit]) -> None:
    found = problems_of(written, SOUND.replace("0.6 A", "2 A"))
    assert found[0][0] == ("supply", "power")


def test_two_parts_of_one_name_are_refused(written: Callable[..., Circuit]) -> None:
    found = problems_of(written, SOUND + "- {link: low, between: [out.3, out.4]}\n")
    assert found == [
        (("circuit", 2, "winding"), "the name 'low' is given to 2 parts"),
        (("circuit", 3, "link"), "the name 'low' is given to 2 parts"),
    ]


def test_a_barrier_that_the_circuit_bridges_is_refused(written: Callable[..., Circuit]) -> None:
    parts = SOUND + "- {link: stray, between: [in.1, out.1]}\n- {barrier: wall, between: [in, out]}\n"
    (found,) = problems_of(written, parts)
    assert found == (("circuit", 4, "between"), "the circuit itself bridges the barrier 'wall', from in.1 to out.1")


def test_class_one_without_earth_is_refused(written: Callable[..., Circuit]) -> None:
    (found,) = problems_of(written, SOUND, class_="I")
    assert found == (("class",), "equipment of class I has no earth part")


def test_a_pin_behind_a_diode_needs_a_stated_output(written: Callable[..., Circuit]) -> None:
    parts = SOUND + "- {diode: rectifier, between: [out.1, out.3]}\n"
    (found,) = problems_of(written, parts)
    assert found[1] == "out.3 is fed through a diode, and no voltage is stated for it"
    stated = "outputs: [{output: dc, between: [out.3, out.2], volts: 12 V ± 5 %, source: rating plate}]\n"
    assert written(parts, more=stated).outputs[0].volts.high == 12.6


def test_a_part_of_no_kind_is_told_the_nearest_kind() -> None:
    text = "equipment: e\ntitle: E\nclass: II\nconnectors: {in: four}\ncircuit:\n  - {wire: w, between: [a, b]}\n"
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(text, "e.yaml"), Equipment)
    (complaint,) = caught.value.complaints
    assert str(complaint) == 'e.yaml:6:6: the key "wire" is no kind here; did you mean link?'


def test_a_wrong_unit_is_complained_about_at_its_place() -> None:
    text = "equipment: e\ntitle: E\nclass: II\nconnectors: {in: four}\ncircuit:\n"
    text += "  - {resistor: r, between: [in.1, in.2], resistance: 12 V}\n  - {link: l, betwen: [in.1, in.2]}\n"
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(text, "e.yaml"), Equipment)
    first, *others = caught.value.complaints
    assert str(first.location) == "e.yaml:6:54"
    assert "12 V" in first.what
    assert any(complaint.nearest == "between" and complaint.location.line == 7 for complaint in others)


def test_the_connectors_of_an_equipment_must_exist(connectors: Mapping[str, Connector]) -> None:
    text = "equipment: e\ntitle: E\nclass: none\nconnectors: {in: fuor}\ncircuit: [{link: l, between: [in.1, in.2]}]\n"
    with pytest.raises(WiringProblem, match="no connector file for 'fuor'"):
        compile_circuit(build_model(parse_document(text, "e.yaml"), Equipment), connectors)


@pytest.mark.parametrize(
    ("written_value", "low", "nominal", "high"),
    [
        ("480 ohm ± 10 %", 432.0, 480.0, 528.0),
        ("480 ohm", 432.0, 480.0, 528.0),
        ("100 ohm +20 % -10 %", 90.0, 100.0, 120.0),
        ("1 kohm ± 5 ohm", 995.0, 1000.0, 1005.0),
        ("between 1 ohm and 2 ohm", 1.0, 1.5, 2.0),
    ],
)
def test_every_way_to_write_a_tolerance(
    written: Callable[..., Circuit], written_value: str, low: float, nominal: float, high: float
) -> None:
    circuit = written(SOUND + f"- {{resistor: r, between: [out.3, out.4], resistance: {written_value}}}\n")
    spread = circuit.branches[-1].resistance
    assert spread is not None
    assert (spread.low, spread.nominal, spread.high) == (low, nominal, high)


def test_what_is_known_of_the_design_is_told_in_plain_words() -> None:
    text = "equipment: e\ntitle: E\nclass: I\nsupply: {voltage: 230 V, power: 45 VA}\nplug: moulded\n"
    text += "cord: {length: 2 m, area: 0.75 mm², cores: 3, detachable: true}\nconnectors: {in: four}\n"
    text += "circuit: [{fuse: f, place: plug, between: [in.1, in.2], rating: 3 A}]\n"
    facts = build_model(parse_document(text, "e.yaml"), Equipment).facts()
    assert facts["class"] == "I"
    assert facts["plug"] == "moulded"
    assert facts["detachable lead"] is True
    assert facts["internal fuse"] is False
    assert facts["cord length"] == 2.0
    assert facts["cord area"] == pytest.approx(0.75e-6, rel=1e-12)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("{resistor: r, between: [out.1, out.2], resistance: 10 ohm ± 150 %}", "reaches below zero"),
        (
            "{winding: w, between: [out.1, out.2], rated: 9 V off load, resistance: 1 ohm, tolerance: 100 %}",
            "cannot be out by 100 %",
        ),
    ],
)
def test_a_tolerance_that_reaches_below_nothing_is_refused(
    written: Callable[..., Circuit], line: str, words: str
) -> None:
    with pytest.raises(BenchError, match=words):
        written(f"- {{winding: primary, between: [in.1, in.2], resistance: 400 ohm}}\n- {line}\n")


def test_a_current_off_load_above_the_plates_own_is_refused() -> None:
    shipped = (RESOURCES / "equipment" / "tb-rec1.yaml").read_text(encoding="utf-8")
    text = shipped.replace("no load current: 47 mA", "no load current: 470 mA")
    assert text != shipped
    (found,) = check_ratings(build_model(parse_document(text, "written.yaml"), Equipment))
    assert found.key == ("supply", "no load current")
    assert found.what == "it is to draw 470 mA off load, and its plate says 188 mA"


DESIGN = """equipment: e
title: An item
class: I
supply: {{voltage: 240 V, power: 8 VA{more}}}
cord: {{length: {length}, area: 0.75 mm², cores: 3}}
connectors: {{in: gb-13a-plug}}
points: {{case: bare metal}}
circuit:
  - {{earth: bond, between: [in.E, case]}}
  - {{barrier: insulation, between: [in, case], at least: 1 Mohm}}
  - {{resistor: element, between: [in.L, in.N], resistance: 480 ohm ± {wide}}}
"""
TOO_WIDE = {
    "a resistance that may be a short": ({"wide": "99 %"}, ("circuit", 2, "resistance"), "nearly nothing"),
    "a current that may be none": (
        {"more": ", no load current: 12 mA ± 90 %"},
        ("supply", "no load current"),
        "nearly",
    ),
    "a cord that hides an open earth": ({"length": "500 m"}, ("cord", "length"), "any earth path look good"),
}


@pytest.mark.parametrize(("said", "key", "words"), TOO_WIDE.values(), ids=TOO_WIDE)
def test_a_figure_that_lets_a_fault_pass_as_good_is_refused(
    connectors: Mapping[str, Connector], said: dict[str, str], key: tuple[str | int, ...], words: str
) -> None:
    text = DESIGN.format(**{"more": "", "length": "2 m", "wide": "60 %", **said})
    equipment = build_model(parse_document(text, "e.yaml"), Equipment)
    with pytest.raises(WiringProblem) as caught:
        compile_circuit(equipment, connectors)
    assert [words in one.what for one in caught.value.problems if one.key == key] == [True]


@pytest.mark.parametrize(
    ("was", "now", "key", "words"),
    [
        (
            "no load current: 47 mA ± 30 %",
            "kind of load: heater",
            "kind of load",
            "mains goes into the winding 'primary'",
        ),
        ("bare metal: true", "bare metal: true\nlive chassis: true", "live chassis", "class I has its metal on earth"),
    ],
)
def test_what_a_design_says_of_itself_and_its_parts_deny_is_refused(was: str, now: str, key: str, words: str) -> None:
    shipped = (RESOURCES / "equipment" / "tb-rec1.yaml").read_text(encoding="utf-8")
    assert was in shipped
    (found,) = check_ratings(build_model(parse_document(shipped.replace(was, now), "written.yaml"), Equipment))
    assert found.key[-1] == key
    assert words in found.what


def test_a_stated_dc_output_below_nothing_is_refused(written: Callable[..., Circuit]) -> None:
    outputs = "outputs:\n- {output: dc, between: [out.1, out.2], volts: between -9 V and -8 V, source: rating plate}\n"
    found = problems_of(written, SOUND.replace("rated: 9 V at 0.6 A on load", "rated: 9 V off load"), more=outputs)
    assert (("outputs", 0, "volts"), "the output 'dc' is stated below nothing") in found
