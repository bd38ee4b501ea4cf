"""Keys that stand on the row they answer, and a click on one of them."""

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
    view.taken = []
    view.struck.connect(lambda row, key: view.struck_keys.append((row, key)))
    view.chosen.connect(view.taken.append)
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
