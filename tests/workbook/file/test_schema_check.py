"""What a file is made of is held against a new file: the digest is right, and every other thing is told."""

import sqlite3
from contextlib import closing

import pytest

from benchapp.workbook.file import sqlite
from benchapp.workbook.file.guards import guards
from benchapp.workbook.file.schema_check import DIGEST, digest, fresh_schema, other_than_ours
from benchapp.workbook.model.problems import DamagedWorkbook
from benchapp.workbook.opened.workbook import Workbook


def test_the_digest_is_that_of_a_new_file():
    assert digest(fresh_schema()) == DIGEST, f"the tables were changed: DIGEST is now {digest(fresh_schema())}"


def test_the_order_of_what_a_file_is_made_of_does_not_count():
    assert digest(dict(reversed(fresh_schema().items()))) == DIGEST


def test_a_new_file_is_made_of_nothing_else(workbook):
    with workbook.store.looking() as connection:
        assert list(other_than_ours(sqlite.schema(connection))) == []


def test_statistics_of_sqlites_own_are_not_told(workbook, path):
    workbook.close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("ANALYZE")
    Workbook.open(path).close()


def test_a_missing_guard_is_left_to_the_check_of_the_record():
    rest = dict(fresh_schema()) | {("trigger", name): f"x: {text}" for name, text in list(guards().items())[1:]}
    assert list(other_than_ours(rest)) == []


def test_what_stands_there_what_is_otherwise_and_what_is_missing_is_told():
    found = dict(fresh_schema())
    del found["table", "lots"]
    found["table", "units"] += " "
    found["view", "more"] = "more: CREATE VIEW more AS SELECT 1"
    found["trigger", "entries_refuse_update"] = "entries: CREATE TRIGGER entries_refuse_update AFTER INSERT"
    assert sorted(other_than_ours(found)) == [
        "it holds a trigger 'entries_refuse_update' that this program does not make",
        "it holds a view 'more' that this program does not make",
        "its table 'lots' is missing",
        "its table 'units' is not as this program makes it",
    ]


def test_a_file_with_a_view_is_refused_and_says_which(workbook, path):
    workbook.close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE VIEW more AS SELECT 1")
    with pytest.raises(DamagedWorkbook, match="it holds a view 'more' that this program does not make"):
        Workbook.open(path)
