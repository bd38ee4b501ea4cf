"""Equipment by its wiring on the console: expect, plan, locate."""

import json

import pytest

from benchapp.cli.command import main
from benchapp.files.shipped import shipped_folder
from tests.people import OPENED, staffed


def run(capsys, *words):
    code = main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


def run_json(capsys, *words):
    code, out, err = run(capsys, *words, "--json")
    assert err == ""
    return code, json.loads(out)


def between(found, a, b):
    return next(one for one in found if {one["a"], one["b"]} == {a, b})


def test_dead_readings_are_expected_between_every_two_terminals(capsys):
    code, found = run_json(capsys, "expect", "tb-mu1")
    assert code == 0
    primary = between(found, "plug.L", "plug.N")
    assert primary["unit"] == "ohm"
    assert primary["lower"] < 480 < primary["upper"]
    assert primary["derivation"][0].keys() == {"what", "value", "source"}
    isolation = between(found, "plug.L", "outlet.1")
    assert (isolation["lower"], isolation["upper"]) == (2e6, None)


def test_a_fuse_taken_out_opens_the_primary(capsys):
    _, found = run_json(capsys, "expect", "tb-mu1", "--set-up", "fuse out")
    primary = between(found, "plug.L", "plug.N")
    assert primary["upper"] is None
    assert primary["lower"] > 1e5


def test_live_readings_follow_the_measured_mains_and_leave_the_mains_pins_alone(capsys):
    _, at_240 = run_json(capsys, "expect", "tb-mu1", "--mains", "240 V")
    _, at_252 = run_json(capsys, "expect", "tb-mu1", "--mains", "252 V")
    assert {one["unit"] for one in at_240} == {"V"}
    assert not [one for one in at_240 if "plug" in one["a"] or "plug" in one["b"]]
    first, second = (between(found, "outlet.1", "outlet.2")["expected"] for found in (at_240, at_252))
    # 9 V on load with 14 % regulation, no load: 9 V × 1.14 (transformer rule, reference tables of the project)
    assert first == pytest.approx(9 * 1.14, rel=1e-3)
    assert second / first == pytest.approx(252 / 240, rel=1e-9)


def test_without_a_mains_reading_the_legal_range_widens_the_band(capsys):
    _, measured = run_json(capsys, "expect", "tb-mu1", "--mains", "230 V")
    _, unknown = run_json(capsys, "expect", "tb-mu1", "--power", "on")
    narrow, wide = (between(found, "outlet.1", "outlet.2") for found in (measured, unknown))
    assert wide["lower"] < narrow["lower"] < narrow["upper"] < wide["upper"]


def test_an_equipment_file_of_ones_own_is_read_by_its_name(capsys, tmp_path):
    file = tmp_path / "mine.yaml"
    text = (shipped_folder("resources") / "equipment" / "tb-mu2.yaml").read_text()
    file.write_text(text.replace("equipment: tb-mu2", "equipment: mine").replace("310 ohm", "620 ohm"))
    _, found = run_json(capsys, "expect", str(file))
    assert between(found, "plug.L", "plug.N")["expected"] == pytest.approx(620, rel=0.02)


def test_the_plan_takes_earth_isolation_and_unused_pins_and_says_what_it_cannot_show(capsys):
    code, found = run_json(capsys, "plan", "tb-mu1")
    assert code == 0
    kinds = {one["kind"] for probes in found["connectors"].values() for one in probes}
    assert kinds == {"earth", "isolation", "unused", "continuity"}
    assert any("crossed" in one["defect"] for one in found["not shown"])


@pytest.mark.parametrize("equipment", ["tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1"])
@pytest.mark.parametrize("command", ["expect", "plan"])
def test_all_shipped_equipment_is_shown_to_people(capsys, equipment, command):
    code, out, err = run(capsys, command, equipment)
    assert (code, err) == (0, "")
    assert len(out.splitlines()) > 2


def test_an_open_joint_is_located_and_until_then_the_next_probe_is_named(capsys):
    code, first = run_json(capsys, "locate", "tb-mu1", "--reading", "outlet.1,outlet.4=OL")
    assert code == 1
    assert first["next"]["say"].startswith("Black probe on")
    words = ["locate", "tb-mu1"]
    for reading in (
        "outlet.1,outlet.4=OL",
        "outlet.1,outlet.2=1.3 ohm",
        "outlet.1,outlet.3=13 ohm",
        "outlet.4,outlet.2=OL",
    ):
        words += ["--reading", reading]
    code, found = run_json(capsys, *words, "--reading", "outlet.4,outlet.5=OL")
    assert found["suspects"][0]["part"] == "low-a-twin"
    assert found["suspects"][0]["share"] > first["suspects"][0]["share"]
    assert code == (0 if found["found"] else 1)


