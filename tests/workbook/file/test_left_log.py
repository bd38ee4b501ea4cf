"""What another file of that name has left beside a workbook takes nothing from it: it is refused with what to do."""

import shutil
import sqlite3
from contextlib import closing

import pytest

from benchapp.workbook.file.sqlite import log_of
from benchapp.workbook.model.problems import StrangeLog
from benchapp.workbook.opened.workbook import Workbook


def copied(path, to):
    """File, log and index as somebody copies them by hand."""
    for one in (path, log_of(path), path.with_name(path.name + "-shm")):
        shutil.copyfile(one, to.with_name(one.name.replace(path.name, to.name)))
    return to


@pytest.fixture
def crashed(workbook, path, record, tmp_path):
    """A workbook whose log holds an entry that the file by itself lacks, as a crash leaves it."""
    with closing(sqlite3.connect(path)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM entries").fetchone()  # a reader that stays keeps the log from being folded
        record(1)
        return copied(path, tmp_path / "crashed.workbook")


@pytest.fixture
def other(tmp_path):
    """Another workbook, closed."""
    place = tmp_path / "other.workbook"
    Workbook.create(place, made="2026-05-04T08:00:00Z").close()
    return place


def refused(path):
    before = {one.name: one.read_bytes() for one in path.parent.iterdir() if one.is_file() and "-shm" not in one.name}
    for open_it in (Workbook.open, Workbook.look_at):
        with pytest.raises(StrangeLog) as caught:
            open_it(path)
    assert before == {
        one.name: one.read_bytes() for one in path.parent.iterdir() if one.is_file() and "-shm" not in one.name
    }
    return caught.value.sentence


def numbers(path):
    with closing(Workbook.open(path)) as book:
        return [entry.number for entry in book.entries("TB-001")]


def test_the_log_that_a_crash_left_is_read_with_its_file(crashed):
    assert numbers(crashed) == [1]
    assert not log_of(crashed).exists()


def test_the_log_of_another_workbook_is_refused_and_nothing_is_lost(crashed, other):
    shutil.copyfile(log_of(crashed), log_of(other))
    assert refused(other) == (
        "Beside other.workbook lies what another file of that name has left: other.workbook-wal. Opened with it, "
        "other.workbook would lose entries, so nothing was opened or changed. Move other.workbook-wal to another "
        "folder and keep it, then open other.workbook again."
    )
    kept = log_of(other).rename(other.with_name("kept"))
    assert kept.stat().st_size
    Workbook.open(other).close()


def test_the_log_of_an_earlier_state_is_refused_beside_a_later_one(crashed, workbook, path, record):
    for number in (2, 3):
        record(number)
    workbook.close()
    shutil.copyfile(path, crashed)
    assert "crashed.workbook would lose entries" in refused(crashed)
    log_of(crashed).unlink()
    assert numbers(crashed) == [1, 2, 3]


@pytest.mark.parametrize("end", ["-wal", "-shm"])
def test_a_folder_in_the_place_of_a_log_is_named(other, end):
    other.with_name(other.name + end).mkdir()
    assert f"other.workbook{end}" in refused(other)


def test_a_log_that_is_none_takes_nothing(other):
    log_of(other).write_bytes(b"dear diary" * 1000)
    Workbook.open(other).close()
