"""Rows read from pages are those that SQLite reads; of a damaged file, those of every page that is whole."""

import random
import shutil
import sqlite3

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.workbook.salvage.page_reader import LEAF, Pages

VALUES = st.one_of(
    st.none(),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(allow_nan=False),
    st.text(st.characters(exclude_categories=("Cs",)), max_size=40),
    st.binary(max_size=40),
    st.just("long " * 3000),
)


def root_of(connection, table):
    return connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()[0]


def read(path, root):
    log = path.with_name(path.name + "-wal")
    pages = Pages(path.read_bytes(), log.read_bytes() if log.exists() else b"")
    return {row.rowid: row.values for number in pages.leaves(root) for row in pages.rows(number)}


@settings(max_examples=40)
@given(rows=st.lists(st.tuples(VALUES, VALUES), max_size=30), size=st.sampled_from([512, 4096, 65536]))
def test_rows_are_those_that_sqlite_reads(tmp_path_factory, rows, size):
    path = tmp_path_factory.mktemp("pages") / "rows.db"
    connection = sqlite3.connect(path)
    connection.execute(f"PRAGMA page_size={size}")
    connection.execute("CREATE TABLE kept (one, two)")
    connection.executemany("INSERT INTO kept VALUES (?, ?)", rows)
    connection.commit()
    expected = {rowid: values for rowid, *values in connection.execute("SELECT rowid, one, two FROM kept")}
    root = root_of(connection, "kept")
    connection.close()
    assert {rowid: list(values) for rowid, values in read(path, root).items()} == expected


@pytest.fixture
def many(tmp_path):
    """Two thousand rows on a tree of several levels, some of which are still in the log."""
    path = tmp_path / "many.db"
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("CREATE TABLE kept (id INTEGER PRIMARY KEY, words TEXT)")
    connection.execute("BEGIN")
    connection.executemany("INSERT INTO kept VALUES (?, ?)", [(n, f"entry {n} " * 9) for n in range(1, 1501)])
    connection.execute("COMMIT")
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for n in range(1501, 2001):
        connection.execute("INSERT INTO kept VALUES (?, ?)", (n, f"entry {n} " * 9))
    yield path, root_of(connection, "kept")
    connection.close()


def test_rows_of_the_log_are_read_too(many):
    path, root = many
    assert {rowid: values[1] for rowid, values in read(path, root).items()} == {
        n: f"entry {n} " * 9 for n in range(1, 2001)
    }


def test_of_a_log_that_is_cut_what_was_committed_before_counts(many, tmp_path):
    path, root = many
    copy = tmp_path / "cut.db"
    shutil.copy(path, copy)
    log = path.with_name("many.db-wal").read_bytes()
    (tmp_path / "cut.db-wal").write_bytes(log[: len(log) // 2])
    found = read(copy, root)
    assert 1500 < len(found) < 2000
    assert sorted(found) == list(range(1, len(found) + 1))


def test_a_damaged_page_costs_its_own_rows_alone(many):
    path, root = many
    content = bytearray(path.read_bytes())
    pages = Pages(bytes(content))
    leaf = list(pages.leaves(root))[5]
    gone = {row.rowid for row in pages.rows(leaf)}
    content[(leaf - 1) * 4096 : leaf * 4096] = b"\x5a" * 4096
    damaged = Pages(bytes(content))
    found = {row.rowid for number in damaged.leaves(root) for row in damaged.rows(number)}
    assert found == set(range(1, 1501)) - gone


def test_leaves_are_found_without_the_pages_above_them(many):
    path, root = many
    content = bytearray(path.read_bytes())
    content[(root - 1) * 4096 : root * 4096] = bytes(4096)
    pages = Pages(bytes(content))
    assert list(pages.leaves(root)) == []
    found = {row.rowid for n in range(1, pages.count + 1) if pages.kind(n) == LEAF for row in pages.rows(n)}
    assert found >= set(range(1, 1501))


@settings(max_examples=60)
@given(content=st.binary(max_size=9000), log=st.binary(max_size=5000))
def test_rubbish_makes_no_error(content, log):
    pages = Pages(content, b"\x37\x7f\x06\x82" + log)
    for number in range(1, pages.count + 1):
        list(pages.leaves(number))
        list(pages.rows(number))


def test_flipped_bytes_make_no_error(many):
    path, root = many
    whole, chance = path.read_bytes(), random.Random(4)
    for _ in range(100):
        content = bytearray(whole)
        for _ in range(20):
            content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
        pages = Pages(bytes(content))
        assert sum(1 for number in pages.leaves(root) for _ in pages.rows(number)) >= 0
