"""An answer given before its time waits in sight: taken back or changed meanwhile, it is not recorded."""

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest


@pytest.fixture
def waiting(every_step, clock, qtbot):
    """All checkpoints marked by hands that are too quick: the answer waits."""
    assert every_step.page.name == "caution"
    clock.step = timedelta(milliseconds=1)
    every_step.strike("y")
    assert every_step.page.name == "inspect"
    for _ in every_step.page.names[1:]:
        every_step.strike("1")
    QTest.keyClick(every_step.at_keyboard(), Qt.Key.Key_1)
    qtbot.waitUntil(lambda: every_step.window.holds_answer)
    yield every_step
    clock.step = timedelta(seconds=5)


def entries(technician):
    return len(technician.window.context.bench.entries("TB-001"))


def test_taking_back_takes_the_answer_that_waits_and_none_that_is_recorded(waiting):
    before, marks = entries(waiting), dict(waiting.page.marks)
    QTest.keyClick(waiting.at_keyboard(), Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    waiting.settle()
    assert not waiting.window.holds_answer
    assert entries(waiting) == before
    assert waiting.page.name == "inspect"
    assert waiting.page.marks == marks
    assert waiting.reads("complaint") == "Taken back before it was recorded. What was recorded before it stands."


def test_an_answer_that_is_changed_while_it_waits_is_not_recorded_as_it_was(waiting, qtbot):
    before = entries(waiting)
    QTest.keyClick(waiting.at_keyboard(), Qt.Key.Key_2)
    qtbot.waitUntil(lambda: not waiting.window.holds_answer)
    waiting.settle()
    assert entries(waiting) == before
    assert "bad" in waiting.page.marks.values()
    assert waiting.reads("complaint").startswith("It was changed before its time was over")
