"""Files on the console: check and schema."""

import json
from pathlib import Path

import pytest

from benchapp.cli.command import main
from benchapp.files.shipped import shipped_folder

SMALL = Path(__file__).resolve().parents[1] / "actions" / "small"


@pytest.fixture
def sequence(tmp_path):
    """A good sequence of the trainer's own."""
    file = tmp_path / "look-over.yaml"
    file.write_text((SMALL / "sequences" / "look-over.yaml").read_text())
    return file


def check(capsys, *words):
    code = main(["check", *map(str, words)])
    out, err = capsys.readouterr()
    return code, out, err


def test_good_files_are_good(capsys):
    code, out, err = check(capsys, SMALL)
    assert (code, err) == (0, "")
    assert out.splitlines()[-1] == "3 files, all good"
    assert any("1 worked case)" in line for line in out.splitlines())


def test_what_is_shipped_is_good(capsys):
    code, _, err = check(capsys)
    assert (code, err) == (0, "")


def test_a_misspelt_key_is_named_with_its_place_and_its_cure(capsys, sequence):
    sequence.write_text(sequence.read_text().replace("checkpoints:", "chekpoints:"))
    code, out, err = check(capsys, sequence)
    assert (code, err) == (1, "")
    assert f"{sequence}:7:5:" in out
    assert "checkpoints" in out
    assert out.startswith("WRONG")


def test_all_complaints_of_a_file_are_given_at_once(capsys, sequence):
    text = sequence.read_text().replace("check: cone", "chek: cone").replace("check: grille", "chk: grille")
    sequence.write_text(text)
    _, out, _ = check(capsys, sequence)
    assert (":8:" in out, ":9:" in out) == (True, True)


def test_a_name_that_leads_nowhere_is_found(capsys, tmp_path):
    route = tmp_path / "route.yaml"
    route.write_text("route: own\ntitle: Own route\nequipment: [tb-ls9]\nsequences: [look-ovr]\n")
    code, out, _ = check(capsys, route, SMALL)
    assert code == 1
    assert f"{route}:3:" in out
    assert f"{route}:4:" in out
    assert "look-over" in out


def test_a_worked_case_that_comes_out_wrong_is_a_no(capsys, tmp_path):
    for file in (SMALL / "sequences").glob("*.yaml"):
        (tmp_path / file.name).write_text(
            file.read_text().replace("6.3 ohm, judgement: pass", "6.3 ohm, judgement: fail")
        )
    code, out, _ = check(capsys, tmp_path)
    assert code == 1
    (line,) = [line for line in out.splitlines() if "fail expected, pass found" in line]
    assert line.startswith(f"{tmp_path / 'coils.yaml'}:")
    assert ": case “a sound loudspeaker”, step “coil”: fail expected, pass found" in line
    number, column = map(int, line.removeprefix(f"{tmp_path / 'coils.yaml'}:").split(":")[:2])
    assert (tmp_path / "coils.yaml").read_text().splitlines()[number - 1][column - 1 :].startswith("fail")


@pytest.mark.parametrize(
    "text", ["a: [1, 2", "\tx: 1", "x: *a", "a: 1\na: 2", "", "just words", "- 1\n- 2", "\x00\x01", "sequence: [1]"]
)
def test_a_file_that_is_none_is_complained_about_with_its_line(capsys, tmp_path, text):
    file = tmp_path / "odd.yaml"
    file.write_text(text)
    code, out, err = check(capsys, file)
    assert (code, err) == (1, "")
    assert out.splitlines()[1].startswith(f"{file}:")


def test_bytes_that_are_no_text_are_complained_about(capsys, tmp_path):
    file = tmp_path / "odd.yaml"
    file.write_bytes(b"sequence: \xff\xfe")
    code, out, err = check(capsys, file)
    assert code in (1, 2)
    assert str(file) in out + err


def test_a_label_sheet_is_checked_too(capsys, tmp_path):
    file = tmp_path / "tiny.yaml"
    file.write_text("label sheet: tiny\ntitle: Tiny\npage: {width: 50, height: 50}\ncolumns: 5\n")
    code, out, _ = check(capsys, file)
    assert code == 1
    assert "a sticker needs at least" in out


