"""A workbook is verified from outside: what was recorded, and that every judgement comes out again."""

import json
import sqlite3

import pytest

from benchapp.actions.audit.reverify import same_at_twelve_digits
from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import withdraw_answer
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.intake import start_run
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.workbench.problems import Cancelled
from benchapp.workbook.journal import INPUTS
from benchapp.workbook.sealing import canonical, seal_entry
from tests.actions.driving import do_what_is_due


@pytest.fixture
def worked(bench, lot, path):
    """Two units through, one half way; the bench closed."""
    do_what_is_due(bench, "TB-001")
    set_disposition(bench, "TB-001", "for sale", by="CD", price="£12")
    do_what_is_due(bench, "TB-002", until="coils.coil")
    withdraw_answer(bench, "TB-002", by="AB")
    start_run(bench, "TB-002", by="AB")
    do_what_is_due(bench, "TB-002")
    record_note(bench, "TB-003", "missing a foot", by="AB")
    bench.close()
    return path


def test_a_worked_workbook_holds(worked):
    steps = []
    assert verify_workbook(worked, progress=lambda done, of: steps.append((done, of))) == ()
    assert steps == [(1, 3), (2, 3), (3, 3)]


def test_verifying_changes_nothing(worked):
    before = worked.read_bytes()
    verify_workbook(worked)
    assert worked.read_bytes() == before


def test_verifying_can_be_stopped(worked):
    with pytest.raises(Cancelled):
        verify_workbook(worked, cancelled=lambda: True)


def forge(path, unit_id, address, *, drop=(), **content):
    """Change a judgement and make chain, columns and anchors agree with it, as somebody who knows how would."""
    connection = sqlite3.connect(path, isolation_level=None)
    triggers = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for name, _ in triggers:
        connection.execute(f"DROP TRIGGER {name}")
    connection.execute("DELETE FROM anchors")
    mark, previous = connection.execute("SELECT mark, genesis FROM units WHERE id = ?", (unit_id,)).fetchone()
    rows = connection.execute(
        "SELECT e.id, e.number, e.uuid, e.kind, e.at, e.by, e.address, e.content, r.sha256 FROM entries e "
        "JOIN runs r ON r.id = e.run_id WHERE e.unit_id = ? ORDER BY e.number",
        (unit_id,),
    ).fetchall()
    for row_id, number, uuid, kind, at, by, where, text, run in rows:
        if where == address and kind == "answer":
            kept = {key: value for key, value in json.loads(text).items() if key not in drop}
            text = canonical(kept | content)
        previous = seal_entry(
            previous=previous, run=run, unit=mark, number=number, uuid=uuid, kind=kind, at=at, by=by, address=where,
            content=text,
        )  # fmt: skip
        connection.execute("UPDATE entries SET content = ?, sha256 = ? WHERE id = ?", (text, previous, row_id))
        for key in INPUTS:
            if where == address and kind == "answer" and key in content:
                connection.execute(f"UPDATE entries SET {key} = ? WHERE id = ?", (content[key], row_id))
    connection.execute("UPDATE units SET last_sha256 = ? WHERE id = ?", (previous, unit_id))
    for _, sql in triggers:
        connection.execute(sql)
    connection.close()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ({"judgement": "fail"}, "judgement was recorded as fail, and comes out as pass"),
        ({"value": 7.0}, "value was recorded as 7, and comes out as"),
        ({"upper": 9.0}, "upper was recorded as 9, and comes out as"),
        ({"step_digest": "1:0123456789abcdef"}, "it was given at another step than the coils.coil that its run pinned"),
        ({"step_digest": "0123456789abcdef"}, "it was given at another step than the coils.coil that its run pinned"),
        ({"test_voltage": 250.0}, "test voltage was recorded as 250, and comes out as nothing"),
    ],
)
def test_a_forged_judgement_with_a_sound_chain_is_found(worked, content, words):
    forge(worked, 1, "coils.coil", **content)
    first = verify_workbook(worked)[0]
    assert (first.unit, first.entry) == ("TB-001", 6)
    assert first.words.startswith("Entry 6 of TB-001 (coils.coil): ")
    assert words in first.words


def test_a_judgement_by_other_rules_is_said_not_guessed(worked):
    forge(worked, 1, "coils.coil", rules_version="0")
    assert "was judged by rules 0; this program has rules 1 and cannot say" in verify_workbook(worked)[0].words


@pytest.mark.parametrize(
    ("before", "now", "same"),
    [
        (1.0, 1.0 + 1e-13, True),
        (1.0, 1.0 + 1e-11, False),
        (0.0, 0.0, True),
        (None, None, True),
        (None, 0.0, False),
        (True, 1.0, False),
        ("pass", "pass", True),
    ],
)
def test_numbers_are_compared_at_twelve_digits(before, now, same):
    assert same_at_twelve_digits(before, now) is same
