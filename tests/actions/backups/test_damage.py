"""A damaged workbook: what can be read of it, its newest sound backup, and what each has that the other has not."""

import random
import sqlite3
from contextlib import closing

import pytest

from benchapp.actions.backups.damage import damage_of
from benchapp.actions.backups.keeping import back_up
from benchapp.actions.backups.settings import name_folder
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.problems import DamagedWorkbook, NewerWorkbook, NotAWorkbook, WorkbookProblem
from benchapp.workbook.salvage.page_reader import Pages
from tests.actions.driving import do_what_is_due


@pytest.fixture
def closed(bench, lot, path, clock, tmp_path):
    """A workbook with a backup, after which a unit went on; closed."""
    do_what_is_due(bench, "TB-001", until="look-over.wipe")
    name_folder(tmp_path / "stick", workbook=path)
    back_up(path, at=clock())
    do_what_is_due(bench, "TB-001", until="look-over.colour")
    bench.close()
    return path


def opened(path):
    """What opening and looking says of the file; None where it opens."""
    try:
        with Bench.look_at(path) as bench:
            bench.lots(), bench.units(), [bench.entries(unit.mark) for unit in bench.units()]
    except WorkbookProblem as problem:
        return problem
    return None


def look(path, tmp_path, problem=None):
    folder = tmp_path / "readable"
    folder.mkdir()
    before = path.read_bytes()
    damage = damage_of(path, problem or opened(path), folder)
    assert path.read_bytes() == before
    return damage


def test_of_a_file_whose_head_is_lost_all_is_read_and_both_facts_are_said(closed, clock, tmp_path):
    content = closed.read_bytes()
    closed.write_bytes(b"\x5a" * 100 + content[100:])
    damage = look(closed, tmp_path)
    first, readable, backup, beyond, lost = damage.sentences
    assert first == (
        "tarnbeck.workbook is damaged (its beginning is not that of a workbook). It stays as it is, and nothing is "
        "recorded in it."
    )
    assert readable.endswith("of 3 units can still be read.")
    assert backup.startswith("The newest sound backup is of 2026-05-04 09:")
    assert "The damaged file has " in beyond
    assert "that the backup has not: TB-001 (" in beyond
    assert lost == "All that the backup holds can still be read of the damaged file."
    with Bench.look_at(damage.readable, clock=clock) as bench:
        assert len(bench.units()) == 3
        assert bench.state("TB-001", by="AB").due.address == "look-over.colour"


def test_units_that_cannot_be_read_whole_are_named(closed, tmp_path):
    with closing(sqlite3.connect(closed)) as connection:
        root = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entries'").fetchone()[0]
    pages = Pages(closed.read_bytes())
    leaf = next(n for n in pages.leaves(root) if any("answer" in row.values for row in pages.rows(n)))
    content = bytearray(closed.read_bytes())
    content[(leaf - 1) * 4096 : leaf * 4096] = b"\x5a" * 4096
    closed.write_bytes(content)
    damage = look(closed, tmp_path, DamagedWorkbook(closed.name, "a page is rubbish"))
    assert "Not whole: " in damage.sentences[1]
    assert "TB-001" in damage.sentences[1]


def test_of_rubbish_only_the_backup_is_offered(closed, tmp_path):
    closed.write_bytes(closed.read_bytes()[:100] + b"\x5a" * 20_000)
    damage = look(closed, tmp_path, DamagedWorkbook(closed.name, "rubbish"))
    assert damage.readable is None
    assert damage.sentences[1] == "Nothing of it can be read."
    assert damage.backup.sound


def test_without_a_backup_that_is_said(bench, lot, path, tmp_path):
    bench.close()
    path.write_bytes(b"\x5a" * 100 + path.read_bytes()[100:])
    damage = look(path, tmp_path)
    assert damage.sentences[-1] == "No sound backup of it can be found in the folder for backups of this computer."


def test_what_is_no_workbook_or_newer_is_no_damage(tmp_path):
    diary = tmp_path / "diary.txt"
    diary.write_text("dear diary " * 1000)
    assert look(diary, tmp_path, NotAWorkbook("diary.txt")) is None
    assert damage_of(diary, NewerWorkbook("diary.txt", "9", "1"), tmp_path) is None


def _flip(content, chance):
    for _ in range(chance.choice([1, 10, 200])):
        content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)


def _overwrite_pages(content, chance):
    for _ in range(chance.choice([1, 3, 10])):
        page = chance.randrange(len(content) // 4096) * 4096
        content[page : page + 4096] = chance.randbytes(4096)


def _cut(content, chance):
    del content[chance.randrange(5000, len(content)) :]


def _lose_the_list_of_tables(content, chance):
    content[100:4096] = chance.randbytes(3996)


@pytest.mark.parametrize("harm", [_flip, _overwrite_pages, _cut, _lose_the_list_of_tables])
def test_whatever_happens_to_the_file_it_ends_in_sentences(closed, tmp_path, harm):
    whole, chance = closed.read_bytes(), random.Random(5)
    for number in range(6):
        content = bytearray(whole)
        harm(content, chance)
        closed.write_bytes(content)
        problem = opened(closed)
        folder = tmp_path / f"readable {number}"
        folder.mkdir()
        damage = damage_of(closed, problem, folder) if problem is not None else None
        if damage is not None and damage.readable is not None:
            with Bench.look_at(damage.readable) as bench:
                assert len(bench.units()) <= 3
            assert len(damage.sentences) >= 3
        assert closed.read_bytes() == content
