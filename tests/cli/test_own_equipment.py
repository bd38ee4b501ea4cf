"""An author describes four new items by their wiring alone, with mistakes on the way, and works with them at once.

The items are made up: a lamp supply with a centre tap, a switch box without mains, a recorder with a voltage selector,
a tape eraser that nothing comes out of.
Their files are in `attic/`; each mistake is one change of one of them.
"""

import json
import shutil
from pathlib import Path

import pytest

from benchapp.cli.command import main
from benchapp.files.shipped import shipped_folder
from tests.actions.conftest import Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
ATTIC = Path(__file__).parent / "attic"
LAMPS, BOX, RECORDER = "equipment/tb-lp1.yaml", "equipment/tb-sb1.yaml", "equipment/tb-rec2.yaml"
ERASER = "equipment/tb-er1.yaml"
TAGS = "connectors/tag-strip-3.yaml"

MISTAKES = [
    (LAMPS, "class: I\n", "class: 1\n", '4:8: "1" is not known here; did you mean I?'),
    (LAMPS, "class: I\n", "class: class 1\n", '4:8: "class 1" is not known here; did you mean I?'),
    (LAMPS, "class: I\n", "clas: I\n", '4:1: the key "clas" is not known here; did you mean class?'),
    (LAMPS, "equipment: tb-lp1", "equipment: TB LP 1", "did you mean tb-lp-1?"),
    (LAMPS, "lamps: tag-strip-3", "lamps: tag-strip3", "9:40: there is no connector “tag-strip3”"),
    (LAMPS, "plug: gb-13a-plug", "plug: 13a-plug", "did you mean gb-13a-plug?"),
    (LAMPS, "[lamps.1, lamps.2]", "[lamps.1, lamps.4]", "17:41: the pin 'lamps.4' exists nowhere"),
    (LAMPS, "[lamps.2, lamps.3]", "[lamp.2, lamps.3]", "did you mean lamps.2?"),
    (LAMPS, "{winding: upper, ", "{coil: upper, ", '17:6: the key "coil" is no kind here; did you mean winding?'),
    (LAMPS, "{earth: cord-earth,", "{ground: cord-earth,", "did you mean earth?"),
    (LAMPS, "0.18 ohm ± 15 %, say: the up", "0,18 ohm ± 15 %, say: the up", "expected 0.18 with a point, or quotes"),
    (LAMPS, "length: 1.5 m", "length: 1,5 m", "6:18: inside braces a comma ends a value"),
    (LAMPS, "length: 1.5 m", "length: 150", '6:16: "150" has no unit'),
    (LAMPS, "95 ohm ± 10 %", "95 V", '16:86: "95 V" is a voltage; a resistance is needed here'),
    (LAMPS, "resistance: 95 ohm ± 10 %, ", "", "16:15: the winding 'primary' has no resistance"),
    (
        LAMPS,
        "6.3 V at 2 A on load, resistance: 0.18 ohm ± 15 %, say: the upper",
        "6.3 V 2 A",
        "is no rating; write it like",
    ),
    (LAMPS, "power: 30 VA", "power: 15 VA", "5:51: the outputs together are rated 25.2 VA"),
    (LAMPS, "power: 30 VA", "power: 30 V", "a power is needed here"),
    (LAMPS, "rating: 3 A", "rating: 0.1 A", "is smaller than the rated current"),
    (LAMPS, "place: plug", "place: in the plug", "expected one of plug, inside"),
    (LAMPS, "cores: 3", "cores: three", "6:46: "),
    (LAMPS, "{link: cord-neutral", "{link: cord-live", "14:12: the name 'cord-live' is given to 2 parts"),
    (LAMPS, "[plug, lamps]", "[plug, lamp]", "did you mean lamps?"),
    (BOX, "class: none", "class: passive", "4:8: "),
    (BOX, "usual: A", "usual: C", "16:12: the switch 'speakers' has no position 'C'; expected one of A, B, off"),
    (BOX, "B: [[amplifier.red, pair-b.red]]", "B: [amplifier.red, pair-b.red]", "a list in brackets"),
    (
        BOX,
        "[amplifier.black, pair-a.black]",
        "amplifier.black, pair-a.black",
        "brackets: [amplifier.black, pair-a.black]",
    ),
    (BOX, "[amplifier.black, pair-a.black]", "[amplifier.black]", "8:14: [amplifier.black] is too short; expected 2"),
    (BOX, "connectors: {", "connector: {", "did you mean connectors?"),
    (RECORDER, "class: II", "class: 2", '4:8: "2" is not known here; did you mean II?'),
    (RECORDER, "primary.240]]", "primary.24O]]", "did you mean primary.240?"),
    (RECORDER, "rated: 110 V supply", "rated: 250 V supply", "23:37: the tap at 'primary.110' is rated 250 V"),
    (RECORDER, "plug: moulded", "plug: molded", "7:7: "),
    (RECORDER, "10 kohm ± 5 %", "max 10 kohm", "did you mean at most 10 kohm?"),
    (RECORDER, "10 kohm ± 5 %", "9 kohm to 11 kohm", "did you mean between 9 kohm and 11 kohm?"),
    (RECORDER, ", power: 20 VA", "", "5:9: the step “first-power.current” cannot be done on it"),
    (ERASER, "points: {outside: foil round the outside}\n", "", "names 'outside', and nothing has that name"),
    (ERASER, "rating: 2 A", "rating: 130 °C", "26:13: 130 °C is the temperature of a thermal fuse, and a rating is a"),
    (RECORDER, "10 kohm ± 5 %", "10 kohm ± 5", "neither a % nor a unit; did you mean 10 kohm ± 5 %?"),
    (ERASER, "2.5 m,", "2.5,", '6:16: "2.5" has no unit'),
    (TAGS, 'pin: "2", x: 0,', 'pin: "1", x: 0,', '12:11: pin "1" is described twice'),
    (TAGS, 'pin: "3", x: 10,', 'pin: "3", x: 100,', "13:5: pin 3 at x 100 mm, y 0 mm lies outside the outline"),
    (TAGS, "view: from the solder side", "view: from behind", "7:7: "),
    (TAGS, "shape: rectangle, width", "shape: box, width", "9:13: "),
]


