"""What may happen to the file while it is open, and where it may lie: nothing is called recorded that is not kept."""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from contextlib import closing
from pathlib import Path

import pytest

from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.file import sqlite, store
from benchapp.workbook.file.sqlite import log_of
from benchapp.workbook.file.standing_place import is_open_here
from benchapp.workbook.model.problems import AlreadyThere, ForLookingOnly, LogInUse, OlderWorkbook, WorkbookGone
from benchapp.workbook.opened import workbook as book_module
from benchapp.workbook.opened.workbook import Workbook

ROOT = Path(__file__).resolve().parents[2]


def delete(path):
    path.unlink()


def delete_with_its_log(path):
    for one in path.parent.glob(path.name + "*"):
        one.unlink()


def rename(path):
    path.rename(path.with_name("elsewhere.workbook"))


def move_the_folder(path):
    path.parent.rename(path.parent.with_name(path.parent.name + " moved"))


def replace_by_its_own_copy(path):
    copy = path.with_name("copy")
    copy.write_bytes(path.read_bytes())
    copy.replace(path)


def replace_the_log(path):
    log = log_of(path)
    log.unlink()
    log.touch()


HAPPENINGS = [delete, delete_with_its_log, rename, move_the_folder, replace_by_its_own_copy, replace_the_log]


@pytest.mark.parametrize("happens", HAPPENINGS)
@pytest.mark.parametrize("recorded", [0, 3])
def test_a_file_that_is_gone_is_noticed_before_an_entry_counts_as_recorded(
    workbook, path, proposed, tmp_path, happens, recorded
):
    kept = [workbook.append(*proposed(number + 1)) for number in range(recorded)]
    draft = proposed(recorded + 1)
    happens(path)
    with pytest.raises(WorkbookGone) as caught:
        workbook.append(*draft)
    assert caught.value.sentence.startswith(f"tarnbeck.workbook is no longer in {path.parent} as it was opened (")
    assert caught.value.sentence == workbook.store.lost()
    saved = tmp_path.with_name(tmp_path.name + " saved.workbook")
    workbook.copy_to(saved)
    again = Workbook.open(saved)
    assert again.entries("TB-001") == tuple(kept)
    assert list(check_records(again.store)) == []
    again.close()
    saved.unlink()


@pytest.mark.parametrize("happens", HAPPENINGS)
def test_a_lot_is_not_called_recorded_in_a_file_that_is_gone(workbook, path, happens):
    happens(path)
    with pytest.raises(WorkbookGone):
        workbook.keep_workshop("{}", at="2026-05-04T18:00:00Z", by="AB")
    with pytest.raises(WorkbookGone):
        workbook.lots()


def test_a_file_that_goes_while_an_entry_is_written_is_noticed(workbook, path):
    with pytest.raises(WorkbookGone), workbook.store.kept_transaction() as kept:  # noqa: PT012 - it goes amid the block
        kept.execute("UPDATE units SET due = 'now'")
        path.unlink()
    assert workbook.store._kept.execute("SELECT DISTINCT due FROM units").fetchall() == [("",)]


def test_a_file_that_was_renamed_is_whole_when_its_window_closes(workbook, path, proposed):
    """Without folding, what was recorded last would stand in a log beside no file."""
    for number in range(1, 6):
        workbook.append(*proposed(number))
    elsewhere = path.with_name("elsewhere.workbook")
    path.rename(elsewhere)
    workbook.close()
    assert log_of(path).stat().st_size == 0
    book = Workbook.open(elsewhere)
    assert len(book.entries("TB-001")) == 5
    assert list(check_records(book.store)) == []
    book.close()


@pytest.mark.parametrize("left", ["-wal", "-journal"])
def test_no_workbook_is_put_beside_what_another_of_that_name_left(workbook, path, tmp_path, left):
    """SQLite would write the pages of the one into the other."""
    new = tmp_path / "new.workbook"
    new.with_name(new.name + left).write_bytes(log_of(path).read_bytes())
    sentence = rf"There is a file called .*new\.workbook{left} already"
    with pytest.raises(AlreadyThere, match=sentence):
        Workbook.create(new, made="2026-05-04T08:00:00Z")
    with pytest.raises(AlreadyThere, match=sentence):
        workbook.copy_to(new)
    assert not new.exists()


def test_a_file_that_is_put_back_is_gone_on_with(workbook, path, proposed):
    draft = proposed()
    elsewhere = path.with_name("elsewhere.workbook")
    path.rename(elsewhere)
    with pytest.raises(WorkbookGone):
        workbook.append(*draft)
    elsewhere.rename(path)
    assert workbook.append(*draft).number == 1
    assert workbook.store.lost() == ""


