"""A workbook is verified from outside: what was recorded, and that every judgement comes out again."""

import os

import pytest

from benchapp.actions.audit.reverify import same_at_twelve_digits
from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import withdraw_answer
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.runs import start_run
from benchapp.errors import Cancelled
from benchapp.judgement.statements.statements import RULES_VERSION
from tests.actions.driving import do_what_is_due
from tests.forging import Forger


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


def forge(path, mark, address, *, drop=(), rules=None, **content):
    """Change the judgement at a step and make chains, columns and anchors agree, as somebody who knows how would.

    It is then verified at a computer that has never seen the workbook, and so can only go by what is in it.
    """
    forger = Forger(path)
    for answer in forger.answers(mark, address):
        kept = {key: value for key, value in answer["content"].items() if key not in drop}
        answer["content"] = kept | content
        answer["rules"] = rules or answer["rules"]
    forger.write()
    os.environ["BENCHAPP_DATA"] = str(path.with_name("another computer"))


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
    forge(worked, "TB-001", "coils.coil", **content)
    first = verify_workbook(worked)[0]
    assert (first.unit, first.entry) == ("TB-001", 6)
    assert first.words.startswith("Entry 6 of TB-001 (coils.coil): ")
    assert words in first.words


def test_a_judgement_by_other_rules_is_said_not_guessed(worked):
    forge(worked, "TB-001", "coils.coil", rules="0")
    words = f"was judged by rules 0; this program has rules {RULES_VERSION} and cannot say"
    assert words in verify_workbook(worked)[0].words


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