@pytest.fixture
def attic(tmp_path: Path) -> Path:
    return Path(shutil.copytree(ATTIC, tmp_path / "attic"))


def run(capsys, *words: str) -> tuple[int, str]:
    code = main(list(words))
    out, err = capsys.readouterr()
    assert err == ""
    return code, out


@pytest.mark.parametrize(("name", "old", "new", "complaint"), MISTAKES, ids=lambda value: value[:40])
def test_a_mistake_is_told_at_its_line_in_plain_words(capsys, attic, name, old, new, complaint):
    file = attic / name
    text = file.read_text()
    assert old in text
    file.write_text(text.replace(old, new, 1))
    code, out = run(capsys, "check", str(file))
    told = [line for line in out.splitlines() if line.startswith(f"{file}:")]
    assert code == 1
    assert any(complaint in line for line in told), out
    assert not any(word in out for word in ("^[", "regex", "tuple", "Traceback", "pydantic")), out


def test_without_mistakes_every_file_is_good(capsys, attic):
    code, out = run(capsys, "check", str(attic))
    assert code == 0
    assert out.splitlines()[-1] == "5 files, all good"


@pytest.mark.parametrize("name", [LAMPS, BOX, RECORDER, ERASER])
@pytest.mark.parametrize("command", ["expect", "plan"])
def test_readings_and_probes_follow_from_the_wiring(capsys, attic, name, command):
    code, out = run(capsys, command, str(attic / name), "--json")
    assert code == 0
    assert json.loads(out)


def test_a_centre_tap_adds_up_to_the_whole_winding(capsys, attic):
    _, out = run(capsys, "expect", str(attic / LAMPS), "--mains", "240 V", "--json")
    volts = {(one["a"], one["b"]): one["expected"] for one in json.loads(out)}
    half = volts["lamps.1", "lamps.2"]
    assert half > 6.3
    # two halves in phase add up: elementary
    assert volts["lamps.1", "lamps.3"] == pytest.approx(2 * half)


def test_a_selector_and_a_switch_are_set_up_by_their_words(capsys, attic):
    _, at_240 = run(capsys, "expect", str(attic / RECORDER), "--json")
    _, at_110 = run(capsys, "expect", str(attic / RECORDER), "--set-up", "selector at 110", "--json")
    primary = [
        next(one["expected"] for one in json.loads(out) if {one["a"], one["b"]} == {"plug.L", "plug.N"})
        for out in (at_240, at_110)
    ]
    assert primary[1] < primary[0]
    _, out = run(capsys, "expect", str(attic / BOX), "--set-up", "speakers at B", "--json")
    joined = {(one["a"], one["b"]) for one in json.loads(out) if one["expected"] is not None}
    assert ("amplifier.red", "pair-b.red") in joined
    assert ("amplifier.red", "pair-a.red") not in joined


def test_a_box_without_mains_is_probed_from_one_side_to_the_other(capsys, attic):
    _, out = run(capsys, "plan", str(attic / BOX), "--json")
    probes = json.loads(out)["connectors"]["amplifier"]
    across = {(one["a"], one["b"]) for one in probes if one["kind"] == "continuity"}
    assert {("amplifier.red", "pair-a.red"), ("amplifier.black", "pair-a.black")} <= across