def test_a_workbook_may_be_opened_by_way_of_a_link(workbook, path, proposed, tmp_path):
    draft = proposed()
    workbook.close()
    link = tmp_path / "link.workbook"
    link.symlink_to(path)
    book = Workbook.open(link)
    book.append(*draft)
    path.rename(path.with_name("elsewhere.workbook"))
    assert "is no longer in" in book.store.lost()
    book.close()


# the log


def entries_in_a_plain_copy(path, tmp_path):
    alone = tmp_path / "alone" / path.name
    alone.parent.mkdir()
    shutil.copyfile(path, alone)
    book = Workbook.open(alone)
    entries = book.entries("TB-001")
    assert list(check_records(book.store)) == []
    book.close()
    return len(entries)


def test_after_a_moment_of_rest_a_copy_of_the_file_alone_has_every_entry(workbook, path, proposed, tmp_path):
    for number in range(1, 110):
        workbook.append(*proposed(number))
    time.sleep(2.5)  # folded a second after the first, and once more a second later
    assert entries_in_a_plain_copy(path, tmp_path) == 109


def test_while_entries_go_on_a_copy_of_the_file_alone_lacks_those_of_about_a_second(workbook, path, proposed, tmp_path):
    begun, number, at = time.monotonic(), 0, []
    while time.monotonic() - begun < 4:
        number += 1
        workbook.append(*proposed(number))
        at.append(time.monotonic())
        time.sleep(0.05)
    copied, there = time.monotonic(), entries_in_a_plain_copy(path, tmp_path)
    old = sum(moment < copied - 2 for moment in at)
    assert 20 < old <= there


def test_a_reader_that_stays_keeps_the_fold_waiting_not_the_entry(workbook, path, proposed, tmp_path):
    with closing(sqlite.connect(path)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM entries").fetchone()
        workbook.append(*proposed())
        time.sleep(1.5)
        reader.execute("ROLLBACK")
    time.sleep(1.5)
    assert entries_in_a_plain_copy(path, tmp_path) == 1


def test_closing_one_of_two_windows_folds_nothing_away_from_the_other(workbook, path, proposed):
    other = Workbook.open(path)
    other.append(*proposed())
    other.close()
    assert log_of(path).exists()
    workbook.append(*proposed(2))
    assert len(workbook.entries("TB-001")) == 2


# places


def test_a_network_drive_is_told_and_written_without_a_log(workbook, path, proposed, monkeypatch):
    draft = proposed()
    workbook.close()
    monkeypatch.setattr(store, "network_place", lambda _path: "SMB")
    book = Workbook.open(path)
    (remark,) = book.remarks
    assert remark == (
        "tarnbeck.workbook lies on a network drive (SMB). It is written without a log there, which is slower; a file "
        "on a disk of this computer is safer."
    )
    book.append(*draft)
    assert book.entries("TB-001")[0].uuid == draft[1].uuid
    assert book.lots()
    with book.store.kept_transaction() as kept:
        assert kept.execute("PRAGMA journal_mode").fetchone() == ("truncate",)
    assert not log_of(path).exists()
    path.unlink()
    with pytest.raises(WorkbookGone):
        book.append(*draft)
    book.close()


def test_a_network_drive_where_another_program_keeps_a_log_is_refused(workbook, path, monkeypatch):
    monkeypatch.setattr(store, "network_place", lambda _path: "NFS")
    with pytest.raises(LogInUse, match=r"lies on a network drive and is in use there"):
        Workbook.open(path, wait=0.05)


def test_a_workbook_on_a_disk_of_this_computer_has_nothing_to_remark(workbook):
    assert workbook.remarks == ()


def test_what_is_opened_for_looking_only_refuses_to_record(workbook, path, proposed):
    kept, draft = workbook.append(*proposed()), proposed(2)
    workbook.close()
    book = Workbook.look_at(path)
    assert book.remarks == ("tarnbeck.workbook is open for looking only: nothing is recorded in it.",)
    for act in (lambda: book.append(*draft), lambda: book.keep_workshop("{}", at="2026-05-04T18:00:00Z", by="AB")):
        with pytest.raises(ForLookingOnly, match="Make a copy in a folder of your own, and open the copy"):
            act()
    assert book.entries("TB-001") == (kept,)
    book.close()


def test_an_older_workbook_is_not_changed_by_looking_at_it(workbook, path, monkeypatch):
    workbook.close()
    monkeypatch.setattr(book_module, "HEAD", "9001")
    with pytest.raises(OlderWorkbook, match="was written by an earlier version of this program"):
        Workbook.look_at(path)


def test_who_only_looks_sees_one_moment_while_another_window_begins_to_write(workbook, path, record):
    """A check of a closed workbook takes minutes; meanwhile somebody may open it and record."""
    record()
    workbook.close()
    looking = Workbook.look_at(path)
    before = path.stat()
    with looking.store.looking() as connection:
        pages = connection.execute("SELECT count(*) FROM entries").fetchone()
        writing = Workbook.open(path)
        for number in range(2, 30):
            record(number, into=writing)
        time.sleep(1.5)  # folded as far as the one who looks allows it
        assert connection.execute("SELECT count(*) FROM entries").fetchone() == pages
        assert list(sqlite.structural_faults(connection)) == []
    assert len(looking.entries("TB-001")) == 29
    looking.close()
    writing.close()
    assert before.st_ino == path.stat().st_ino
    assert sorted(file.name for file in path.parent.iterdir()) == [path.name]


def test_who_only_looks_can_write_nothing_and_leaves_nothing(workbook, path, record):
    record()
    workbook.close()
    before = path.read_bytes()
    looking = Workbook.look_at(path)
    with looking.store.looking() as connection, pytest.raises(sqlite3.OperationalError, match="readonly"):
        connection.execute("UPDATE units SET due = 'x'")
    looking.close()
    assert path.read_bytes() == before
    assert sorted(file.name for file in path.parent.iterdir()) == [path.name]


def test_two_windows_on_a_network_drive_take_turns(workbook, path, record, monkeypatch):
    workbook.close()
    monkeypatch.setattr(store, "network_place", lambda _path: "NFS")
    one, other = Workbook.open(path), Workbook.open(path)
    for number in range(1, 11):
        record(number, into=one if number % 2 else other)
    looking = Workbook.look_at(path)
    assert list(check_records(looking.store)) == []
    assert len(looking.entries("TB-001")) == 10
    for book in (looking, one, other):
        book.close()


def test_a_place_where_sqlite_keeps_no_log_is_told(workbook, path, record, monkeypatch):
    """SQLite's VFS with lock files has no shared memory, as some file systems have none."""
    workbook.close()
    whole = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda where, **given: whole(f"{where}&vfs=unix-dotfile", **given))
    with closing(sqlite.connect(path)) as connection:
        connection.execute("PRAGMA locking_mode=EXCLUSIVE")
        connection.execute("PRAGMA journal_mode=DELETE")
    book = Workbook.open(path)
    assert book.remarks == ("tarnbeck.workbook is written without a log here (journal mode delete), which is slower.",)
    record(into=book)
    book.close()


