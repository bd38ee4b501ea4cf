"""Backups on the console: made, listed, and the way back."""

import json

import pytest

from benchapp.cli.command import main
from tests.actions.conftest import SMALL, Clock
from tests.actions.driving import do_what_is_due
from tests.people import staffed


@pytest.fixture
def workbook(tmp_path):
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.actions.workbench.bench import Bench

    path = tmp_path / "tarnbeck.workbook"
    with Bench.create(path, folders=(SMALL,), clock=Clock(), workshop=staffed()) as bench:
        marks = ("TB-001", "TB-002")
        take_in_lot(bench, name="Tarnbeck hall", equipment="tb-ls1", route="small-check", marks=marks, by="AB")
        do_what_is_due(bench, "TB-001", until="look-over.colour")
    return path


@pytest.fixture
def stick(tmp_path):
    folder = tmp_path / "stick"
    folder.mkdir()
    return folder


def run(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def test_without_a_folder_it_says_what_to_do(capsys, workbook):
    code, _, err = run(capsys, "backup", workbook)
    assert code == 2
    assert err == ("benchapp: No folder for backups is named on this computer. Name one: a second disk, or a stick.\n")
    assert run(capsys, "backups", workbook)[0] == 2


def test_a_folder_is_named_once_and_used_from_then_on(capsys, workbook, stick):
    code, out, _ = run(capsys, "backup", workbook, "--keep-to", stick)
    assert code == 0
    assert out.splitlines()[0].startswith(f"Backups go to {stick}.")
    assert out.splitlines()[1].startswith(f"Backed up and verified: {stick}")
    code, out, _ = run(capsys, "backup", workbook)
    assert code == 0
    assert out.startswith(f"Backed up and verified: {stick}")


def test_backups_are_listed_with_what_they_hold(capsys, workbook, stick):
    run(capsys, "backup", workbook, "--to", stick)
    code, out, _ = run(capsys, "backups", workbook, "--in", stick)
    assert code == 0
    head, row = out.splitlines()
    assert head.split("  ")[0] == "backup"
    assert row.endswith("sound")
    (listed,) = json.loads(run(capsys, "backups", workbook, "--in", stick, "--json")[1])
    assert (listed["units"], listed["sound"], listed["state"], listed["words"]) == (2, True, "sound", "")
    assert listed["entries"] > 0
    assert listed["path"].startswith(str(stick))


def test_a_backup_that_changed_on_the_stick_is_told_not_sound(capsys, workbook, stick):
    run(capsys, "backup", workbook, "--to", stick)
    (backup,) = stick.glob("*.workbook")
    content = bytearray(backup.read_bytes())
    content[-1] ^= 1
    backup.write_bytes(content)
    code, out, _ = run(capsys, "backups", workbook, "--in", stick)
    assert code == 1
    assert "not sound: Its bytes are no longer those that were checked" in out


def test_no_backup_is_a_no(capsys, workbook, stick):
    assert run(capsys, "backups", workbook, "--in", stick) == (1, "There is no backup of tarnbeck.workbook.\n", "")


def test_a_backup_is_restored_and_verifies(capsys, workbook, stick, tmp_path):
    run(capsys, "backup", workbook, "--to", stick)
    (backup,) = stick.glob("*.workbook")
    to = tmp_path / "again.workbook"
    code, out, _ = run(capsys, "restore", backup, "--to", to)
    assert code == 0
    assert out.startswith(f"{to} holds what was backed up on ")
    assert run(capsys, "verify", to)[0] == 0


def test_a_restore_never_takes_the_place_of_a_file(capsys, workbook, stick):
    run(capsys, "backup", workbook, "--to", stick)
    (backup,) = stick.glob("*.workbook")
    before = workbook.read_bytes()
    code, _, err = run(capsys, "restore", backup, "--to", workbook)
    assert code == 2
    assert "a backup never takes the place of one" in err
    assert "tarnbeck.workbook has nothing that the backup has not." in err
    assert workbook.read_bytes() == before


@pytest.mark.parametrize("words", [("backup",), ("backups", "--in", ".")], ids=lambda words: words[0])
def test_a_file_that_is_no_workbook_is_bad_input(capsys, tmp_path, stick, words):
    diary = tmp_path / "diary.txt"
    diary.write_text("dear diary")
    code, _, err = run(capsys, words[0], diary, *(("--to", stick) if words[0] == "backup" else words[1:]))
    assert code == (2 if words[0] == "backup" else 1)
    assert ("is not a bench workbook" in err) == (words[0] == "backup")
    assert list(stick.iterdir()) == []


def damage(workbook):
    """The head of the file overwritten: SQLite no longer opens it."""
    workbook.write_bytes(b"\x5a" * 100 + workbook.read_bytes()[100:])
    return workbook


def test_the_lots_of_a_damaged_workbook_are_listed_as_far_as_they_can_be_read(capsys, workbook, stick):
    run(capsys, "backup", workbook, "--keep-to", stick)
    before = damage(workbook).read_bytes()
    code, out, err = run(capsys, "lots", workbook)
    assert code == 1
    assert "Tarnbeck hall" in out
    assert "tarnbeck.workbook is damaged" in err
    assert "of 2 units can still be read." in err
    assert "The newest sound backup is of " in err
    assert "The damaged file has nothing that the backup has not." in err
    assert workbook.read_bytes() == before
    code, out, _ = run(capsys, "lots", workbook, "--lot", "Tarnbeck hall", "--json")
    assert code == 1
    assert [row["mark"] for row in json.loads(out)["rows"]] == ["TB-001", "TB-002"]


def test_verifying_a_damaged_workbook_is_a_no_with_what_is_left_of_it(capsys, workbook):
    damage(workbook)
    code, out, err = run(capsys, "verify", workbook)
    assert code == 1
    assert out
    assert "of 2 units can still be read." in err
    assert "No sound backup of it can be found" in err
    assert json.loads(run(capsys, "verify", workbook, "--json")[1])[0]["unit"] == ""


def test_verifying_a_workbook_with_a_page_of_rubbish_says_what_is_left_of_it(capsys, workbook):
    import sqlite3
    from contextlib import closing

    with closing(sqlite3.connect(workbook)) as connection:
        root = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entries'").fetchone()[0]
    content = bytearray(workbook.read_bytes())
    content[(root - 1) * 4096 : root * 4096] = b"\x5a" * 4096
    workbook.write_bytes(content)
    code, out, err = run(capsys, "verify", workbook)
    assert code == 1
    assert "damaged" in out
    assert "of 2 units can still be read." in err


def test_a_damaged_backup_is_not_restored_and_the_sound_one_is_named(capsys, workbook, stick, tmp_path):
    run(capsys, "backup", workbook, "--to", stick)
    run(capsys, "backup", workbook, "--to", stick)
    newer, older = sorted(stick.glob("*.workbook"), reverse=True)
    damage(newer)
    code, _, err = run(capsys, "restore", newer, "--to", tmp_path / "again.workbook")
    assert code == 2
    assert f"{newer.name} does not hold, so nothing was restored." in err
    assert f"The newest sound backup beside it is {older.name}." in err
    assert not (tmp_path / "again.workbook").exists()


def test_a_restore_beside_a_damaged_workbook_says_what_that_has_beyond_the_backup(capsys, workbook, stick):
    from benchapp.actions.workbench.bench import Bench

    run(capsys, "backup", workbook, "--to", stick)
    (backup,) = stick.glob("*.workbook")
    with Bench.open(workbook, clock=Clock()) as bench:
        do_what_is_due(bench, "TB-002", until="look-over.wipe")
    damage(workbook)
    code, _, err = run(capsys, "restore", backup, "--to", workbook)
    assert code == 2
    assert "can still be read" in err
    assert "The damaged file has " in err
    assert "that the backup has not: TB-002 (1" in err
