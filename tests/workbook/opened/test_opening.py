"""Files that cannot be used are left alone, and the sentence says why and what to do."""

import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.model.problems import WorkbookProblem
from benchapp.workbook.opened.workbook import Workbook

NOBODY = 65534


def _sentence(path):
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(WorkbookProblem) as caught:
        Workbook.open(path)
    assert before is None or path.read_bytes() == before
    return caught.value.sentence


def test_a_new_workbook_opens(path):
    Workbook.create(path, made="2026-05-04T08:00:00Z", workshop='{"region": "gb"}').close()
    book = Workbook.open(path)
    assert book.lots() == ()
    assert book.workshop() == '{"region":"gb"}'
    book.close()
    assert [file.name for file in path.parent.iterdir()] == [path.name]


def test_a_new_workbook_never_takes_the_place_of_a_file(path):
    path.write_text("dear diary")
    with pytest.raises(WorkbookProblem, match=r"There is a file called .*tarnbeck\.workbook already"):
        Workbook.create(path, made="2026-05-04T08:00:00Z")
    assert path.read_text() == "dear diary"


def test_a_new_workbook_needs_its_folder(tmp_path):
    with pytest.raises(WorkbookProblem, match="There is no folder"):
        Workbook.create(tmp_path / "nowhere" / "a.workbook", made="2026-05-04T08:00:00Z")


def test_a_missing_file_is_named(path):
    assert _sentence(path) == f"There is no file called {path}. Check the name, or make a new workbook."


@pytest.mark.parametrize("content", [b"", b"dear diary\n" * 50], ids=["empty", "text"])
def test_a_file_that_is_no_database_is_left_alone(path, content):
    path.write_bytes(content)
    expected = "tarnbeck.workbook is not a bench workbook. Choose a file that this program made."
    assert _sentence(path) == expected


def test_a_folder_is_no_workbook(tmp_path):
    assert "is not a bench workbook" in _sentence(tmp_path)


def test_a_database_of_another_program_is_left_alone(path):
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE lots (id INTEGER)")
    connection.commit()
    connection.close()
    assert "is not a bench workbook" in _sentence(path)


def test_a_workbook_of_a_newer_version_is_left_alone(workbook, path):
    workbook.close()
    connection = sqlite3.connect(path)
    connection.execute("UPDATE alembic_version SET version_num = '9001'")
    connection.commit()
    connection.close()
    sentence = _sentence(path)
    assert "was written by a newer version of this program (its format is 9001, this version knows up to" in sentence
    assert "Update the program on this computer; the file is untouched." in sentence


def test_a_workbook_that_lost_its_format_number_is_told_damaged(workbook, path):
    workbook.close()
    connection = sqlite3.connect(path)
    connection.execute("DELETE FROM alembic_version")
    connection.commit()
    connection.close()
    assert _sentence(path).startswith("tarnbeck.workbook is damaged (it does not say of which format it is)")


def test_a_workbook_cut_short_is_told_damaged(workbook, path):
    workbook.close()
    path.write_bytes(path.read_bytes()[:-5000])
    assert _sentence(path).startswith("tarnbeck.workbook is damaged (its end is missing)")


def test_a_workbook_full_of_rubbish_is_told_damaged(workbook, path):
    workbook.close()
    path.write_bytes(path.read_bytes()[:100] + b"\x5a" * (path.stat().st_size - 100))
    assert "tarnbeck.workbook is damaged" in _sentence(path)


def test_a_full_disk_is_told_and_what_was_recorded_stays(workbook, record):
    record(1)
    with workbook.store.kept_transaction() as kept:
        pages = kept.execute("PRAGMA page_count").fetchone()[0]
    workbook.store._kept.execute(f"PRAGMA max_page_count={pages}")
    with pytest.raises(WorkbookProblem) as caught:
        list(map(record, range(2, 200)))
    expected = (
        "The disk that holds tarnbeck.workbook is full: this was not recorded, all before it was. "
        "Make room, then record it again."
    )
    assert caught.value.sentence == expected
    last = workbook.unit("TB-001").last_entry
    assert len(workbook.entries("TB-001")) == last >= 1
    workbook.store._kept.execute("PRAGMA max_page_count=100000")
    record(last + 1)
    assert list(check_records(workbook.store)) == []


