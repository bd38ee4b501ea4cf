"""What is typed while an answer is recorded, or a page loads, neither lands on the next page nor goes unsaid."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.desktop.walks import AT_EARTH, AT_PINS

EARTH = "continuity.earth"
FIRST, SECOND = "continuity.outputs/outlet.1-outlet.2", "continuity.outputs/outlet.1-outlet.3"


@pytest.fixture
def at_first(walked_to):
    return walked_to(AT_PINS)


def answers(technician):
    return [entry for entry in technician.window.context.bench.entries("TB-001") if entry.kind == "answer"]


def test_what_is_typed_while_an_answer_is_recorded_is_said_and_not_taken(at_first):
    at_first.type("1.3")
    field = at_first.at_keyboard()
    QTest.keyClick(field, Qt.Key.Key_Return)
    QTest.keyClicks(field, "12")
    at_first.settle()
    assert (at_first.address, at_first.page.field.text()) == (SECOND, "")
    assert answers(at_first)[-1].content.typed == "1.3"
    assert at_first.complaint.startswith("“12” was typed before this page was in sight.")
    at_first.type("13")
    assert at_first.page.field.text() == "13"


def test_what_arrives_before_a_page_is_in_sight_is_no_answer_to_it(at_first):
    bench = at_first.window.bench
    bench.turned.connect(lambda _name: QTest.keyClicks(bench.page.field, "14"))
    at_first.type("1.3")
    at_first.strike("Enter")
    assert (at_first.address, at_first.page.field.text()) == (SECOND, "")
    assert "“14”" in at_first.complaint


def test_a_second_enter_records_nothing_and_is_not_worth_a_word(at_first):
    at_first.type("1.3")
    field = at_first.at_keyboard()
    before = len(answers(at_first))
    QTest.keyClick(field, Qt.Key.Key_Return)
    QTest.keyClick(field, Qt.Key.Key_Return)
    at_first.settle()
    assert len(answers(at_first)) == before + 1
    assert at_first.complaint == ""


def test_what_is_typed_while_an_answer_is_refused_is_not_added_to_it(walked_to):
    technician = walked_to(AT_EARTH)
    technician.type("2 ohm")
    technician.strike("Enter")
    technician.window.bench.navigation.follow(EARTH)
    technician.settle()
    technician.type("0.1")
    field = technician.at_keyboard()
    QTest.keyClick(field, Qt.Key.Key_Return)
    QTest.keyClicks(field, "5")
    technician.settle()
    assert technician.page.field.text() == "0.1"
    assert "Say why it is read again" in technician.complaint
    assert "“5” was typed before" in technician.complaint
    technician.type("2")
    assert technician.page.field.text() == "0.12"