@pytest.mark.parametrize("location", ["nowhere", "."])
def test_a_path_without_files_is_bad_input(capsys, tmp_path, location):
    code, _, err = check(capsys, tmp_path / location)
    assert code == 2
    assert err.count("\n") == 1


def test_programs_get_the_report_as_json(capsys):
    code = main(["check", str(SMALL), "--json"])
    found = json.loads(capsys.readouterr().out)
    assert code == 0
    assert [report["good"] for report in found] == [True] * 3


def test_the_schema_of_every_kind_is_given(capsys):
    assert main(["check", "--schema"]) == 0
    found = json.loads(capsys.readouterr().out)
    kinds = {"route", "sequence", "equipment", "connector", "meter", "limits", "caution", "label sheet"}
    assert kinds <= set(found)
    assert "set up" in json.dumps(found["sequence"])


def properties(schema, path=""):
    """Every property anywhere in a schema, with the way to it."""
    if isinstance(schema, dict):
        for name, value in schema.get("properties", {}).items():
            yield f"{path}/{name}", value
        for name, value in schema.items():
            yield from properties(value, f"{path}/{name}")
    elif isinstance(schema, list):
        for number, value in enumerate(schema):
            yield from properties(value, f"{path}/{number}")


@pytest.mark.parametrize("kind", ["route", "sequence", "equipment", "connector", "meter", "limits", "caution"])
def test_an_editor_is_told_what_every_key_is_for(capsys, kind):
    assert main(["check", "--schema", kind]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert [way for way, one in properties(schema) if "description" not in one and "$ref" not in one] == []


def test_an_editor_completes_words_that_are_few(capsys):
    main(["check", "--schema", "sequence"])
    steps = json.loads(capsys.readouterr().out)["$defs"]
    assert "AC voltage" in steps["MeasureStep"]["properties"]["function"]["enum"]
    assert "do not use" in steps["MeasureStep"]["properties"]["grave"]["enum"]
    alone, listed = steps["MeasureStep"]["properties"]["when"]["additionalProperties"]["anyOf"]
    assert "string" in alone["type"]
    assert listed["minItems"] == 1


@pytest.mark.parametrize("kind", ["label sheet", "label-sheet", "sequence"])
def test_the_schema_of_one_kind_is_given(capsys, kind):
    assert main(["check", "--schema", kind]) == 0
    assert json.loads(capsys.readouterr().out)["type"] == "object"


def test_an_unknown_kind_is_told_the_nearest(capsys):
    assert main(["check", "--schema", "sequense"]) == 2
    assert capsys.readouterr().err == "benchapp: There is no kind of file called 'sequense'. Did you mean sequence?\n"


def test_a_file_that_rests_on_a_wrong_one_is_not_called_good(capsys, tmp_path, sequence):
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text("connector: odd\ntitle: Odd\nview: from nowhere\n")
    code, out, _ = check(capsys, wrong, sequence)
    assert code == 1
    assert f"read, not yet checked against the others  {sequence} (sequence)" in out
    assert out.splitlines()[-1] == "2 files, 1 with something to mend"


LAMP = """\
equipment: attic-lamp
title: Lamp supply
class: none
connectors: {out: attic-pair}
circuit:
  - resistor: lamp
    between: [out.1, out.2]
    resistance: 12 ohm ± 10 %
"""
PAIR = """\
connector: attic-pair
title: Pair of contacts
source: measured on the item
status: measured on the item
outline: [{shape: rectangle, width: 20, height: 10}]
pins:
  - {pin: "1", x: -5, y: 0}
  - {pin: "2", x: 5, y: 0}
"""


@pytest.mark.parametrize("location", ["", "connectors/"])
def test_what_stands_beside_a_file_is_known_to_it(capsys, tmp_path, location):
    file, beside = tmp_path / "lamp.yaml", tmp_path / f"{location}pair.yaml"
    beside.parent.mkdir(exist_ok=True)
    file.write_text(LAMP)
    beside.write_text(PAIR)
    code, out, _ = check(capsys, file)
    assert code == 0, out
    assert out.splitlines()[-1] == "1 file, all good"


def test_a_file_beside_it_that_is_wrong_is_named_and_left_out(capsys, tmp_path):
    file, beside, stranger = tmp_path / "lamp.yaml", tmp_path / "pair.yaml", tmp_path / "other.yaml"
    file.write_text(
        LAMP.replace("attic-pair", "binding-posts-2").replace("out.1", "out.red").replace("out.2", "out.black")
    )
    beside.write_text(PAIR.replace("pins:", "pinns:"))
    stranger.write_text("services: [1, 2\n")
    code, out, _ = check(capsys, file)
    assert code == 0
    assert f"  {beside} stands beside it, has something to mend itself, and was left out" in out
    assert "other.yaml" not in out


def test_two_own_files_with_one_id_are_told_both_places(capsys, tmp_path):
    first, second = tmp_path / "a.yaml", tmp_path / "b.yaml"
    first.write_text(LAMP)
    second.write_text(LAMP)
    (tmp_path / "pair.yaml").write_text(PAIR)
    code, out, _ = check(capsys, second)
    assert code == 1
    assert (
        f"{second}:1:12: there is an equipment “attic-lamp” already, at {first}:1:12; expected an id of its own" in out
    )
    code, out, _ = check(capsys, tmp_path)
    assert code == 1
    assert out.count("there is an equipment “attic-lamp” already") == 1


def test_a_file_that_takes_the_place_of_a_shipped_one_says_so(capsys, tmp_path):
    file = tmp_path / "mine.yaml"
    file.write_text((shipped_folder("resources") / "equipment" / "tb-ls1.yaml").read_text())
    code, out, _ = check(capsys, file)
    assert code == 0
    assert "  it takes the place of the shipped equipment tb-ls1" in out


def test_facts_of_a_worked_case_are_those_of_its_design(capsys, tmp_path):
    file = tmp_path / "own.yaml"
    case = "worked cases:\n  - case: one\n    equipment: tb-mu1\n    facts: {FACT}\n"
    case += "    answers: [{step: a, judgement: pass}]\n"
    text = "sequence: own\ntitle: Our own\nsteps:\n  - photo: a\n    say: Take it.\n"
    for fact, words in {
        "{clss: I}": ":9:19: there is no fact “clss”; did you mean class?",
        "{plug: molded}": ":9:19: “plug” is never “molded”; did you mean moulded?",
        "{class: II}": ":9:12: case “one”: ",
    }.items():
        file.write_text(text + case.replace("{FACT}", fact))
        code, out, _ = check(capsys, file)
        assert code == 1
        assert f"{file}{words}" in out, out


def test_a_file_looser_than_the_shipped_one_is_a_complaint_wherever_it_is_asked_from(capsys, tmp_path, monkeypatch):
    """By a path like that of a shipped file too: an own folder may be laid out as what is shipped is."""
    file = tmp_path / "resources" / "limits" / "gb.yaml"
    file.parent.mkdir(parents=True)
    shipped = shipped_folder("resources") / "limits" / "gb.yaml"
    file.write_text(shipped.read_text(encoding="utf-8").replace("    value: 0.1\n", "    value: 50\n", 1))
    told = "earth continuity, base: 50 ohm is looser than the shipped 0.1 ohm (IET Code of Practice"
    monkeypatch.chdir(tmp_path)
    for asked in (file, "resources/limits/gb.yaml", "."):
        code, out, _ = check(capsys, asked)
        assert code == 1
        (line,) = [line for line in out.splitlines() if told in line]
        assert line.endswith("; expected at most 0.1 ohm")
        assert f"gb.yaml:{shipped.read_text(encoding='utf-8').splitlines().index('    value: 0.1') + 1}:12: " in line


def test_a_stricter_file_names_each_figure_that_is_the_workshop_s_own(capsys, tmp_path):
    text = (shipped_folder("resources") / "limits" / "gb.yaml").read_text(encoding="utf-8")
    file = tmp_path / "ours.yaml"
    file.write_text(text.replace("    value: 0.1\n", "    value: 0.05\n", 1))
    code, out, _ = check(capsys, file)
    assert code == 0
    own = [line.strip() for line in out.splitlines() if "this workshop's own" in line]
    assert len(own) == 1
    assert own[0].startswith(
        "this workshop's own: limits gb, earth continuity, base: 0.05 ohm in place of 0.1 ohm, IET"
    )
