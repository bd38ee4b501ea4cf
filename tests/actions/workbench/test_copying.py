"""A copy of a workbook in use has all that was recorded, and counts once it was read again."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_hazard
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.copying import UnsoundCopy, copy_bench, copy_workbook
from benchapp.errors import Cancelled
from benchapp.workbook.model.problems import AlreadyThere, NotAWorkbook


def test_a_copy_of_a_workbook_in_use_has_the_last_entry_too(bench, lot, path, tmp_path):
    record_hazard(bench, "TB-001", "smoke", by="AB")
    to = tmp_path / "stick" / "copy.workbook"
    to.parent.mkdir()
    assert copy_workbook(path, to).words == (
        f"{to} is a whole copy of tarnbeck.workbook: 1 entry, and its chains hold."
    )
    assert [file.name for file in to.parent.iterdir()] == ["copy.workbook"]
    assert verify_workbook(to) == ()
    with Bench.open(to) as copy:
        assert copy.entries("TB-001") == bench.entries("TB-001")


def test_a_copy_into_a_folder_keeps_the_name(bench, lot, path, tmp_path):
    stick = tmp_path / "stick"
    stick.mkdir()
    assert copy_workbook(path, stick).files == (stick / path.name,)
    with pytest.raises(AlreadyThere):
        copy_workbook(path, stick)
    with pytest.raises(AlreadyThere):
        copy_workbook(path, path)


def test_what_is_still_open_of_a_deleted_workbook_is_copied_whole(bench, lot, path, tmp_path):
    record_hazard(bench, "TB-001", "smoke", by="AB")
    for file in tmp_path.glob("tarnbeck.workbook*"):
        file.unlink()
    copy_bench(bench, tmp_path / "saved.workbook")
    assert verify_workbook(tmp_path / "saved.workbook") == ()
    with Bench.open(tmp_path / "saved.workbook") as saved:
        assert len(saved.entries("TB-001")) == 1


def test_only_a_workbook_is_copied(tmp_path):
    (tmp_path / "diary.workbook").write_text("dear diary")
    with pytest.raises(NotAWorkbook):
        copy_workbook(tmp_path / "diary.workbook", tmp_path / "copy.workbook")
    assert not (tmp_path / "copy.workbook").exists()


def test_a_copy_that_is_stopped_while_it_is_read_again_is_taken_away(bench, lot, tmp_path):
    asked = iter([False])
    with pytest.raises(Cancelled):
        copy_bench(bench, tmp_path / "copy.workbook", cancelled=lambda: next(asked, True))
    assert not (tmp_path / "copy.workbook").exists()


def test_a_copy_of_a_record_that_does_not_hold_is_told(bench, lot, path, tmp_path):
    import sqlite3

    bench.close()
    connection = sqlite3.connect(path, isolation_level=None)
    for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        connection.execute(f"DROP TRIGGER {name}")
    connection.close()
    with pytest.raises(UnsoundCopy, match=r"is a copy of tarnbeck\.workbook, but what it says does not hold"):
        copy_workbook(path, tmp_path / "copy.workbook")
    assert (tmp_path / "copy.workbook").exists()
