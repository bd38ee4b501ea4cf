"""Backups in a folder: whole, never over another file, verified, each with its receipt."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
import time
from contextlib import closing

import pytest

from benchapp.workbook.backup.backups import drop_backups, remove_left_drafts, write_backup
from benchapp.workbook.backup.holdings import Holdings, UnitHead, further_in, read_holdings
from benchapp.workbook.backup.problems import CheckStopped
from benchapp.workbook.backup.receipts import check_backup, examined, list_backups, read_receipt, receipt_of
from benchapp.workbook.model.problems import CopyProblem, CopyStopped
from benchapp.workbook.opened.workbook import Workbook

AT = "2026-05-04T09:30:00.000Z"
NAME = "tarnbeck 2026-05-04 093000Z.workbook"


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "stick"
    made.mkdir()
    return made


@pytest.fixture
def recorded(workbook, record):
    for number in (1, 2, 3):
        record(number)
    return workbook


def made(path, folder, at=AT):
    backup = write_backup(path, folder, at=at)
    return backup, check_backup(backup, source=path, at=at)


def test_a_backup_holds_what_the_open_workbook_holds(recorded, path, folder):
    backup, receipt = made(path, folder)
    assert backup == folder / NAME
    assert (receipt.units, receipt.entries, receipt.faults) == (2, 3, ())
    assert receipt.last_at == "2026-05-04T09:03:00Z"
    assert read_holdings(backup) == read_holdings(path)
    looked = Workbook.look_at(backup)
    assert looked.entries("TB-001") == recorded.entries("TB-001")
    looked.close()


def test_nothing_but_the_backup_and_its_receipt_is_left_in_the_folder(recorded, path, folder):
    made(path, folder)
    assert sorted(file.name for file in folder.iterdir()) == ["tarnbeck 2026-05-04 093000Z.receipt.json", NAME]


def test_a_backup_never_takes_the_place_of_another_file(recorded, path, folder):
    (folder / NAME).write_text("dear diary")
    backup = write_backup(path, folder, at=AT)
    assert (folder / NAME).read_text() == "dear diary"
    assert backup.name == "tarnbeck 2026-05-04 093000Z 2.workbook"
    assert read_holdings(backup).entries == 3


def test_a_backup_that_is_stopped_leaves_nothing(recorded, path, folder):
    with pytest.raises(CopyStopped, match="was stopped"):
        write_backup(path, folder, at=AT, cancelled=lambda: True)
    assert list(folder.iterdir()) == []


def test_a_check_that_is_stopped_leaves_a_backup_that_is_not_counted(recorded, path, folder):
    backup = write_backup(path, folder, at=AT)
    with pytest.raises(CheckStopped):
        check_backup(backup, source=path, at=AT, cancelled=lambda: True)
    assert [(one.path, one.state) for one in list_backups(folder)] == [(backup, "not checked")]


def test_a_folder_that_is_not_there_is_told(recorded, path, folder):
    with pytest.raises(CopyProblem, match="there is no such folder"):
        write_backup(path, folder / "gone", at=AT)


def test_an_entry_changed_before_the_backup_makes_it_unsound(recorded, path, folder, tamper):
    tamper("UPDATE entries SET by = 'XY' WHERE number = 2")
    backup, receipt = made(path, folder)
    assert "its column by says XY, the record says AB" in receipt.faults[0]
    (listed,) = list_backups(folder)
    assert (listed.path, listed.state, listed.sound) == (backup, "not sound", False)
    assert listed.words == receipt.faults[0]


def test_a_backup_whose_pages_are_damaged_is_unsound(recorded, path, folder):
    backup = write_backup(path, folder, at=AT)
    content = bytearray(backup.read_bytes())
    content[4096 * 3 : 4096 * 12] = b"\x5a" * (4096 * 9)
    backup.write_bytes(content)
    receipt = check_backup(backup, source=path, at=AT)
    assert receipt.faults
    assert not list_backups(folder)[0].sound


def test_a_backup_that_changes_later_is_no_longer_sound(recorded, path, folder):
    backup, _ = made(path, folder)
    (before,) = list_backups(folder)
    assert examined(before) == before
    content = bytearray(backup.read_bytes())
    content[-10] ^= 1
    backup.write_bytes(content)
    (listed,) = list_backups(folder)
    assert examined(listed).state == "not sound"
    assert "no longer those that were checked" in examined(listed).words


def test_a_backup_cut_short_is_told_without_reading_it(recorded, path, folder):
    backup, receipt = made(path, folder)
    backup.write_bytes(backup.read_bytes()[:-1])
    assert (
        list_backups(folder)[0].words == f"It has {receipt.bytes - 1} bytes; {receipt.bytes} were written and checked."
    )


@pytest.mark.parametrize("content", ["", "{}", "[]", '{"faults": 5}', '{"faults": []}'])
def test_a_receipt_that_cannot_be_read_counts_as_none(recorded, path, folder, content):
    backup, _ = made(path, folder)
    receipt_of(backup).write_text(content)
    assert read_receipt(backup) is None
    assert list_backups(folder)[0].state == "not checked"


def test_backups_of_other_workbooks_are_left_out_and_never_dropped(recorded, path, folder, tmp_path):
    other = tmp_path / "elsewhere" / "tarnbeck.workbook"
    other.parent.mkdir()
    Workbook.create(other, made=AT).close()
    mine, receipt = made(path, folder)
    made(other, folder, "2026-05-04T09:31:00Z")
    assert [one.path for one in list_backups(folder, workbook=receipt.workbook)] == [mine]
    assert len(list_backups(folder)) == 2
    later = "2026-05-04T09:32:00Z"
    newest, _ = made(path, folder, later)
    assert drop_backups(folder, workbook=receipt.workbook, now=later) == (mine,)
    assert newest.exists()
    assert len(list_backups(folder)) == 2
    assert not receipt_of(mine).exists()


def test_a_backup_that_was_not_checked_is_never_dropped(recorded, path, folder):
    first = write_backup(path, folder, at=AT)
    _, receipt = made(path, folder, "2026-05-04T09:31:00Z")
    assert drop_backups(folder, workbook=receipt.workbook, now="2027-05-04T09:31:00Z") == ()
    assert first.exists()


def test_files_of_others_in_the_folder_are_passed_over(recorded, path, folder):
    (folder / "notes.txt").write_text("dear diary")
    (folder / "tarnbeck 9999-99-99 999999Z.workbook").write_text("dear diary")
    made(path, folder)
    assert [one.path.name for one in list_backups(folder, workbook=read_holdings(path).workbook)] == [NAME]


def test_what_one_file_has_and_the_other_has_not(recorded, path, tmp_path, record):
    earlier = tmp_path / "earlier.workbook"
    recorded.close()
    shutil.copy(path, earlier)
    book = Workbook.open(path)
    record(4, into=book)
    record(1, unit="TB-002", into=book)
    book.close()
    now, then = read_holdings(path), read_holdings(earlier)
    assert [(one.unit, one.first, one.last, one.entries) for one in further_in(now, then)] == [
        ("TB-001", 4, 4, 1),
        ("TB-002", 1, 1, 1),
    ]
    assert further_in(then, now) == ()
    assert now.recorded != then.recorded


def test_a_unit_that_was_marked_anew_is_still_the_same_unit():
    then = Holdings(workbook="w", units={"u": UnitHead("TB-001", 3, "a")}, last_at="", recorded="1")
    now = Holdings(workbook="w", units={"u": UnitHead("TB-901", 5, "b")}, last_at="", recorded="2")
    assert [(one.unit, one.first, one.last, one.fork) for one in further_in(now, then)] == [("TB-901", 4, 5, False)]
    other = Holdings(workbook="w", units={"u": UnitHead("TB-901", 3, "c")}, last_at="", recorded="3")
    assert [(one.unit, one.first, one.fork) for one in further_in(other, then)] == [("TB-901", 3, True)]


def test_the_receipt_is_plain_json_for_whoever_reads_the_stick(recorded, path, folder):
    backup, _ = made(path, folder)
    said = json.loads(receipt_of(backup).read_text())
    assert (said["units"], said["entries"], said["faults"], said["source"]) == (2, 3, [], str(path))
    assert said["made"] == "2026-05-04T09:30:00Z"


BACKING_UP = """
import sys
from pathlib import Path
from benchapp.workbook.backup.receipts import check_backup
from benchapp.workbook.backup.backups import write_backup
print("begins", flush=True)
at = "2026-05-04T09:30:00Z"
for number in range(100):
    check_backup(write_backup(Path(sys.argv[1]), Path(sys.argv[2]), at=at), source=Path(sys.argv[1]), at=at)
"""


def test_whoever_is_killed_in_between_leaves_no_half_of_a_backup(recorded, path, folder):
    """Killed at six moments; the judge opens what is there by itself."""
    for number in range(6):
        with subprocess.Popen([sys.executable, "-c", BACKING_UP, path, folder], stdout=subprocess.PIPE) as child:
            child.stdout.readline()
            time.sleep(0.12 * number)
            child.kill()
    found = sorted(folder.glob("*.workbook"))
    assert len(found) > 1
    for backup in found:
        with closing(sqlite3.connect(f"{backup.as_uri()}?mode=ro&immutable=1", uri=True)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            assert connection.execute("SELECT count(*) FROM entries WHERE kind = 'answer'").fetchone() == (3,)
    assert {one.state for one in list_backups(folder)} <= {"sound", "not checked"}


def test_what_a_copy_that_was_cut_off_has_left_is_taken_away_a_day_later(folder):
    old, young = folder / ".copy-a.part", folder / ".copy-b.part"
    for draft in (old, young):
        draft.write_text("")
    os.utime(old, (time.time() - 90_000,) * 2)
    remove_left_drafts(folder)
    assert [file.name for file in folder.iterdir()] == [young.name]
