"""When a workbook is backed up, where to, and what is said of the last time."""

import json
import shutil
from pathlib import Path

import pytest

from benchapp.actions.backups.keeping import back_up, back_up_before_migration, backup_state
from benchapp.actions.backups.listing import backups_of, newest_sound
from benchapp.actions.backups.settings import FILE, MARK, name_folder, read_settings
from benchapp.operating_system import data_folder
from benchapp.workbook.backup.backups import write_backup
from benchapp.workbook.backup.problems import BackupProblem, CheckStopped
from benchapp.workbook.backup.receipts import check_backup
from tests.actions.driving import do_what_is_due


@pytest.fixture
def stick(tmp_path, path, lot):
    folder = tmp_path / "media" / "stick"
    folder.parent.mkdir()
    name_folder(folder, workbook=path)
    return folder


def names(folder):
    return sorted(file.name for file in folder.glob("*.workbook"))


def test_a_workbook_without_a_folder_for_backups_was_never_backed_up(bench, path, clock):
    state = backup_state(path, now=clock())
    assert (state.words, state.worry, state.folder) == (
        "Never backed up. No folder for backups is named on this computer.",
        True,
        "",
    )
    with pytest.raises(BackupProblem, match="No folder for backups is named on this computer"):
        back_up(path, at=clock())


def test_a_backup_is_made_verified_and_told(bench, path, clock, stick):
    done = back_up(path, at=clock())
    assert done.sound
    assert done.words.startswith(f"Backed up and verified: {done.path}, ")
    assert [one.sound for one in backups_of(path)] == [True]
    state = backup_state(path, now=clock())
    assert state.words.startswith("Last backup today at ")
    assert (state.worry, state.there) == (False, True)


def test_nothing_is_backed_up_twice(bench, path, clock, stick):
    back_up(path, at=clock())
    done = back_up(path, at=clock(), anew=False)
    assert (done.words, done.path) == ("Nothing was recorded since the last backup.", None)
    do_what_is_due(bench, "TB-001", until="coils.coil")
    assert back_up(path, at=clock(), anew=False).path is not None


def test_a_backup_that_no_longer_is_what_was_written_does_not_count(bench, path, clock, stick):
    first = back_up(path, at=clock()).path
    first.write_bytes(first.read_bytes()[:-1])
    assert back_up(path, at=clock(), anew=False).path is not None


def test_days_without_a_backup_are_counted_with_what_was_recorded(bench, path, clock, stick):
    back_up(path, at=clock())
    clock.pass_days(12)
    assert not backup_state(path, now=clock()).worry  # nothing was recorded
    do_what_is_due(bench, "TB-001", until="coils.coil")
    state = backup_state(path, now=clock())
    assert state.worry
    assert state.words.startswith("Last backup 12 days ago, ")
    assert state.words.endswith(" since.")


def test_a_stick_that_is_not_there_is_told_and_stops_nothing(bench, path, clock, stick):
    back_up(path, at=clock())
    stick.rename(stick.with_name("in a pocket"))
    state = backup_state(path, now=clock())
    assert state.worry
    assert not state.there
    assert "is not there: plug the disk or stick in, or name another folder." in state.words
    with pytest.raises(BackupProblem, match="is not there"):
        back_up(path, at=clock(), anew=False)
    assert newest_sound(path) is None


def test_an_empty_mount_point_is_not_taken_for_the_stick(bench, path, clock, stick):
    stick.rename(stick.with_name("in a pocket"))
    stick.mkdir()
    with pytest.raises(BackupProblem, match="it is not the folder that was named for backups"):
        back_up(path, at=clock())
    assert list(stick.iterdir()) == []


def test_two_sticks_may_take_turns_once_each_was_named(bench, path, clock, stick):
    stick.rename(stick.with_name("first"))
    name_folder(stick, workbook=path)
    back_up(path, at=clock())
    stick.rename(stick.with_name("second"))
    stick.with_name("first").rename(stick)
    assert back_up(path, at=clock()).sound


