"""Nobody changes a record unseen."""

import sqlite3

import pytest

from benchapp.workbook.checking import check_records
from benchapp.workbook.workbook import Workbook


@pytest.fixture
def recorded(workbook, make_draft):
    for number in range(1, 5):
        workbook.append(make_draft(number))
        workbook.append(make_draft(number, unit="TB-002"))
        if number == 2:
            workbook.add_anchor(at="2026-05-04T10:00:00Z", reason="tags printed")
    workbook.add_anchor(at="2026-05-04T18:00:00Z", reason="bench closing")
    return workbook


def found(workbook):
    return [difference.words for difference in check_records(workbook.store)]


def test_an_untouched_workbook_holds(recorded):
    assert found(recorded) == []


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("content", '{"value":9.9}'),
        ("by", "XY"),
        ("at", "2026-05-04T09:00:01Z"),
        ("address", "live-voltage.high"),
        ("kind", "note"),
        ("uuid", "another"),
        ("sha256", "0" * 64),
    ],
)
def test_a_changed_entry_is_found_at_its_number(recorded, tamper, column, value):
    tamper(f"UPDATE entries SET {column} = ? WHERE number = 3 AND unit_id = 1", value)
    assert found(recorded)[0] == "Entry 3 of TB-001 is not as it was recorded: its hash does not fit."


@pytest.mark.parametrize(
    ("column", "value"),
    [("value", 9.5), ("lower", None), ("judgement", "fail"), ("rule", None), ("rules_version", "2")],
)
def test_a_column_that_contradicts_the_record_is_found(recorded, tamper, column, value):
    tamper(f"UPDATE entries SET {column} = ? WHERE number = 2 AND unit_id = 2", value)
    assert found(recorded)[0].startswith(f"Entry 2 of TB-002: its column {column} says {value}, the record says")


def test_an_entry_taken_out_is_missed(recorded, tamper):
    tamper("DELETE FROM entries WHERE number = 2 AND unit_id = 1")
    assert found(recorded)[0] == "Entry 2 of TB-001 is missing."


def test_the_last_entry_taken_out_is_missed_though_the_unit_was_made_to_agree(recorded, tamper):
    tamper("DELETE FROM entries WHERE number = 4 AND unit_id = 1")
    assert found(recorded)[0] == "TB-001 had 4 entries, 3 are there."
    tamper(
        "UPDATE units SET last_entry = 3, last_sha256 = (SELECT sha256 FROM entries WHERE number = 3 AND unit_id = 1) "
        "WHERE id = 1"
    )
    assert found(recorded) == ["The records do not fit the anchor set at 2026-05-04T18:00:00Z (bench closing)."]


def test_an_anchor_moved_or_taken_out_is_found(recorded, tamper):
    tamper("DELETE FROM anchors WHERE id = 1")
    assert found(recorded) == ["The records do not fit the anchor set at 2026-05-04T18:00:00Z (bench closing)."]


def test_a_pinned_text_that_was_changed_is_found(recorded, tamper):
    tamper("UPDATE revisions SET text = 'equipment: other' WHERE id = 1")
    assert "is not the text that was pinned" in found(recorded)[0]


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE run_revisions SET revision_id = 2 WHERE run_id = 1 AND revision_id = 1",
        "DELETE FROM run_revisions WHERE run_id = 1",
        'UPDATE runs SET workshop = \'{"region": "us"}\' WHERE id = 1',
    ],
    ids=["other text", "no text", "other settings"],
)
def test_a_run_that_rests_on_something_else_is_found(recorded, tamper, statement):
    tamper(statement)
    assert found(recorded)[0] == "Run 1 of TB-001 does not rest on the texts that it pinned."


@pytest.mark.parametrize("statement", ["UPDATE units SET mark = 'TB-100' WHERE id = 1", "UPDATE lots SET name = 'x'"])
def test_a_unit_under_another_name_is_found(recorded, tamper, statement):
    tamper(statement)
    assert "has another mark, lot or date of intake" in found(recorded)[0]


def test_guards_taken_off_are_missed(recorded, tamper):
    tamper("UPDATE units SET due = 'x'", put_guards_back=False)
    assert len(found(recorded)) == 10
    assert found(recorded)[0] == "The guard that refuses to update entries has been taken off the file."


def test_a_page_of_rubbish_is_found(recorded, path):
    recorded.close()
    size = path.stat().st_size
    connection = sqlite3.connect(path)
    page = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entries'").fetchone()[0]
    connection.close()
    with path.open("r+b") as file:
        file.seek((page - 1) * 4096 + 3000)
        file.write(b"\xff" * 1000)
    assert path.stat().st_size == size
    looked = Workbook.look_at(path)
    try:
        assert found(looked)
    finally:
        looked.close()
