"""Keys that stand on the row they answer, a click on one of them, and clicks beside them."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from benchapp.desktop.bench.pages.checks import CAPS, MARKS
from benchapp.desktop.widgets.choices import ChoiceList, Row


@pytest.fixture
def rows(look, shown):
    view = shown(ChoiceList(look, "rows", "Rows"), 600, 300)
    view.set_rows([Row(words=words, sign=MARKS[""], caps=CAPS) for words in ("cord", "case", "cover")])
    view.struck_keys = []
    view.taken, view.picks = [], []
    view.struck.connect(lambda row, key: view.struck_keys.append((row, key)))
    view.chosen.connect(view.taken.append)
    view.picked.connect(view.picks.append)
    return view


def click_cap(view, row, number):
    room = view.visualRect(view.model().index(row, 0))
    line = view.fontMetrics().height()
    inner = room.adjusted(int(line * 0.5), int(line * 0.35), 0, 0)
    _cap, box = view._painter._cap_boxes(view.rows()[row], inner.toRectF(), float(line))[number]
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=box.center().toPoint())


def test_a_click_on_a_cap_is_its_key_on_that_row(rows):
    click_cap(rows, 1, 0)
    click_cap(rows, 2, 1)
    assert rows.struck_keys == [(1, "1"), (2, "2")]
    assert rows.taken == []


def test_a_click_beside_the_caps_strikes_no_key(rows):
    QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(500, 15))
    assert rows.struck_keys == []


def test_the_cap_that_was_struck_looks_otherwise(rows):
    before = rows.grab().toImage()
    rows.set_rows([Row(words=words, sign=MARKS["good"], caps=CAPS) for words in ("cord", "case", "cover")])
    assert rows.grab().toImage() != before
    assert rows.rows()[0].spoken() == "good, cord"


def click(view, row, kind=QTest.mouseClick):
    """Click on the words of a row, far from its caps."""
    room = view.visualRect(view.model().index(row, 0))
    kind(view.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(500, room.center().y()))


def test_the_first_click_takes_a_row_in_hand_and_the_second_picks_it(rows):
    click(rows, 1)
    assert (rows.row_at_hand(), rows.picks, rows.taken) == (1, [], [])
    click(rows, 1)
    assert (rows.picks, rows.taken) == ([1], [])


def test_a_click_on_another_row_takes_that_one_in_hand(rows):
    click(rows, 1)
    click(rows, 2)
    click(rows, 1)
    assert rows.picks == []


def test_a_double_click_picks_its_row_once(rows):
    for kind in (QTest.mouseClick, QTest.mouseDClick, QTest.mouseRelease):
        click(rows, 2, kind)
    assert rows.picks == [2]


def test_a_click_on_the_row_at_hand_only_takes_it(rows):
    """It stands there by itself: nobody has chosen it yet."""
    assert rows.row_at_hand() == 0
    click(rows, 0)
    assert rows.picks == []


def test_other_rows_are_taken_in_hand_anew(rows):
    click(rows, 1)
    rows.set_rows([Row(words=words) for words in ("plug", "lead", "knob")])
    click(rows, 1)
    assert rows.picks == []


def test_the_number_of_a_row_is_clicked_as_it_is_struck(rows):
    rows.set_rows([Row(words=words, key=str(number)) for number, words in enumerate(("plug", "lead"), 1)])
    room = rows.visualRect(rows.model().index(1, 0))
    QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=room.topLeft() + QPoint(20, 20))
    assert rows.struck_keys == [(1, "2")]


def test_the_second_press_of_a_double_click_strikes_no_cap(rows):
    room = rows.visualRect(rows.model().index(1, 0))
    for kind in (QTest.mouseClick, QTest.mouseDClick, QTest.mouseRelease):
        kind(rows.viewport(), Qt.MouseButton.LeftButton, pos=room.topLeft() + QPoint(20, 20))
    assert rows.struck_keys == [(1, "1")]
