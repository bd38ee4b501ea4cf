"""Every column of every table changed, every table's rows taken out, by somebody with SQL behind the guards."""

import shutil
import sqlite3
from contextlib import closing

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.errors import BenchError
from tests.forging import without_guards


def schema_of(path):
    with closing(sqlite3.connect(path)) as connection:
        tables = [
            row[0]
            for row in connection.execute(
                "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name"
            )
        ]
        return {
            table: (
                [row[1] for row in connection.execute(f'PRAGMA table_info("{table}")')],
                connection.execute(f'SELECT count(*) FROM "{table}"').fetchone()[0],
            )
            for table in tables
        }


def other(value):
    """A value of the same kind that is not this one."""
    match value:
        case None:
            return 1
        case int() | float():
            return value + 1
        case bytes():
            return value + b"x"
    return value + "x"


def seen(path):
    try:
        return bool(verify_workbook(path))
    except BenchError:
        return True


def change(path, table, column, place):
    """Change one column of the row at that place; false where SQLite itself refuses."""

    def go(connection):
        connection.execute("PRAGMA foreign_keys = OFF")
        rowid, value = connection.execute(
            f'SELECT rowid, "{column}" FROM "{table}" ORDER BY rowid LIMIT 1 OFFSET ?', (place,)
        ).fetchone()
        try:
            connection.execute(f'UPDATE "{table}" SET "{column}" = ? WHERE rowid = ?', (other(value), rowid))
        except sqlite3.IntegrityError:
            return False
        return True

    return without_guards(path, go)


@pytest.mark.timeout(3600)
def test_every_column_changed_by_sql_is_seen(path, tmp_path, times, tell):
    """Every day each fifth column; tests/actions/audit/test_every_column.py has them all, in one row."""
    whole = times(1000) == 1000
    tried, unseen = 0, []
    schema = schema_of(path)
    columns = [(table, column, count) for table, (names, count) in schema.items() for column in names]
    for table, column, count in columns[:: 1 if whole else 5]:
        for place in {count - 1, count // 2, 0} if whole else {count - 1}:
            if place < 0:
                continue
            copy = shutil.copy(path, tmp_path / "changed.workbook")
            if not change(copy, table, column, place):
                continue
            tried += 1
            if not seen(copy):
                unseen.append(f"{table}.{column}")
    empty = [table for table, (_names, count) in schema.items() if not count]
    tell("columns changed by SQL", tried=tried, unseen=len(unseen))
    assert tried > len(columns) // 6
    assert sorted(set(unseen)) == []
    assert empty == []


@pytest.mark.timeout(3600)
def test_every_row_taken_out_by_sql_is_seen(path, tmp_path, times, tell):
    tried, unseen = 0, []
    for table, (_columns, count) in schema_of(path).items():
        step = max(1, count // times(400))
        for place in range(0, count, step):
            copy = shutil.copy(path, tmp_path / "changed.workbook")

            def take_out(connection, table=table, place=place):
                connection.execute("PRAGMA foreign_keys = OFF")
                which = f'SELECT rowid FROM "{table}" ORDER BY rowid LIMIT 1 OFFSET {place}'
                connection.execute(f'DELETE FROM "{table}" WHERE rowid IN ({which})')

            without_guards(copy, take_out)
            tried += 1
            if not seen(copy):
                unseen.append(f"{table} row {place}")
    tell("rows taken out by SQL", tried=tried, unseen=len(unseen))
    assert unseen == []
