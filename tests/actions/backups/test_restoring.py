"""The way back from a backup: verified, never over a file, with what the newer file has beyond it."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.backups.keeping import back_up
from benchapp.actions.backups.restoring import further_than, restore
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.backup.problems import BackupProblem, CheckStopped
from benchapp.workbook.model.problems import WorkbookProblem
from tests.actions.driving import do_what_is_due
from tests.people import staffed


@pytest.fixture
def backup(bench, lot, path, clock, tmp_path):
    do_what_is_due(bench, "TB-001", until="coils.coil")
    folder = tmp_path / "stick"
    folder.mkdir()
    return back_up(path, at=clock(), to=folder).path


def test_a_backup_is_restored_to_a_workbook_that_holds(backup, bench, clock, tmp_path):
    to = tmp_path / "again.workbook"
    done = restore(backup, to, at=clock())
    assert done.path == to
    assert done.words.startswith(f"{to} holds what was backed up on 2026-05-04 at 09:")
    assert verify_workbook(to) == ()
    with Bench.open(to, clock=clock) as again:
        assert again.entries("TB-001") == bench.entries("TB-001")
        do_what_is_due(again, "TB-001")


def test_a_restored_workbook_says_what_the_other_file_has_beyond_it(backup, bench, path, clock, tmp_path):
    had = len(bench.entries("TB-001"))
    do_what_is_due(bench, "TB-001")
    has = len(bench.entries("TB-001"))
    done = restore(backup, tmp_path / "again.workbook", at=clock())
    numbers = f"{had + 1}" if has == had + 1 else f"{had + 1} to {has}"
    assert f"{path} has " in done.words
    assert f"that the backup has not: TB-001 ({numbers})." in done.words
    assert [(one.unit, one.first, one.last) for one in done.further] == [("TB-001", had + 1, has)]


def test_a_backup_never_takes_the_place_of_a_file(backup, bench, path, clock):
    do_what_is_due(bench, "TB-001")
    before = path.read_bytes()
    with pytest.raises(BackupProblem, match=r"a backup never takes the place of one.*entr.* that the backup has not"):
        restore(backup, path, at=clock())
    assert path.read_bytes() == before


def test_a_file_that_is_no_workbook_is_left_alone_too(backup, clock, tmp_path):
    diary = tmp_path / "diary.txt"
    diary.write_text("dear diary")
    with pytest.raises(BackupProblem, match="There is a file"):
        restore(backup, diary, at=clock())
    assert diary.read_text() == "dear diary"


def test_a_backup_that_does_not_hold_is_not_restored(backup, clock, tmp_path):
    content = bytearray(backup.read_bytes())
    content[4096 * 3 : 4096 * 12] = b"\x5a" * (4096 * 9)
    backup.write_bytes(content)
    with pytest.raises(BackupProblem, match="does not hold, so nothing was restored") as caught:
        restore(backup, tmp_path / "again.workbook", at=clock())
    assert "beside it" not in caught.value.sentence  # there is no other
    assert not (tmp_path / "again.workbook").exists()


def test_a_restore_that_is_stopped_leaves_nothing(backup, clock, tmp_path):
    with pytest.raises(CheckStopped):
        restore(backup, tmp_path / "again.workbook", at=clock(), cancelled=lambda: True)
    assert not (tmp_path / "again.workbook").exists()


def test_a_backup_that_is_not_there_is_named(clock, tmp_path):
    with pytest.raises(WorkbookProblem, match="There is no file called"):
        restore(tmp_path / "gone.workbook", tmp_path / "again.workbook", at=clock())


def test_a_backup_is_held_against_another_workbook(backup, tmp_path, clock):
    other = tmp_path / "other.workbook"
    Bench.create(other, clock=clock, workshop=staffed()).close()
    assert further_than(backup, other) == "other.workbook is another workbook."
    assert further_than(backup, backup) == f"{backup.name} has nothing that the backup has not."