AS_NOBODY = """
import os, shutil, sys
from pathlib import Path
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.checks.checking import check_records
import sqlalchemy.dialects.sqlite.pysqlite, sqlalchemy.pool, inspect, traceback, linecache, tempfile
from benchapp.workbook.model.problems import WorkbookProblem

def look(path, say):
    book = Workbook.open(path)
    say(len(book.entries("TB-001")), [d.words for d in check_records(book.store)], *book.remarks)
    try:
        book.keep_workshop("{}", at="2026-05-04T18:00:00Z", by="AB")
    except WorkbookProblem as problem:
        say(problem.sentence)
    book.close()

with tempfile.TemporaryDirectory() as own:  # nobody cannot read the modules, so that they are all loaded before
    shutil.copytree(Path(sys.argv[1]).parent, own, copy_function=shutil.copyfile, dirs_exist_ok=True)
    os.chmod(own, 0o700)
    look(Path(own) / Path(sys.argv[1]).name, lambda *words: None)
    shutil.rmtree(os.environ["BENCHAPP_DATA"], ignore_errors=True)
os.setgid(65534); os.setuid(65534)
look(Path(sys.argv[1]), print)
print(sorted(Path(tempfile.gettempdir()).glob("benchapp-*")))
"""


def look_as_nobody(path):
    """Permissions do not bind root, so the test acts as the user nobody where it runs as root."""
    script = AS_NOBODY if os.geteuid() == 0 else AS_NOBODY.replace("os.setgid(65534); os.setuid(65534)", "")
    scratch = path.parents[1] / "scratch"
    scratch.mkdir()
    scratch.chmod(0o777)
    own = {"TMPDIR": str(scratch), "BENCHAPP_DATA": str(scratch / "data")}
    surroundings = os.environ | {"PYTHONPATH": str(ROOT)} | own
    child = subprocess.run(
        [sys.executable, "-c", script, str(path)], capture_output=True, text=True, env=surroundings, check=False
    )
    assert child.returncode == 0, child.stderr
    return child.stdout.splitlines()