def test_a_folder_on_the_workbooks_own_disk_is_told(path, tmp_path, bench):
    words = name_folder(tmp_path / "backups", workbook=path)
    assert words == f"Backups go to {tmp_path / 'backups'}. It is on the workbook's own disk: a broken disk takes both."


def test_a_folder_whose_disk_is_not_there_is_refused(path, tmp_path, bench):
    with pytest.raises(BackupProblem, match=r"There is no folder .*stick\. Look whether"):
        name_folder(tmp_path / "stick" / "backups", workbook=path)
    with pytest.raises(BackupProblem, match="is a file"):
        name_folder(path, workbook=path)
    assert read_settings().folder == ""


def test_the_setting_lies_in_the_users_data_and_not_in_the_workbook(path, stick, tmp_path):
    kept = json.loads((data_folder() / FILE).read_text())
    assert kept["folder"] == str(stick)
    assert json.loads((stick / MARK).read_text())["folder"] in kept["marks"]


@pytest.mark.parametrize("content", ["", "[]", '{"folder": 5}', '{"folder": "", "marks": [], "last": []}'])
def test_settings_that_cannot_be_read_are_those_of_a_new_bench(path, content, bench):
    data_folder().mkdir(parents=True, exist_ok=True)
    (data_folder() / FILE).write_text(content)
    assert read_settings().folder == ""


def test_another_folder_may_be_named_for_once(bench, path, clock, stick, tmp_path):
    done = back_up(path, at=clock(), to=tmp_path)
    assert done.path.parent == tmp_path
    assert names(stick) == []
    with pytest.raises(BackupProblem, match="There is no folder"):
        back_up(path, at=clock(), to=tmp_path / "nowhere")


def test_a_window_closed_in_between_leaves_the_check_for_the_next_time(bench, path, clock, stick):
    at = clock()
    left = write_backup(path, stick, at=at)
    with pytest.raises(CheckStopped):
        check_backup(left, source=path, at=at, cancelled=lambda: True)
    assert back_up(path, at=clock(), anew=False).path is None
    assert [one.sound for one in backups_of(path)] == [True]


def test_a_file_about_to_be_migrated_goes_to_the_folder_and_is_checked_later(bench, path, clock, stick):
    assert back_up_before_migration(path, at=clock()) == ""
    assert len(names(stick)) == 1
    back_up(path, at=clock(), anew=False)
    assert [one.sound for one in backups_of(path)] == [True]
    stick.rename(stick.with_name("pocket"))
    assert "is not there" in back_up_before_migration(path, at=clock())


def test_backups_grow_old_by_the_ladder(bench, path, clock, stick):
    for _ in range(4):
        back_up(path, at=clock())
    assert len(names(stick)) == 1  # one an hour
    for _ in range(3):
        clock.pass_days(1)
        back_up(path, at=clock())
    assert len(names(stick)) == 4


def test_a_backup_that_does_not_hold_is_named_and_not_counted(bench, path, clock, stick):
    import sqlite3

    do_what_is_due(bench, "TB-001", until="coils.coil")
    good = back_up(path, at=clock()).path
    connection = sqlite3.connect(path, isolation_level=None)
    triggers = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for name, _ in triggers:
        connection.execute(f"DROP TRIGGER {name}")
    connection.execute("UPDATE entries SET by = 'XY'")
    for _, sql in triggers:
        connection.execute(sql)
    connection.close()
    clock.pass_days(0.1)
    done = back_up(path, at=clock())
    assert not done.sound
    assert done.words.startswith(f"The backup {done.path.name} does not hold, so it does not count as one. ")
    assert newest_sound(path).path == good
    assert backup_state(path, now=clock()).words.startswith("Last backup today at ")


def test_backups_of_a_workbook_that_cannot_be_read_are_found_by_its_name(bench, path, clock, stick):
    back_up(path, at=clock())
    bench.close()
    path.write_bytes(path.read_bytes()[:5000])
    assert len(backups_of(path)) == 1
    other = Path(shutil.copy(path, path.with_name("other.workbook")))
    assert backups_of(other) == ()
