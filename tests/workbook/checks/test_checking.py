"""Nobody changes a record unseen."""

import sqlite3

import pytest

from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.checks.projections import check_projections
from benchapp.workbook.model.values import TagPrinted
from benchapp.workbook.opened.workbook import Workbook
from tests.forging import ANOTHER_HASH
from tests.people import OPENING
from tests.workbook.conftest import TAKEN_IN


@pytest.fixture
def recorded(workbook, record):
    workbook.add_opening(OPENING, at="2026-05-04T08:30:00Z", by="AB")
    for number in range(1, 5):
        record(number)
        record(number, unit="TB-002")
        if number == 2:
            workbook.add_anchor(at="2026-05-04T10:00:00Z", reason="tags printed")
    workbook.add_closing(workbook.grounds().day, at="2026-05-04T18:00:00Z", by="AB")
    return workbook


ROW = "number = {number} AND chain_id = (SELECT chain_id FROM units WHERE mark = '{mark}')"


def of(number, mark):
    """The entry of a unit, for SQL."""
    return ROW.format(number=number, mark=mark)


def found(workbook):
    return [difference.words for difference in check_records(workbook.store)]


def test_an_untouched_workbook_holds(recorded):
    assert found(recorded) == []


@pytest.mark.parametrize("change", ["sealed = replace(sealed, '2026', '2025')", ANOTHER_HASH])
def test_a_changed_entry_is_found_at_its_number(recorded, tamper, change):
    tamper(f"UPDATE entries SET {change} WHERE {of(3, 'TB-001')}")
    assert found(recorded)[0] == "Entry 3 of TB-001 is not as it was recorded: its hash does not fit."


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("by", "XY"),
        ("at", "2026-05-04T09:00:01Z"),
        ("address", "live-voltage.high"),
        ("kind", "note"),
        ("uuid", "another"),
        ("bench", "another"),
        ("run", "another"),
        ("rules", "0"),
        ("value", 9.5),
        ("lower", None),
        ("judgement", "fail"),
        ("rule", None),
        ("mains", 240.0),
        ("flickers", 1),
        ("withdraws", 1),
        ("states_facts", 1),
    ],
)
def test_a_column_that_contradicts_the_record_is_found(recorded, tamper, column, value):
    tamper(f'UPDATE entries SET "{column}" = ? WHERE {of(2, "TB-002")}', value)
    assert found(recorded)[0].startswith(f"Entry 2 of TB-002: its column {column} says {value}, the record says")


def test_an_entry_taken_out_is_missed(recorded, tamper):
    tamper(f"DELETE FROM entries WHERE {of(2, 'TB-001')}")
    assert found(recorded)[0] == "Entry 2 of TB-001 is missing."


def test_a_record_of_which_nothing_is_left_is_said_to_be_gone(recorded, tamper):
    tamper("DELETE FROM entries WHERE chain_id = (SELECT chain_id FROM units WHERE mark = 'TB-001')")
    assert "Nothing of the record of TB-001 is there, not even its beginning." in found(recorded)


def test_the_last_entry_taken_out_is_missed_though_the_unit_was_made_to_agree(recorded, tamper):
    tamper(f"DELETE FROM entries WHERE {of(4, 'TB-001')}")
    assert found(recorded)[0] == "TB-001 had 4 entries, 3 are there."
    tamper(
        "UPDATE chains SET (last_entry, last_at, last_sha256) = (SELECT number, at, sha256 FROM entries "
        f"WHERE {of(3, 'TB-001')}) WHERE id = (SELECT chain_id FROM units WHERE mark = 'TB-001')"
    )
    first = "Entry 4 of TB-001 is not the one that was anchored at 2026-05-04T18:00:00Z (bench closing)."
    assert found(recorded)[0] == first


@pytest.mark.parametrize("kind", ["opening", "closing", "anchor"])
def test_what_is_taken_out_of_a_benchs_chain_is_found(recorded, tamper, kind):
    tamper(f"DELETE FROM entries WHERE kind = '{kind}'")
    assert found(recorded)[0].split(" of ")[1].startswith("Bench ") or "Bench " in found(recorded)[0]


def test_settings_taken_out_of_the_workshops_chain_are_found(recorded, tamper):
    tamper("DELETE FROM entries WHERE kind = 'settings'")
    assert "Entry 1 of the workshop is missing." in found(recorded)