def test_people_get_suspects_evidence_and_the_next_probe(capsys):
    _, out, _ = run(capsys, "locate", "tb-mu1", "--reading", "outlet.1,outlet.4=OL")
    assert "the joint at pin 4 is open" in out
    assert "Next: Black probe on" in out
    assert ", dead)" in out
    assert "before" not in out.splitlines()[1]  # no repair was recorded, so there is no such column


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("expect", "tb-mv1"), "There is no equipment 'tb-mv1'. Did you mean tb-mu1?"),
        (("expect", "tb-rec1", "--set-up", "motor fast"), "“power at on”, “power at off”, “selector at 240 V”"),
        (("expect", "tb-mu1", "--set-up", "upside down"), "tb-mu1 cannot be set up as 'upside down'"),
        (("expect", "tb-mu1", "--mains", "OL"), "is no mains voltage"),
        (("expect", "tb-mu1", "--mains", "-230 V"), "is no mains voltage"),
        (("expect", "tb-mu1", "--mains", "3 A"), "a voltage is needed here"),
        (("expect", "tb-mu1", "--power", "on", "--region", "gbr"), "There is no region 'gbr'"),
        (("expect", "tb-ls1", "--power", "on"), "supply"),
        (("expect", "nowhere.yaml"), "nowhere.yaml"),
        (("locate", "tb-mu1", "--reading", "outlet.1=OL"), "is no reading"),
        (("locate", "tb-mu1", "--reading", "outlet.1,outlet.9=OL"), "outlet.9"),
        (("locate", "tb-mu1", "--reading", "outlet.1,outlet.2=3 A"), "a resistance is needed here"),
        (("locate", "tb-mu1", "--reading", "outlet.1,outlet.2=9 V"), "give the mains voltage too"),
        (("locate", "tb-mu1", "--reading", "outlet.1,outlet.2=OL V", "--mains", "240 V"), "Choose a larger range"),
        (("locate", "tb-mu1", "--reading", "outlet.1,outlet.2=<1 ohm"), "is a limit, no reading"),
        (("locate", "tb-mu1", "--reading", "outlet.1,outlet.2=-5 ohm"), "never below zero"),
        (("locate", "tb-mu1", "--reading", "outlet.1,outlet.2="), "Nothing was typed"),
        (("locate", "tb-ls1", "--reading", "input.red,input.black=9 V", "--mains", "240 V"), "has no supply"),
        (
            ("locate", "tb-mu1", "--reading", "outlet.1,outlet.2=1 ohm", "--reading", "outlet.2,outlet.1=2 ohm"),
            "There are two readings between",
        ),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_bad_input_is_one_line_on_stderr_and_exit_2(capsys, words, sentence):
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert sentence in err
    assert err.count("\n") == 1


def test_repairs_of_a_workbook_weigh_in(capsys, tmp_path):
    from benchapp.actions.entries.answers import record_answer
    from benchapp.actions.entries.days import open_bench
    from benchapp.actions.entries.faults import record_fault, record_repair
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.actions.standalone.circuits import confirmed_repairs
    from benchapp.actions.workbench.bench import Bench
    from benchapp.sequences.planning.chain_contents import MeterProof
    from tests.actions.conftest import SMALL, Clock
    from tests.actions.driving import do_what_is_due, good_answer

    path = tmp_path / "tarnbeck.workbook"
    with Bench.create(path, folders=(SMALL,), clock=Clock(), workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=True),), **OPENED)
        take_in_lot(bench, name="L", equipment="tb-ls1", route="small-check", marks=("TB-001", "TB-002"), by="AB")
        do_what_is_due(bench, "TB-001", until="coils.leads")
        record_fault(
            bench, "TB-001", part="red-wire", mode="open", words="red wire off", by="AB", address="look-over.outside"
        )
        fault = bench.state("TB-001").faults[0].entry
        assert confirmed_repairs(bench, "tb-ls1") == ()
        record_repair(bench, "TB-001", fault=fault, part="red-wire", done="soldered", by="AB")
        record_answer(bench, "TB-001", "look-over.outside", good_answer(bench, "TB-001", "look-over.outside"), by="AB")
        (repaired,) = confirmed_repairs(bench, "tb-ls1")
    assert (repaired.part, repaired.mode) == ("red-wire", "open")
    words = ("locate", "tb-ls1", "--reading", "input.red,input.black=OL")
    _, before = run_json(capsys, *words)
    _, after = run_json(capsys, *words, "--workbook", str(path))
    share_before, share_after = (
        next(one["share"] for one in found["suspects"] if one["part"] == "red-wire") for found in (before, after)
    )
    assert share_after > share_before
    assert "your last fault on this design was" in json.dumps(after)


