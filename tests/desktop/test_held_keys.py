"""Held keys, stray scans and an Enter too many: none of them takes an answer in a real window."""

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest

from tests.desktop.bench.test_pages import go_to, last

K = Qt.Key


def repeat(technician, key, text="", times=12):
    """What a held key sends after its first stroke, to whatever has the keyboard by then."""
    for _ in range(times):
        target = technician.at_keyboard()
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, text, True)
            QCoreApplication.sendEvent(target, event)
        technician.settle()


def hold(technician, key, text="", times=12):
    """Press a key, keep it down across all that follows from it, and let it go."""
    QTest.keyPress(technician.at_keyboard(), key)
    technician.settle()
    repeat(technician, key, text, times)
    QTest.keyRelease(technician.at_keyboard(), key)
    technician.settle()


def count(technician):
    return len(technician.window.context.bench.entries(technician.view.mark))


@pytest.mark.parametrize("page", ["caution", "inspect", "work", "set-up", "ask", "wait", "meter", "reading", "compute"])
@pytest.mark.parametrize(("key", "text"), [(K.Key_Return, "\r"), (K.Key_1, "1"), (K.Key_Space, " "), (K.Key_Y, "y")])
def test_a_held_key_records_one_entry_at_most(every_step, page, key, text):
    go_to(every_step, page)
    before = count(every_step)
    hold(every_step, key, text)
    assert count(every_step) <= before + 1


def test_a_held_key_marks_one_checkpoint(every_step):
    go_to(every_step, "inspect")
    hold(every_step, K.Key_1, "1")
    assert len(every_step.page.marks) == 1


def test_a_key_held_across_a_page_turn_gives_nothing_to_the_next_page(every_step):
    """Backspace may repeat, but not into a field that was not there when it went down."""
    go_to(every_step, "reading")
    every_step.type("4856")
    QTest.keyPress(every_step.at_keyboard(), K.Key_Backspace)
    repeat(every_step, K.Key_Backspace, times=1)
    assert every_step.page.field.text() == "48"
    every_step.window.keyboard.held_keys.turn_page()
    repeat(every_step, K.Key_Backspace, times=5)
    assert every_step.page.field.text() == "48"
    QTest.keyRelease(every_step.at_keyboard(), K.Key_Backspace)
    every_step.strike("Backspace")
    assert every_step.page.field.text() == "4"


def test_a_repeat_that_is_told_as_let_go_and_struck_at_one_time_gives_nothing(every_step):
    """As an X server sends it, where Qt did not see that the two belong together."""
    go_to(every_step, "work")
    target = every_step.at_keyboard()
    at = 5000
    for kind, later in ((QEvent.Type.KeyPress, 0), *((QEvent.Type.KeyRelease, 30), (QEvent.Type.KeyPress, 0)) * 8):
        at += later
        event = QKeyEvent(kind, K.Key_Return, Qt.KeyboardModifier.NoModifier, "\r")
        event.setTimestamp(at)
        QCoreApplication.sendEvent(target, event)
    every_step.settle()
    assert len(every_step.page.marks) == 1


def test_a_scanner_that_strikes_one_digit_twice_in_three_milliseconds_is_read_whole(every_step):
    go_to(every_step, "work")
    read = []
    every_step.window.keyboard.bursts.gate.burst.connect(lambda text, _at: read.append(text))
    at = 5000
    for letter in "TB-009":
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            at += 3
            event = QKeyEvent(kind, ord(letter), Qt.KeyboardModifier.NoModifier, letter)
            event.setTimestamp(at)
            QCoreApplication.sendEvent(every_step.at_keyboard(), event)
    every_step.settle()
    assert read == ["TB-009"]


def test_arrows_may_repeat(every_step):
    go_to(every_step, "inspect")
    repeat(every_step, K.Key_Down, times=1)
    assert every_step.page.list.row_at_hand() == 1


def test_enter_takes_no_answer_that_was_not_chosen(every_step):
    go_to(every_step, "ask")
    before = count(every_step)
    every_step.strike("Enter")
    assert count(every_step) == before
    assert "Nothing is chosen" in every_step.complaint
    every_step.strike("Down", "Enter")
    assert last(every_step).content.answer == "nothing"


@pytest.mark.parametrize("page", ["ask", "inspect", "meter", "caution"])
@pytest.mark.parametrize("code", ["5012345678900\r", "y1\r", "TB-009 1A2B3C4D\r"])
def test_a_stray_scan_takes_nothing(every_step, page, code):
    go_to(every_step, page)
    before = count(every_step)
    QTest.keyClicks(every_step.at_keyboard(), code)
    QTest.keyClick(every_step.at_keyboard(), K.Key_Return)
    every_step.settle()
    assert count(every_step) == before
    assert every_step.page.name == page
    assert "as a scanner types" in every_step.complaint


def test_a_scan_into_a_reading_is_no_reading(every_step):
    go_to(every_step, "reading")
    before = count(every_step)
    every_step.type("5012345678900")
    every_step.strike("Enter")
    assert count(every_step) == before
    assert every_step.page.field.text() == ""
    assert "it is no unit's tag" in every_step.complaint


@pytest.mark.parametrize("page", ["ask", "reading", "inspect"])
def test_the_tag_of_another_unit_puts_it_on_the_bench(every_step, page):
    go_to(every_step, page)
    QTest.keyClicks(every_step.at_keyboard(), "TB-002 1A2B3C4D")
    QTest.keyClick(every_step.at_keyboard(), K.Key_Return)
    every_step.settle()
    assert every_step.view.mark == "TB-002"


def strike_at(technician, key, text, at):
    """Strike a key at that time of the window system, in milliseconds."""
    target = technician.at_keyboard()
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, text)
        event.setTimestamp(at)
        at += 20
        QCoreApplication.sendEvent(target, event)
    technician.settle()


def turn_by_1(technician):
    """Mark an inspection to its end with the key 1, which turns the page to work; when the last one was struck."""
    go_to(technician, "inspect")
    for at, _name in enumerate(technician.page.names):
        strike_at(technician, K.Key_1, "1", 9000 + 500 * at)
    assert technician.page.name == "work"
    return 9000 + 500 * at


def test_a_double_strike_of_the_key_that_turned_the_page_ticks_nothing_on_the_next(every_step):
    """On a live page it would say that the plug is out."""
    turned = turn_by_1(every_step)
    strike_at(every_step, K.Key_1, "1", turned + 250)
    assert every_step.page.marks == {}
    strike_at(every_step, K.Key_1, "1", turned + 900)
    assert len(every_step.page.marks) == 1


def test_the_key_that_turned_the_page_counts_again_once_another_was_struck(every_step):
    """A fast hand is on the new page by then: its key would be lost without a word."""
    turned = turn_by_1(every_step)
    strike_at(every_step, K.Key_Down, "", turned + 150)
    strike_at(every_step, K.Key_1, "1", turned + 300)
    assert len(every_step.page.marks) == 1
