"""Every column of every table, changed behind the guards, is a difference; the list is the file's own schema."""

import shutil
import sqlite3
from contextlib import closing

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.workbook.model.problems import WorkbookProblem
from benchapp.workbook.model.tables import METADATA
from tests.actions.audit.worked import make_worked
from tests.forging import without_guards

NOT_LOOKED_AT = {
    ("entries", "id"): "a number that SQLite gives to the row; only tags printed refer to it, and that is looked at",
    ("revisions", "id"): "a number that SQLite gives to the row; nothing refers to it",
    ("photos", "id"): "a number that SQLite gives to the row; nothing refers to it",
}
COLUMNS = [(table.name, column.name) for table in METADATA.sorted_tables for column in table.columns]
COLUMNS.append(("alembic_version", "version_num"))


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("made") / "tarnbeck.workbook")


@pytest.fixture
def worked(made, tmp_path):
    return shutil.copy(made, tmp_path / "tarnbeck.workbook")


def found_in(path):
    try:
        return verify_workbook(path)
    except WorkbookProblem as problem:
        return (problem,)


def test_the_list_is_that_of_the_file(made):
    with closing(sqlite3.connect(made)) as connection:
        tables = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        there = {(table, row[1]) for table in tables for row in connection.execute(f"PRAGMA table_info({table})")}
        assert there == set(COLUMNS)
        assert all(connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in tables)


def test_the_workbook_as_it_was_made_holds(made):
    assert verify_workbook(made) == ()


def changed(value):
    """Another value of the same kind."""
    if isinstance(value, bytes):
        return value + b"x"
    if isinstance(value, int | float):
        return value + 1000
    return "x" if value is None else f"{value}x"


def change(path, table, column, *, row=0):
    """Change one value, all else left as it is; what SQLite itself would refuse is let through."""

    def work(connection):
        connection.execute("PRAGMA ignore_check_constraints = ON")
        place = f'SELECT rowid, "{column}" FROM {table} ORDER BY rowid LIMIT 1 OFFSET {row}'
        rowid, value = connection.execute(place).fetchone()
        connection.execute(f'UPDATE {table} SET "{column}" = ? WHERE rowid = ?', (changed(value), rowid))

    without_guards(path, work)


@pytest.mark.parametrize(
    ("table", "column"), [one for one in COLUMNS if one not in NOT_LOOKED_AT], ids=lambda name: name
)
def test_a_column_changed_behind_the_guards_is_found(worked, table, column):
    change(worked, table, column)
    assert found_in(worked)


@pytest.mark.parametrize("table", sorted({table for table, _ in COLUMNS} - {"photos"}))  # no entry names the one there
def test_a_row_taken_out_is_found(worked, table):
    first = f"DELETE FROM {table} WHERE rowid = (SELECT min(rowid) FROM {table})"
    without_guards(worked, lambda connection: connection.execute(first))
    assert found_in(worked)


ON = "WHERE chain_id = (SELECT chain_id FROM units WHERE mark = '{}')"
PLAUSIBLE = {
    "a price": "UPDATE units SET price = '£1' WHERE mark = 'TB-001'",
    "a grade": "UPDATE units SET grade = 'A' WHERE mark = 'TB-001'",
    "a disposition": "UPDATE units SET disposition = 'for sale' WHERE mark = 'TB-003'",
    "what is due": "UPDATE units SET due = 'Everything is done.' WHERE mark = 'TB-003'",
    "since when": "UPDATE units SET shown_at = (SELECT min(shown_at) FROM units) WHERE mark = 'TB-002'",
    "a title": "UPDATE lots SET title = 'Mains unit, safe'",
    "a stage done": "UPDATE unit_stages SET status = 'done' WHERE status = 'not started'",
    "a stage more": "INSERT INTO unit_stages SELECT unit_id, 'x', 9, 'X', 'done', 1, 1, '' FROM unit_stages LIMIT 1",
    "a stage less": "DELETE FROM unit_stages WHERE stage = 'coils'",
    "a print more": 'INSERT INTO tags_printed SELECT entry_id - 1, unit_id, at, "by", disposition, record_hash '
    "FROM tags_printed LIMIT 1",
    "a print less": "DELETE FROM tags_printed WHERE unit_id = (SELECT min(unit_id) FROM tags_printed)",
    "a table more": "CREATE TABLE more (text TEXT)",
    "a view more": "CREATE VIEW more AS SELECT * FROM units",
    "a trigger more": "CREATE TRIGGER more AFTER INSERT ON entries BEGIN DELETE FROM lots; END",
    "an index less": "DROP INDEX ix_entries_address_chain_id",
    "a column more": "ALTER TABLE lots ADD COLUMN more TEXT",
    "a photo's kind": "UPDATE photos SET media_type = 'image/jpeg'",
}


@pytest.mark.parametrize("what", PLAUSIBLE)
def test_what_looks_right_and_is_not_recorded_is_found(worked, what):
    without_guards(worked, lambda connection: connection.execute(PLAUSIBLE[what]))
    assert found_in(worked)