def test_what_one_unit_has_of_its_own_counts_in_every_command(capsys, tmp_path):
    own = ("--own", "cord length=100 m", "--own", "cord area=0.5 mm²")
    _, design = run_json(capsys, "expect", "tb-mu1")
    _, found = run_json(capsys, "expect", "tb-mu1", *own)
    before, after = (between(one, "plug.E", "case") for one in (design, found))
    assert after["expected"] > before["expected"] + 0.5
    assert any(line["source"] == "this unit's own facts" for line in after["derivation"])
    _, plan = run_json(capsys, "plan", "tb-mu1", *own)
    probe = next(one for one in plan["connectors"]["plug"] if one["id"] == "plug.E-case")
    assert probe["upper"] == after["upper"]
    reading = ("--reading", "plug.E,case=3.6 ohm")
    _, suspected = run_json(capsys, "locate", "tb-mu1", *reading)
    _, sound = run_json(capsys, "locate", "tb-mu1", *reading, *own)
    assert suspected["suspects"][0]["part"] in {"cord-earth", "case-bond"}
    assert sound["suspects"][0]["share"] < suspected["suspects"][0]["share"]
    out = tmp_path / "card.pdf"
    assert main(["pins", "tb-mu1", "--connector", "plug", *own, "--out", str(out)]) == 0


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ("colour=blue", "says nothing of a unit's circuit"),
        ("cord length", "says nothing of a unit's circuit"),
        ("cord length=blue", "blue"),
        ("cord length=3 ohm", "a length is needed here"),
        ("selector setting=110 V", "has no selector position '110 V'"),
    ],
)
def test_something_of_its_own_that_cannot_be_is_a_sentence(capsys, said, sentence):
    code, out, err = run(capsys, "expect", "tb-mu1", "--own", said)
    assert (code, out) == (2, "")
    assert sentence in err


def test_the_plan_is_made_for_the_meter_that_probes(capsys):
    _, fine = run_json(capsys, "plan", "tb-mu1", "--meter", "tb-m1")
    _, usual = run_json(capsys, "plan", "tb-mu1")
    assert {one["defect"] for one in fine["not shown"]} <= {one["defect"] for one in usual["not shown"]}
    code, out, err = run(capsys, "plan", "tb-mu1", "--meter", "tb-pm1")
    assert (code, out) == (2, "")
    assert "tb-pm1 does not read resistance" in err


def test_a_reading_that_came_out_the_same_twice_is_written_once_and_weighs_more(capsys):
    once = ("locate", "tb-mu1", "--reading", "plug.L,plug.N=0.7 ohm")
    _, before = run_json(capsys, *once)
    _, after = run_json(capsys, *once[:-1], once[-1] + " twice")
    share_before, share_after = (found["suspects"][0]["share"] for found in (before, after))
    assert before["suspects"][0]["part"] == after["suspects"][0]["part"] == "primary"
    assert share_after > share_before


def test_readings_that_contradict_each_other_are_named_the_worst_first(capsys):
    words = ["locate", "tb-mu1"]
    for reading in ("outlet.1,outlet.4=47 kohm", "outlet.2,outlet.1=1.2 ohm", "outlet.2,outlet.4=1.2 ohm"):
        words += ["--reading", reading]
    code, found = run_json(capsys, *words)
    assert code == 1
    assert {found["disagreeing"][0]["a"], found["disagreeing"][0]["b"]} == {"outlet.1", "outlet.4"}
    assert found["sentence"].startswith("Nothing explains all readings. Take these again: 47 kohm between pin 1")


RECTIFIED = """\
equipment: made-up
title: Made up for a test
class: II
connectors: {plug: gb-13a-plug, out: din-5-180}
supply: {voltage: 240 V, power: 20 VA}
circuit:
  - {winding: primary, between: [plug.L, plug.N], rated: 240 V supply, resistance: 150 ohm}
  - {winding: low, between: [out.1, out.3], rated: 12 V off load, resistance: 0.5 ohm}
  - {diode: rectifier, between: [out.1, out.4]}
  - {resistor: bleeder, between: [out.4, out.3], resistance: 4.7 kohm}
  - {barrier: apart, between: [plug, out], at least: 2 Mohm}
outputs:
  - {output: dc, between: [out.4, out.3], volts: 16 V ± 10 %, source: rating plate}
"""


def test_a_voltage_that_a_diode_decides_on_is_said_to_be_set_aside(tmp_path, capsys):
    file = tmp_path / "made-up.yaml"
    file.write_text(RECTIFIED)
    words = ("--reading", "out.4,out.3=9 V", "--reading", "out.1,out.3=12 V", "--mains", "240 V")
    _, out, _ = run(capsys, "locate", str(file), *words)
    assert [line for line in out.splitlines() if "Set aside" in line] == [
        "Set aside: out.4,out.3=9 V. A diode decides on that voltage: hold it against the plate; it tells no part."
    ]


