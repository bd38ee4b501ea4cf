"""The record of the unit on screen."""

import pytest

from tests.desktop.walks import Place


@pytest.fixture
def worked(walked_to):
    technician = walked_to(Place(at="continuity.fuse-out"))
    technician.strike("Ctrl+L")
    return technician


def rows(technician):
    return technician.page.list.rows()


def row_of(technician, words):
    return next(number for number, row in enumerate(rows(technician)) if words in row.words)


def test_every_answer_stands_in_the_record_with_its_judgement(worked):
    assert worked.page.name == "record"
    earth = rows(worked)[row_of(worked, "Earth continuity")]
    assert earth.sign.word == "pass"
    assert "at most 0.1468 ohm" in earth.detail
    assert "AB" in earth.detail


def test_enter_opens_and_closes_why_a_reading_was_judged_so(worked):
    number = row_of(worked, "Earth continuity")
    closed = rows(worked)[number].detail
    worked.page.list.go_to(number)
    worked.strike("Enter")
    assert "IEC 60228" in rows(worked)[number].detail
    assert "accuracy ±(" in rows(worked)[number].detail
    assert "k = 2.00" in rows(worked)[number].detail
    worked.strike("Enter")
    assert rows(worked)[number].detail == closed


def test_a_withdrawn_answer_stays_and_says_so(worked):
    worked.strike("Esc", "Ctrl+Z", "Enter", "Ctrl+L")
    assert "WITHDRAWN" in rows(worked)[row_of(worked, "Earth continuity")].detail


def test_escape_goes_back_to_what_was_due(worked):
    worked.strike("Esc")
    assert worked.address == "continuity.fuse-out"
