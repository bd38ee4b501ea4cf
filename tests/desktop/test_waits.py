"""Several clocks at once: each counts from the record, is in sight on every screen, and ends with a tone."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.waits import time_words
from tests.desktop.bench.test_pages import go_to
from tests.desktop.windows import WORKSHOP, window_on


@pytest.fixture
def waiting(every_step):
    """TB-001 waits, its plug out."""
    go_to(every_step, "wait")
    return every_step


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (16 * 3600, "16 h"),
        (130, "2 min 10 s"),
        (129.2, "2 min 10 s"),
        (3600 + 300 + 7, "1 h 5 min"),
        (59, "59 s"),
        (120, "2 min"),
        (0, "0 s"),
        (-5, "0 s"),
    ],
)
def test_times_are_said_as_people_say_them(seconds, words):
    assert time_words(seconds) == words


def test_a_unit_that_waits_is_in_sight_on_every_screen(waiting):
    line = waiting.window.waits
    for key in ("F4", "F2", "F11", "Ctrl+S"):
        waiting.strike(key)
        assert line.isVisible()
        assert list(line.shown) == ["TB-001"]
    assert line.shown["TB-001"].startswith("TB-001: ")


def test_nothing_is_shown_where_nothing_waits(every_step):
    assert not every_step.window.waits.isVisible()


def test_two_clocks_run_at_once_and_each_leads_to_its_unit(waiting):
    waiting.take_unit("TB-002")
    go_to(waiting, "wait")
    assert set(waiting.window.waits.shown) == {"TB-001", "TB-002"}
    QTest.mouseClick(waiting.window.findChild(QPushButton, "wait-TB-001"), Qt.MouseButton.LeftButton)
    waiting.settle()
    waiting.take_in_hand()
    assert (waiting.view.mark, waiting.page.name) == ("TB-001", "wait")


def test_the_next_unit_is_offered_while_a_dead_one_waits(waiting):
    page = waiting.page
    assert page.meanwhile.isVisible()
    QTest.mouseClick(page.meanwhile, Qt.MouseButton.LeftButton)
    waiting.settle()
    assert (waiting.view.mark, waiting.page.name) == ("TB-002", "change")


def test_the_end_of_a_wait_is_a_tone_and_a_word(waiting, clock, monkeypatch):
    heard = []
    monkeypatch.setattr(QApplication, "beep", lambda *_: heard.append(1))
    waiting.strike("F2")
    clock.pass_days(1)
    waiting.window.waits._paint()
    waiting.window.waits._paint()
    assert waiting.window.waits.shown["TB-001"] == "TB-001: the time is over"
    assert len(heard) == 1


def test_a_wait_that_was_recorded_is_shown_no_more(waiting, clock):
    clock.pass_days(0.5)
    waiting.strike("Enter")
    assert waiting.page.name != "wait"
    assert not waiting.window.waits.isVisible()


def test_a_clock_goes_on_in_another_window_after_this_one_was_killed(waiting, look, path, clock):
    """Nothing is written for it: the entry before the wait is where it counts from."""
    began = waiting.window.waits._waiting["TB-001"].began
    with window_on(look, Bench.open(path, clock=clock, folders=(WORKSHOP,))) as other:
        assert not other.window.waits.isVisible()
        other.window.waits.look_for_all()
        other.settle()
        assert list(other.window.waits.shown) == ["TB-001"]
        assert other.window.waits._waiting["TB-001"].began == began
