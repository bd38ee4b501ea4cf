"""Whoever answers second is told who was first and when; nothing takes the place of what was not in sight."""

import pytest

from benchapp.actions.entries.answers import record_answer, withdraw_answer
from benchapp.actions.entries.faults import record_note, record_repair
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from tests.actions.driving import do_what_is_due, good_answer

OUTSIDE = "look-over.outside"


@pytest.fixture
def other(bench, lot, path, clock):
    """The same workbook in another window."""
    with Bench.open(path, clock=clock) as opened:
        yield opened


def seen_in(bench):
    return bench.state("TB-001").last_entry


def test_a_second_answer_is_refused_and_names_who_was_first(bench, other):
    seen, given = seen_in(bench), good_answer(bench, "TB-001", OUTSIDE)
    record_answer(other, "TB-001", OUTSIDE, given, by="CD")
    with pytest.raises(Refused, match=r"^CD was first here, at TB-001 on \d{4}-\d\d-\d\d at \d\d:\d\d UTC: pass\."):
        record_answer(bench, "TB-001", OUTSIDE, given, by="AB", seen=seen)
    assert [entry.by for entry in bench.entries("TB-001")] == ["CD"]


def test_an_answer_that_was_in_sight_may_be_given_again(bench, other):
    given = good_answer(bench, "TB-001", OUTSIDE)
    record_answer(other, "TB-001", OUTSIDE, given, by="CD")
    record_answer(bench, "TB-001", OUTSIDE, given, by="AB", seen=seen_in(bench))
    assert [entry.by for entry in bench.entries("TB-001")] == ["CD", "AB"]


def test_an_answer_that_was_taken_back_since_bars_nobody(bench, other):
    seen, given = seen_in(bench), good_answer(bench, "TB-001", OUTSIDE)
    record_answer(other, "TB-001", OUTSIDE, given, by="CD")
    withdraw_answer(other, "TB-001", by="CD")
    record_answer(bench, "TB-001", OUTSIDE, given, by="AB", seen=seen)
    assert bench.entries("TB-001")[-1].by == "AB"


def test_what_the_other_window_recorded_beside_it_bars_nobody(bench, other):
    seen, given = seen_in(bench), good_answer(bench, "TB-001", OUTSIDE)
    record_note(other, "TB-001", "a scratch on the left", by="CD")
    record_answer(bench, "TB-001", OUTSIDE, given, by="AB", seen=seen)
    assert bench.entries("TB-001")[-1].by == "AB"


def test_a_second_repair_and_a_second_disposition_are_told_too(bench, other):
    seen = seen_in(bench)
    record_repair(other, "TB-001", fault=None, part="case", done="lid glued", by="CD")
    with pytest.raises(Refused, match="CD was first here"):
        record_repair(bench, "TB-001", fault=None, part="case", done="lid screwed on", by="AB", seen=seen)
    do_what_is_due(other, "TB-001", by="CD")
    seen = seen_in(bench)
    set_disposition(other, "TB-001", "hold", by="CD")
    with pytest.raises(Refused, match=r"CD was first here.*: hold"):
        set_disposition(bench, "TB-001", "keep", by="AB", seen=seen)
