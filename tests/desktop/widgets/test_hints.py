"""The keys at the foot of a screen: all of them in sight at any width, read aloud, clicked where a key would act."""

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtTest import QTest

from benchapp.desktop.widgets.hints import Hint, KeyHints, hint

NAMES = ("Enter", "Up", "Ctrl+Shift+D", "F4", "Esc", "Ctrl+P")


def click_hint(foot, key):
    QTest.mouseClick(foot, Qt.MouseButton.LeftButton, pos=foot.place_of(key).center())


@pytest.fixture
def hints():
    return [Hint(key=key, words=f"does what number {number} says") for number, key in enumerate(NAMES)]


def boxes(foot, width):
    return [one.cap.united(one.words) for one in foot._places(width)]


@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize("width", [300, 640, 1024, 1366])
def test_every_key_stands_whole_within_the_width_and_covers_no_other(look, shown, hints, percent, width):
    look.set_percent(percent)
    foot = shown(KeyHints(look), width, 400)
    foot.show_hints(hints)
    drawn = boxes(foot, width)
    room = QRect(0, 0, width, foot.heightForWidth(width))
    assert len(drawn) == len(hints)
    assert all(room.contains(box) for box in drawn)
    assert not any(one.intersects(other) for one in drawn for other in drawn if one is not other)


def test_a_key_that_stands_on_its_control_is_not_said_again_at_the_foot(look, hints):
    foot = KeyHints(look)
    placed = Hint(key="1", words="good", placed=True)
    foot.show_hints([placed, *hints])
    assert foot.hints() == (placed, *hints)
    assert len(boxes(foot, 800)) == len(hints)
    assert foot.accessibleDescription().startswith("Enter: does what number 0 says; Up: ")


def test_at_another_text_size_the_lines_have_other_heights(look, shown, hints):
    foot = shown(KeyHints(look), 400, 400)
    foot.show_hints(hints)
    usual = foot.heightForWidth(400)
    look.set_percent(200)
    assert foot.heightForWidth(400) > 1.5 * usual


def test_a_click_does_nothing_where_the_hints_are_answers(look, shown):
    foot = shown(KeyHints(look), 600, 60)
    foot.show_hints([hint("opening")])
    assert foot._way_at(foot.place_of("opening").center()) == ""