def test_terminals_are_named_as_locate_takes_them_and_each_caution_stands_once(tmp_path, capsys):
    file = tmp_path / "made-up.yaml"
    file.write_text(RECTIFIED)
    _, out, _ = run(capsys, "expect", str(file))
    assert "plug.L – plug.N" in out
    assert out.count("OL counts only with leads") == 1
    _, out, _ = run(capsys, "expect", str(file), "--mains", "240 V")
    assert "DC voltage  16 V" in out
    assert "red on pin 4 of the outlet, black on pin 3 of the outlet" in out
    _, found = run_json(capsys, "expect", str(file), "--mains", "240 V")
    assert {one["red"] for one in found} == {"", "out.4"}
    assert "AC voltage  12 V" in out


CLAMPED = """\
equipment: rectified
title: Rectifier behind a joint
class: III
connectors: {output: din-5-180}
circuit:
  - {resistor: bleeder, between: [output.1, output.2], resistance: 4.7 kohm ± 5 %}
  - {diode: clamp, between: [inner, output.2], say: the clamp diode}
  - {link: joint, between: [inner, output.1]}
outputs:
  - {output: dc, between: [output.1, output.2], volts: 9 V, source: made up}
"""


def test_the_plan_on_paper_says_which_probe_goes_where_and_what_to_beware_of(capsys, tmp_path):
    file = tmp_path / "rectified.yaml"
    file.write_text(CLAMPED, encoding="utf-8")
    code, out, _ = run(capsys, "plan", str(file))
    assert code == 0
    assert "black – red" in out
    line = next(line for line in out.splitlines() if "the clamp diode" in line and "continuity" in line)
    assert "output.1 – output.2" in line  # red on the cathode: it blocks, and a short shows
    assert "A diode lies in this path" in line
    assert "red is taken as the meter's positive lead" in line


@pytest.mark.parametrize(
    ("own", "kind", "pair"),
    [("detachable lead=yes", "lead", ("plug.L", "mains.L")), ("cord cores=2", "unused", ("plug.L", "plug.E"))],
)
def test_a_cord_of_its_own_decides_which_pairs_the_plan_probes(capsys, own, kind, pair):
    _, design = run_json(capsys, "plan", "tb-mu1")
    _, unit = run_json(capsys, "plan", "tb-mu1", "--own", own)
    before, after = (
        {(one["kind"], one["a"], one["b"]) for one in plan["connectors"]["plug"]} for plan in (design, unit)
    )
    assert before < after
    assert (kind, *pair) in after - before


def test_a_plug_without_a_fuse_is_planned_without_one(capsys):
    _, unit = run_json(capsys, "plan", "tb-mu1", "--own", "plug fuse=no")
    assert "the fuse in the plug" not in json.dumps(unit)


IMPORTED = """\
equipment: imported
title: Mains unit from abroad
class: II
connectors: {plug: gb-13a-plug, out: din-5-180}
supply: {voltage: 120 V, frequency: 60 Hz, power: 20 VA}
circuit:
  - {winding: primary, between: [plug.L, plug.N], rated: 120 V supply, resistance: 40 ohm}
  - {winding: low, between: [out.1, out.3], rated: 12 V off load, resistance: 0.5 ohm}
  - {barrier: apart, between: [plug, out], at least: 2 Mohm}
"""
BURNS = "It is made for 120 V, and mains here is 230 V, by law up to 253 V. On this mains it burns."


@pytest.mark.parametrize("power", ["off", "on"])
def test_a_design_for_other_mains_is_said_to_be_before_any_reading(capsys, tmp_path, power):
    file = tmp_path / "imported.yaml"
    file.write_text(IMPORTED, encoding="utf-8")
    _, out, _ = run(capsys, "expect", str(file), "--power", power)
    first, second, *_ = out.splitlines()
    assert first.startswith(BURNS)
    assert second.startswith("Its plate says 60 Hz and mains here is 50 Hz")
    _, out, _ = run(capsys, "expect", str(file), "--power", power, "--region", "us")
    assert "mains here" not in out


def test_programs_hear_of_other_mains_with_each_voltage(capsys, tmp_path):
    file = tmp_path / "imported.yaml"
    file.write_text(IMPORTED, encoding="utf-8")
    _, found = run_json(capsys, "expect", str(file), "--power", "on")
    assert all(one["cautions"][0].startswith(BURNS) for one in found if one["lower"] is not None)


def test_the_regions_that_help_names_are_those_that_are_shipped(capsys):
    for command in ("expect", "limits", "pins"):
        with pytest.raises(SystemExit):
            main([command, "--help"])
        assert "au, eu, gb, nz, us" in " ".join(capsys.readouterr().out.split())