def test_a_writer_that_never_finishes_is_told(workbook, record, path):
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    impatient = Workbook.open(path, wait=0.05)
    with pytest.raises(WorkbookProblem, match=r"Another program is writing to tarnbeck\.workbook and does not finish"):
        record(into=impatient)
    other.execute("ROLLBACK")
    other.close()
    record(into=impatient)
    impatient.close()


READ_ONLY_CHILD = """
import os, sys
from pathlib import Path
from benchapp.workbook.model.problems import WorkbookProblem
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.checks.checking import check_records
import sqlalchemy.dialects.sqlite.pysqlite, sqlalchemy.pool, inspect, traceback, linecache
import benchapp.workbook.record.board
if os.geteuid() == 0:  # permissions do not bind root; nobody cannot read its modules, so they are loaded before
    os.setgid({nobody}); os.setuid({nobody})
path = Path(sys.argv[1])
for act in (lambda: Workbook.open(path).lots(), lambda: Workbook.create(path.with_name("new.workbook"), made="2026")):
    try:
        act()
        print("no complaint")
    except WorkbookProblem as problem:
        print(problem.sentence)
print([d.words for d in check_records(Workbook.look_at(path).store)])
"""


def test_a_read_only_folder_is_told_and_the_file_can_still_be_looked_at(workbook, tmp_path, path):
    workbook.close()
    for folder in (tmp_path, *list(tmp_path.parents)[:3]):
        folder.chmod(0o755)
    path.chmod(0o444)
    tmp_path.chmod(0o555)
    try:
        script = READ_ONLY_CHILD.format(nobody=NOBODY)
        command = [sys.executable, "-c", script, str(path)]
        child = subprocess.run(command, capture_output=True, text=True, cwd=Path.cwd(), check=False)
    finally:
        tmp_path.chmod(0o755)
    lines = child.stdout.splitlines()
    assert len(lines) == 3, child.stderr
    assert lines[0] == "no complaint"  # it is opened for looking only (test_places.py)
    assert lines[1].startswith("new.workbook cannot be written: the file or its folder is read-only.")
    assert lines[2] == "[]"


def test_a_folder_that_may_not_be_entered_is_told(workbook, tmp_path, path):
    workbook.close()
    for folder in list(tmp_path.parents)[:3]:
        folder.chmod(0o755)
    tmp_path.chmod(0o000)
    try:
        command = [sys.executable, "-c", READ_ONLY_CHILD.format(nobody=NOBODY), str(path)]
        child = subprocess.run(command, capture_output=True, text=True, cwd=Path.cwd(), check=False)
    finally:
        tmp_path.chmod(0o755)
    first, second = child.stdout.splitlines()[:2]
    assert first.startswith("tarnbeck.workbook cannot be read (Permission denied).")
    assert second.startswith("new.workbook cannot be written")


def test_opening_an_up_to_date_workbook_loads_no_migrations(workbook, path):
    workbook.close()
    script = (
        "import sys; from pathlib import Path; from benchapp.workbook.opened.workbook import Workbook; "
        "book = Workbook.open(Path(sys.argv[1])); book.lots(); book.units(); book.stages(); book.close(); "
        "print(sorted({'alembic', 'yaml', 'pydantic', 'numpy', 'pint', 'scipy', 'reportlab'} & set(sys.modules)))"
    )
    child = subprocess.run([sys.executable, "-c", script, str(path)], capture_output=True, text=True, check=True)
    assert child.stdout.strip() == "[]"