def test_a_pinned_text_that_was_changed_is_found(recorded, tamper):
    tamper("UPDATE revisions SET text = 'equipment: other' WHERE id = 1")
    assert "is not the text that was pinned" in found(recorded)[0]


PROJECTED = [
    ("UPDATE units SET mark = 'TB-100' WHERE mark = 'TB-001'", "TB-001: its mark among the units is 'TB-100'"),
    ("UPDATE units SET shelf_mark = 'TB-100' WHERE mark = 'TB-001'", "its shelf_mark among the units is 'TB-100'"),
    ("UPDATE units SET held = 'x' WHERE mark = 'TB-001'", "its held among the units is 'x'"),
    ("UPDATE units SET route = 'other' WHERE mark = 'TB-001'", "its route among the units is 'other'"),
    ("UPDATE units SET run_id = 2 WHERE mark = 'TB-001'", "its run among the units is"),
    ("UPDATE lots SET name = 'x'", "its name among the lots is 'x', the record says 'Tarnbeck shelf 3'"),
    ("UPDATE lots SET title = 'x'", "its title among the lots is 'x'"),
    ("UPDATE lots SET \"by\" = 'XY'", "its by among the lots is 'XY'"),
    ("UPDATE lots SET uuid = 'x'", "x stands among the lots, in no record."),
    ("UPDATE runs SET settings = '{}x' WHERE unit_id = 4", "its settings among the runs is '{}x'"),
    ("UPDATE runs SET pins = 'x' WHERE unit_id = 4", "its pins among the runs is 'x'"),
    ("UPDATE workbook SET settings = 'x'", "its settings among the workbook's own words is 'x'"),
    ("UPDATE workbook SET made = 'x'", "its made among the workbook's own words is 'x'"),
    ("UPDATE workbook SET uuid = 'x'", "its uuid among the workbook's own words is 'x'"),
    ("UPDATE benches SET name = 'x'", "its name among the benches is 'x'"),
    ("UPDATE benches SET day = 1, day_sha256 = 'x'", "its day_sha256 among the benches is 'x'"),
    ("UPDATE chains SET kind = 'bench' WHERE uuid = (SELECT uuid FROM workbook)", "its kind among the chains is"),
    ("UPDATE tags_printed SET disposition = 'for sale'", "its disposition among the tags printed is 'for sale'"),
    ("UPDATE tags_printed SET record_hash = 'x'", "its record_hash among the tags printed is 'x'"),
    ("DELETE FROM tags_printed", "is missing among the tags printed."),
]


@pytest.mark.parametrize(("statement", "words"), PROJECTED, ids=[one[0] for one in PROJECTED])
def test_what_is_made_from_the_record_is_made_again_and_compared(recorded, tamper, statement, words):
    unit = recorded.unit("TB-001")
    tag = TagPrinted(unit="TB-001", at=TAKEN_IN, by="AB", disposition="quarantine", record_hash=unit.record_hash)
    recorded.add_tags_printed([tag])
    assert list(check_projections(recorded.store)) == []
    tamper(statement)
    assert any(words in one.words for one in check_projections(recorded.store))


def test_a_list_of_pinned_texts_that_is_gone_is_missed(recorded, tamper):
    tamper("DELETE FROM revisions WHERE text LIKE '{%'")
    assert "A list of pinned texts" in next(check_projections(recorded.store)).words


def test_a_pinned_text_that_is_gone_is_missed(recorded, tamper):
    tamper("DELETE FROM revisions WHERE text LIKE 'equipment%'")
    assert "The pinned text equipment/tb-mu1.yaml (" in next(check_projections(recorded.store)).words


def test_guards_taken_off_are_missed(recorded, tamper):
    tamper("UPDATE units SET due = 'x'", put_guards_back=False)
    assert len(found(recorded)) == 6
    assert found(recorded)[0] == "The guard that refuses to update entries has been taken off the file."


def test_a_page_of_rubbish_is_found(recorded, path):
    recorded.close()
    size = path.stat().st_size
    connection = sqlite3.connect(path)
    page = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entries'").fetchone()[0]
    connection.close()
    with path.open("r+b") as file:
        file.seek((page - 1) * 4096 + 8)
        file.write(b"\xff" * 4000)
    assert path.stat().st_size == size
    looked = Workbook.look_at(path)
    try:
        assert found(looked)
    finally:
        looked.close()
