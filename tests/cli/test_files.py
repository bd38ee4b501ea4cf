"""Files on the console: check and schema."""

import json
from pathlib import Path

import pytest

from benchapp.cli import main

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
    assert code == 1
    assert f"{sequence}:7:5:" in err
    assert "checkpoints" in err
    assert out.startswith("WRONG")


def test_all_complaints_of_a_file_are_given_at_once(capsys, sequence):
    text = sequence.read_text().replace("check: cone", "chek: cone").replace("check: grille", "chk: grille")
    sequence.write_text(text)
    _, _, err = check(capsys, sequence)
    assert (":8:" in err, ":9:" in err) == (True, True)


def test_a_name_that_leads_nowhere_is_found(capsys, tmp_path):
    route = tmp_path / "route.yaml"
    route.write_text("route: own\ntitle: Own route\nequipment: [tb-ls9]\nsequences: [look-ovr]\n")
    code, _, err = check(capsys, route, SMALL)
    assert code == 1
    assert f"{route}:3:" in err
    assert f"{route}:4:" in err
    assert "look-over" in err


def test_a_worked_case_that_comes_out_wrong_is_a_no(capsys, tmp_path):
    for file in (SMALL / "sequences").glob("*.yaml"):
        (tmp_path / file.name).write_text(
            file.read_text().replace("6.3 ohm, judgement: pass", "6.3 ohm, judgement: fail")
        )
    code, _, err = check(capsys, tmp_path)
    assert code == 1
    assert "case “a sound loudspeaker”, coil: fail expected, pass found" in err


@pytest.mark.parametrize(
    "text", ["a: [1, 2", "\tx: 1", "x: *a", "a: 1\na: 2", "", "just words", "- 1\n- 2", "\x00\x01", "sequence: [1]"]
)
def test_a_file_that_is_none_is_complained_about_with_its_line(capsys, tmp_path, text):
    file = tmp_path / "odd.yaml"
    file.write_text(text)
    code, _, err = check(capsys, file)
    assert code == 1
    assert err.startswith(f"{file}:")
    assert "Traceback" not in err


def test_bytes_that_are_no_text_are_complained_about(capsys, tmp_path):
    file = tmp_path / "odd.yaml"
    file.write_bytes(b"sequence: \xff\xfe")
    code, _, err = check(capsys, file)
    assert code in (1, 2)
    assert str(file) in err


def test_a_label_sheet_is_checked_too(capsys, tmp_path):
    file = tmp_path / "tiny.yaml"
    file.write_text("label sheet: tiny\ntitle: Tiny\npage: {width: 50, height: 50}\ncolumns: 5\n")
    code, _, err = check(capsys, file)
    assert code == 1
    assert "a tag needs at least" in err


@pytest.mark.parametrize("place", ["nowhere", "."])
def test_a_path_without_files_is_bad_input(capsys, tmp_path, place):
    code, _, err = check(capsys, tmp_path / place)
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