@pytest.mark.parametrize(
    ("name", "readings", "part"),
    [
        (ERASER, ("plug.L,plug.N=OL",), "thermal-fuse"),
        (LAMPS, ("lamps.1,lamps.2=OL", "lamps.2,lamps.3=0.4 ohm", "lamps.1,lamps.3=OL"), "upper"),
        (BOX, ("amplifier.red,pair-a.red=OL", "amplifier.red,pair-a.black=OL"), "speakers"),
        (RECORDER, ("line.1,line.2=10 kohm", "line.4,line.2=10 kohm"), "feed"),
    ],
)
def test_a_fault_is_searched_for(capsys, attic, name, readings, part):
    words = [word for one in readings for word in ("--reading", one)]
    _, out = run(capsys, "locate", str(attic / name), *words, "--json")
    found = json.loads(out)
    assert part in {one["part"] for one in found["suspects"][:3]}


@pytest.mark.parametrize(("name", "connector"), [(LAMPS, "lamps"), (BOX, "pair-b"), (RECORDER, "line")])
def test_a_pin_card_is_drawn_from_the_author_s_own_connector(capsys, attic, name, connector):
    from pypdf import PdfReader

    out = attic / "card.pdf"
    code, _ = run(capsys, "pins", str(attic / name), "--connector", connector, "--out", str(out))
    assert code == 0
    text = PdfReader(out).pages[0].extract_text()
    assert "50 mm" in text


def test_a_lot_of_it_is_taken_in_and_runs_the_continuity_of_its_route(attic):
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.actions.workbench.bench import Bench

    with Bench.create(attic / "attic.workbook", workshop=staffed()) as bench:
        for number, name in enumerate(("tb-lp1", "tb-sb1", "tb-rec2")):
            (route,) = bench.catalogue.routes_for(name)
            mark = f"TB-{number}01"
            take_in_lot(bench, name=name, equipment=name, route=route, marks=(mark,), by="AB")
            steps = [one.address for one in bench.plan(mark).steps if one.stage == "continuity"]
            assert len(steps) == len(set(steps))
            assert any(address.startswith("continuity.outputs/") for address in steps)
            assert bench.state(mark).due.words
        assert bench.left_out == ()


def test_an_item_of_class_ii_that_nothing_comes_out_of_goes_the_whole_way(attic):
    """Its insulation is tested against foil round the outside (IEC 60335-1 clause 16, from memory)."""
    from benchapp.actions.entries.days import open_bench
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.actions.workbench.bench import Bench
    from benchapp.sequences.planning.chain_contents import MeterProof
    from benchapp.sequences.planning.state import DueKind

    with Bench.create(attic / "attic.workbook", clock=Clock(), workshop=staffed()) as bench:
        proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
        open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
        take_in_lot(bench, name="L", equipment="tb-er1", route="mains-item", marks=("TB-401",), by="AB")
        assert do_what_is_due(bench, "TB-401").kind is DueKind.finished
        insulation = bench.plan("TB-401").step("insulation.live-to-case")
        assert insulation.terminals == ("plug.L", "outside")


def test_an_item_that_nothing_comes_out_of_says_so_with_power_on(capsys, attic):
    _, out = run(capsys, "expect", str(attic / ERASER), "--mains", "240 V")
    assert out == "Nothing comes out of the Bulk tape eraser: no voltage is read on it.\n"


def test_a_wrong_file_beside_the_workbook_is_left_out_and_the_others_stay(attic):
    from benchapp.actions.workbench.bench import Bench

    (attic / BOX).write_text((attic / BOX).read_text().replace("class:", "clas:"))
    with Bench.create(attic / "attic.workbook", workshop=staffed()) as bench:
        assert "tb-lp1" in bench.catalogue.equipment
        assert "tb-sb1" not in bench.catalogue.equipment
        assert [one.location.file for one in bench.left_out] == [str(attic / BOX)]


@pytest.mark.parametrize("command", [("expect",), ("pins", "--connector", "plug", "--out", "card.pdf")])
def test_a_plug_face_with_live_and_neutral_swapped_is_no_one_s_pin_card(capsys, attic, monkeypatch, command):
    """Under the shipped id it would send a probe to the other pin."""
    shipped = (shipped_folder("resources") / "connectors" / "gb-13a-plug.yaml").read_text(encoding="utf-8")
    swapped = shipped.replace("pin: L", "pin: M").replace("pin: N", "pin: L").replace("pin: M", "pin: N")
    (attic / "connectors" / "gb-13a-plug.yaml").write_text(swapped)
    monkeypatch.chdir(attic)
    code = main([command[0], str(attic / LAMPS), *command[1:]])
    told = capsys.readouterr().err
    assert code == 2
    assert "gb-13a-plug.yaml:" in told
    assert "pin N at x -11.1 mm, y -11.1 mm lies elsewhere than shipped; expected x 11.1 mm" in told
    assert not (attic / "card.pdf").exists()
