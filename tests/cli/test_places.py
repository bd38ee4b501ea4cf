"""Where a workbook lies, on the console: a copy of it, and exports that leave what is not theirs alone."""

import sqlite3

import pytest

from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.cli.command import main
from benchapp.workbook.file import store
from benchapp.workbook.opened import workbook
from tests.actions.conftest import SMALL, Clock
from tests.people import staffed


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "tarnbeck.workbook"
    with Bench.create(path, folders=(SMALL,), clock=Clock(), workshop=staffed()) as bench:
        take_in_lot(bench, name="Hall", equipment="tb-ls1", route="small-check", marks=("A/1", "A_1"), by="AB")
    return path


def run(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def test_a_copy_is_made_and_opens(capsys, path, tmp_path):
    to = tmp_path / "copy.workbook"
    code, out, err = run(capsys, "copy", path, to)
    assert (code, err) == (0, "")
    assert out == f"{to} is a whole copy of tarnbeck.workbook: 0 entries, and its chains hold.\n"
    assert run(capsys, "verify", to)[0] == 0


def test_a_copy_never_takes_the_place_of_a_file(capsys, path, tmp_path):
    (tmp_path / "mine.txt").write_text("mine")
    code, out, err = run(capsys, "copy", path, tmp_path / "mine.txt")
    assert (code, out) == (2, "")
    assert "already. Choose another name" in err
    assert (tmp_path / "mine.txt").read_text() == "mine"


def test_a_copy_of_a_record_that_does_not_hold_is_told_with_exit_code_1(capsys, path, tmp_path):
    connection = sqlite3.connect(path, isolation_level=None)
    for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        connection.execute(f"DROP TRIGGER {name}")
    connection.close()
    code, out, _ = run(capsys, "copy", path, tmp_path / "copy.workbook")
    assert code == 1
    assert "does not hold" in out


@pytest.mark.parametrize("command", ["tags", "pins"])
def test_an_export_onto_the_workbook_or_any_other_file_is_refused(capsys, path, tmp_path, command):
    words = {"tags": ("tags", path, "--lot", "Hall"), "pins": ("pins", "tb-mu1")}[command]
    (tmp_path / "letter.pdf").write_text("dear diary")
    before = path.read_bytes()
    for out in (path, tmp_path / "letter.pdf"):
        code, said, complaint = run(capsys, *words, "--out", out)
        assert (code, said) == (2, "")
        assert complaint.startswith("benchapp: ")
    assert path.read_bytes() == before
    assert (tmp_path / "letter.pdf").read_text() == "dear diary"


def test_scripts_may_write_their_own_tags_again(capsys, path, tmp_path):
    for _ in range(2):
        code, _, err = run(capsys, "tags", path, "--lot", "Hall", "--out", tmp_path / "tags.pdf")
        assert (code, err) == (0, "")


def test_record_sheets_of_like_marks_are_two_files(capsys, path, tmp_path):
    assert run(capsys, "records", path, "--lot", "Hall", "--out", tmp_path)[0] == 0
    assert sorted(file.name for file in tmp_path.glob("*.pdf")) == ["A%2F1.pdf", "A_1.pdf"]


def test_a_network_drive_is_told_beside_the_answer(capsys, path, monkeypatch):
    monkeypatch.setattr(store, "network_place", lambda _path: "NFS")
    code, out, err = run(capsys, "lots", path, "--json")
    assert code == 0
    assert '"Hall"' in out
    assert err.startswith("benchapp: tarnbeck.workbook lies on a network drive (NFS).")


def test_a_workbook_for_looking_only_is_listed_and_its_tags_refused(capsys, path, tmp_path, monkeypatch):
    monkeypatch.setattr(workbook, "may_write", lambda _path: False)
    code, out, err = run(capsys, "lots", path)
    assert (code, err) == (0, "benchapp: tarnbeck.workbook is open for looking only: nothing is recorded in it.\n")
    assert "Hall" in out
    code, _, err = run(capsys, "tags", path, "--lot", "Hall", "--out", tmp_path / "tags.pdf")
    assert code == 2
    assert "this was not recorded" in err
    assert not (tmp_path / "tags.pdf").exists()