@pytest.fixture
def medium():
    """A folder on which nothing may be written once `shut` was called.

    Not below pytest's own folder: another run that begins shuts that one to other users.
    """
    with tempfile.TemporaryDirectory() as made:
        Path(made).chmod(0o755)
        place = Path(made) / "medium"
        place.mkdir()
        yield place
        place.chmod(0o755)


def shut(folder):
    for file in folder.iterdir():
        file.chmod(0o444)
    folder.chmod(0o555)


def test_a_read_only_folder_opens_for_looking_only(workbook, path, proposed, medium):
    workbook.append(*proposed())
    workbook.close()
    shutil.copyfile(path, medium / path.name)
    shut(medium)
    first, second, third = look_as_nobody(medium / path.name)
    assert first == "1 [] tarnbeck.workbook is open for looking only: nothing is recorded in it."
    assert second.startswith("tarnbeck.workbook is open for looking only, since the file or its folder is read-only:")
    assert third == "[]"


def test_a_log_left_on_a_read_only_medium_is_read_with_the_file(workbook, path, proposed, medium):
    """As on a stick pulled out too early: the last entries stand in the log alone."""
    for number in range(1, 6):
        workbook.append(*proposed(number))
    shutil.copyfile(path, medium / path.name)
    shutil.copyfile(log_of(path), log_of(medium / path.name))
    shut(medium)
    first, second, third = look_as_nobody(medium / path.name)
    assert first.startswith("5 [] tarnbeck.workbook is open for looking only")
    assert "was not recorded" in second
    assert third == "[]"  # the private copy is gone
    assert sorted(file.name for file in medium.iterdir()) == [path.name, log_of(path).name]


MOUNTED = 'mount --bind "$1" "$1" && mount -o remount,ro,bind "$1" && exec "$2" -c "$3" "$4"'
"""run a program where a folder is a file system mounted read-only, seen by that program alone"""


def look_on_a_mount(path, scratch):
    """As whoever runs the test: a file system that is mounted read-only binds root too."""
    script = AS_NOBODY.replace("os.setgid(65534); os.setuid(65534)", "")
    words = ["unshare", "--mount", "sh", "-c", MOUNTED, "sh", str(path.parent), sys.executable, script, str(path)]
    surroundings = os.environ | {"PYTHONPATH": str(ROOT), "BENCHAPP_DATA": str(scratch)}
    child = subprocess.run(words, capture_output=True, text=True, env=surroundings, check=False)
    assert child.returncode == 0, child.stderr
    return child.stdout.splitlines()


def can_mount(folder):
    words = ["unshare", "--mount", "sh", "-c", MOUNTED, "sh", str(folder), sys.executable, "", ""]
    return (
        shutil.which("unshare") is not None and subprocess.run(words, capture_output=True, check=False).returncode == 0
    )


@pytest.mark.parametrize("with_log", [False, True])
def test_a_file_system_mounted_read_only_opens_for_looking_only(workbook, path, proposed, tmp_path, medium, with_log):
    """Where nothing may be mounted, a folder without permission to write stands for it."""
    workbook.append(*proposed())
    if not with_log:
        workbook.close()
    shutil.copyfile(path, medium / path.name)
    if with_log:
        shutil.copyfile(log_of(path), log_of(medium / path.name))
    if can_mount(medium):
        first, second, _ = look_on_a_mount(medium / path.name, tmp_path / "scratch")
    else:
        shut(medium)
        first, second, _ = look_as_nobody(medium / path.name)
    assert first == "1 [] tarnbeck.workbook is open for looking only: nothing is recorded in it."
    assert "was not recorded" in second


# in one process


def test_a_workbook_open_here_is_not_opened_as_a_plain_file(workbook, path, proposed):
    """Closing a file drops every lock of the process on it: another program would take the log away."""
    assert is_open_here(path)
    workbook.append(*proposed())
    Workbook.look_at(path).close()
    another = (
        "import sqlite3, sys; c = sqlite3.connect(sys.argv[1]); c.execute('SELECT * FROM lots').fetchone(); c.close()"
    )
    subprocess.run([sys.executable, "-c", another, str(path)], check=True)
    assert log_of(path).exists()
    workbook.append(*proposed(2))
    workbook.close()
    assert not is_open_here(path)
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT count(*) FROM entries WHERE kind = 'answer'").fetchone() == (2,)
