"""What is SQLite's own: copies while in use, the log folded in, and how a commit is kept."""

import sqlite3
from contextlib import closing

import pytest

from benchapp.workbook.file import sqlite
from benchapp.workbook.file.sqlite import copy_database, fold_log, keep_commits, log_of
from benchapp.workbook.model.problems import AlreadyThere, CopyProblem, CopyStopped, WorkbookProblem


@pytest.fixture
def busy(tmp_path):
    """A database in use, whose rows are all still in the log."""
    connection = sqlite.connect(tmp_path / "busy.db", make=True)
    keep_commits(connection)
    connection.execute("CREATE TABLE rows (words TEXT)")
    for number in range(1000):
        connection.execute("INSERT INTO rows VALUES (?)", (f"{number} " + "x" * 2000,))
    yield connection
    connection.close()


def rows_in(path):
    with closing(sqlite.connect(path, look_only=True)) as connection:
        return connection.execute("SELECT count(*) FROM rows").fetchone()[0]


def test_a_copy_holds_what_still_stands_in_the_log(busy, tmp_path):
    copy_database(tmp_path / "busy.db", tmp_path / "copy.db")
    assert rows_in(tmp_path / "copy.db") == 1000
    assert sorted(path.name for path in tmp_path.iterdir()) == ["busy.db", "busy.db-shm", "busy.db-wal", "copy.db"]


def test_a_copy_is_one_file_without_a_log(busy, tmp_path):
    copy_database(busy, tmp_path / "copy.db")
    with closing(sqlite3.connect(tmp_path / "copy.db")) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)


def test_a_file_that_was_deleted_while_open_can_still_be_copied(busy, tmp_path):
    (tmp_path / "busy.db").unlink()
    log_of(tmp_path / "busy.db").unlink()
    copy_database(busy, tmp_path / "copy.db")
    assert rows_in(tmp_path / "copy.db") == 1000


def test_a_copy_is_of_one_moment_while_others_go_on_writing(busy, tmp_path):
    steps = []

    def write_on(done, of):
        steps.append((done, of))
        busy.execute("INSERT INTO rows VALUES ('later')")

    copy_database(tmp_path / "busy.db", tmp_path / "copy.db", write_on)
    assert rows_in(tmp_path / "copy.db") == 1000
    assert len(steps) == 2  # 256 pages a step
    assert steps[-1][0] == steps[-1][1]
    assert busy.execute("SELECT count(*) FROM rows").fetchone() == (1002,)


def test_a_copy_that_is_stopped_leaves_nothing(busy, tmp_path):
    with pytest.raises(CopyStopped, match="The copy was stopped"):
        copy_database(busy, tmp_path / "copy.db", cancelled=lambda: True)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["busy.db", "busy.db-shm", "busy.db-wal"]
    busy.execute("INSERT INTO rows VALUES ('goes on')")


def test_a_copy_never_takes_the_place_of_a_file(busy, tmp_path):
    taken = tmp_path / "copy.db"
    taken.write_text("mine")
    with pytest.raises(AlreadyThere):
        copy_database(busy, taken)
    assert taken.read_text() == "mine"


def test_a_file_that_comes_while_the_copy_is_made_stays(busy, tmp_path):
    taken = tmp_path / "copy.db"
    with pytest.raises(AlreadyThere):
        copy_database(busy, taken, lambda _done, _of: taken.write_text("mine") and None)
    assert taken.read_text() == "mine"


def test_a_copy_needs_its_folder(busy, tmp_path):
    with pytest.raises(CopyProblem, match="could not be made in"):
        copy_database(busy, tmp_path / "nowhere" / "copy.db")


def test_a_damaged_source_is_told_and_no_copy_is_kept(busy, tmp_path):
    fold_log(busy)
    busy.close()
    path = tmp_path / "busy.db"
    whole = path.read_bytes()
    path.write_bytes(whole[:8192] + b"\x5a" * 4096 + whole[12288:])
    with pytest.raises(WorkbookProblem, match="is damaged"):
        copy_database(path, tmp_path / "copy.db")
    assert not (tmp_path / "copy.db").exists()


def test_a_source_that_is_no_database_is_told(tmp_path):
    (tmp_path / "diary.db").write_text("dear diary" * 100)
    with pytest.raises(WorkbookProblem, match=r"diary\.db is not a bench workbook"):
        copy_database(tmp_path / "diary.db", tmp_path / "copy.db")


def test_folding_puts_all_of_the_log_into_the_file(busy, tmp_path):
    assert fold_log(busy)
    alone = tmp_path / "alone.db"
    alone.write_bytes((tmp_path / "busy.db").read_bytes())
    assert rows_in(alone) == 1000


def test_folding_stops_before_what_a_reader_does_not_yet_see(busy, tmp_path):
    with closing(sqlite.connect(tmp_path / "busy.db")) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM rows").fetchone()
        busy.execute("INSERT INTO rows VALUES ('later')")
        assert not fold_log(busy)
        reader.execute("ROLLBACK")
    assert fold_log(busy)


def test_a_commit_is_kept_with_a_log_here_and_without_one_on_a_network_drive(tmp_path):
    for shared, mode in ((False, "wal"), (True, "truncate")):
        with closing(sqlite.connect(tmp_path / "modes.db", make=True)) as connection:
            connection.execute("CREATE TABLE IF NOT EXISTS rows (words TEXT)")
            assert keep_commits(connection, shared=shared) == mode
            assert connection.execute("PRAGMA synchronous").fetchone() == (2,)


def test_the_mode_that_sqlite_answers_is_told_not_the_one_asked_for(tmp_path):
    with closing(sqlite3.connect(":memory:")) as connection:
        assert keep_commits(connection) == "memory"


def test_a_missing_file_is_not_made_by_looking_for_it(tmp_path):
    with pytest.raises(sqlite3.OperationalError):
        sqlite.connect(tmp_path / "none.db").execute("SELECT 1 FROM sqlite_master")
    assert list(tmp_path.iterdir()) == []
