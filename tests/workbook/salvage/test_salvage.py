"""Of a damaged workbook all that can still be read is read, and what cannot is named by the check of the record."""

import random
import sqlite3
from contextlib import closing

import pytest

from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.checks.projections import check_projections
from benchapp.workbook.model.problems import DamagedWorkbook
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.sealing import digest
from benchapp.workbook.salvage.page_reader import LEAF, Pages
from benchapp.workbook.salvage.salvage import salvage

ENTRIES = 120


_RECORDED: dict = {}
"""the file and its entries, recorded once for all tests of this module"""


@pytest.fixture
def recorded(request, path):
    """Entries of two units on many pages; the file is closed."""
    if not _RECORDED:
        workbook, record = request.getfixturevalue("workbook"), request.getfixturevalue("record")
        for number in range(1, ENTRIES + 1):
            record(number)
            record(number, unit="TB-002")
        entries = {mark: workbook.entries(mark) for mark in ("TB-001", "TB-002")}
        workbook.close()
        _RECORDED.update(file=path.read_bytes(), entries=entries)
    path.write_bytes(_RECORDED["file"])
    return _RECORDED["entries"]


def overwrite(path, *numbers):
    content = bytearray(path.read_bytes())
    for number in numbers:
        start = 100 if number == 1 else (number - 1) * 4096
        content[start : number * 4096] = b"\x5a" * (number * 4096 - start)
    path.write_bytes(content)


def root_of(path, table):
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()[0]


def read(path, tmp_path):
    """The entries that can be read of each unit, and what the check says of them."""
    before = path.read_bytes()
    salvaged = salvage(path, tmp_path / "salvaged.workbook")
    assert path.read_bytes() == before
    book = Workbook.look_at(salvaged.path)
    entries = {unit.mark: book.entries(unit.mark) for unit in book.units()}
    found = [*check_records(book.store), *check_projections(book.store)]
    book.close()
    return entries, found


def test_a_whole_workbook_is_read_whole(recorded, path, tmp_path):
    assert read(path, tmp_path) == (recorded, [])


def test_what_is_in_the_log_alone_is_read_too(workbook, record, path, tmp_path):
    record(1)
    assert path.with_name(path.name + "-wal").exists()
    salvaged = salvage(path, tmp_path / "salvaged.workbook")
    book = Workbook.look_at(salvaged.path)
    assert book.entries("TB-001") == workbook.entries("TB-001")
    book.close()


def test_a_lost_page_of_entries_costs_those_entries_and_names_their_units(recorded, path, tmp_path):
    pages = Pages(path.read_bytes())
    leaf = list(pages.leaves(root_of(path, "entries")))[3]
    lost = len(list(pages.rows(leaf)))
    overwrite(path, leaf)
    entries, found = read(path, tmp_path)
    assert sum(map(len, entries.values())) == 2 * ENTRIES - lost
    assert {one.unit for one in found} == {"TB-001", "TB-002"}


def test_the_page_above_all_entries_may_be_lost(recorded, path, tmp_path):
    overwrite(path, root_of(path, "entries"))
    assert read(path, tmp_path) == (recorded, [])


def test_the_list_of_tables_may_be_lost(recorded, path, tmp_path):
    overwrite(path, 1)
    entries, found = read(path, tmp_path)
    assert entries == recorded
    assert found == []


def test_the_head_of_the_file_may_be_lost(recorded, path, tmp_path):
    content = path.read_bytes()
    path.write_bytes(b"\x5a" * 100 + content[100:])
    assert read(path, tmp_path) == (recorded, [])


def test_a_text_on_many_pages_is_read_though_the_head_of_the_file_is_lost(workbook, path, tmp_path):
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        text = "a pinned text of some length\n" * 900
        connection.execute("INSERT INTO revisions (sha256, text) VALUES (?, ?)", (digest(text), text))
    workbook.close()
    path.write_bytes(b"\x5a" * 100 + path.read_bytes()[100:])
    salvaged = salvage(path, tmp_path / "salvaged.workbook")
    with closing(sqlite3.connect(salvaged.path)) as connection:
        assert connection.execute("SELECT text FROM revisions WHERE sha256 = ?", (digest(text),)).fetchone() == (text,)


@pytest.mark.parametrize("part", [0.5, 0.7, 0.9])
def test_of_a_file_cut_short_the_part_that_is_there_is_read(recorded, path, tmp_path, part):
    content = path.read_bytes()
    path.write_bytes(content[: int(len(content) * part)])
    entries, found = read(path, tmp_path)
    assert found
    for mark, kept in entries.items():
        assert all(entry in recorded[mark] for entry in kept)
    assert sum(map(len, entries.values())) > 0


@pytest.mark.parametrize("table", ["workbook", "units", "lots", "runs", "chains", "benches", "tags_printed"])
def test_rows_that_the_entries_say_are_made_again(recorded, path, tmp_path, table):
    overwrite(path, root_of(path, table))
    entries, found = read(path, tmp_path)
    assert entries == recorded
    assert {one.unit for one in found} <= ({"TB-001", "TB-002", ""} if table in ("chains", "benches") else {""})
    book = Workbook.look_at(tmp_path / "salvaged.workbook")
    assert [(lot.name, lot.units) for lot in book.lots()] == [("Tarnbeck shelf 3", 2)]
    assert book.current_run("TB-001").texts
    book.close()


def test_flipped_bytes_never_make_an_error_and_cost_little(recorded, path, tmp_path):
    whole, chance = path.read_bytes(), random.Random(8)
    for number in range(5):
        content = bytearray(whole)
        for _ in range(10):
            content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
        path.write_bytes(content)
        salvaged = salvage(path, tmp_path / f"salvaged {number}.workbook")
        assert salvaged.rows["entries"] > 2 * ENTRIES * 0.8


def test_a_row_with_a_value_of_another_kind_is_made_again(recorded, path, tmp_path):
    content = path.read_bytes()
    row = next(row for row in Pages(content).rows(root_of(path, "units")) if "tb-mu1-check" in row.values)
    at = content.index(b"tb-mu1-check", (row.page - 1) * 4096)
    head = content.rindex(bytes([13 + 2 * len("tb-mu1-check")]), (row.page - 1) * 4096, at)
    path.write_bytes(content[:head] + bytes([content[head] - 1]) + content[head + 1 :])  # text said to be bytes
    entries, _ = read(path, tmp_path)
    assert entries == recorded


@pytest.mark.parametrize("content", [b"", b"dear diary " * 900, b"SQLite format 3\x00" + bytes(9000)])
def test_a_file_in_which_nothing_can_be_read_is_told(path, tmp_path, content):
    path.write_bytes(content)
    with pytest.raises(DamagedWorkbook, match="no unit and no entry can be read"):
        salvage(path, tmp_path / "salvaged.workbook")


def test_every_leaf_page_of_a_workbook_fits_one_table_alone(recorded, path):
    """So that pages which nothing leads to are told apart."""
    from benchapp.workbook.salvage.salvage import _roots, _table_of, _tables

    pages = Pages(path.read_bytes())
    with closing(sqlite3.connect(path)) as connection:
        tables = _tables(connection)
    for table, root in _roots(pages).items():
        for number in pages.leaves(root) if table in tables else ():
            rows = tuple(pages.rows(number))
            assert not rows or _table_of(rows, tables) == table
    assert pages.kind(root_of(path, "units")) == LEAF
