"""The list that is worked by keys."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester

from benchapp.desktop.bench.pages.checks import MARKS
from benchapp.desktop.widgets.choices import ChoiceList, Row

LONG = "The cord grip holds the sheath and not the cores, and nothing moves when it is pulled and twisted. " * 3


@pytest.fixture
def rows(look, shown):
    made = shown(ChoiceList(look, "list", "Rows"), 500, 300)
    made.set_rows([Row(words="one", key="1"), Row(words=LONG, detail="why", sign=MARKS["good"]), Row(words="three")])
    made.setFocus()
    return made


def test_enter_chooses_the_row_at_hand(rows, qtbot):
    qtbot.keyClick(rows, Qt.Key.Key_Down)
    with qtbot.waitSignal(rows.chosen) as chosen:
        qtbot.keyClick(rows, Qt.Key.Key_Return)
    assert chosen.args == [1]


def test_other_keys_are_told_with_their_row(rows, qtbot):
    with qtbot.waitSignal(rows.struck) as struck:
        qtbot.keyClick(rows, "2")
    assert struck.args == [0, "2"]


def test_keys_with_control_are_left_to_shortcuts(rows, qtbot):
    with qtbot.assertNotEmitted(rows.struck):
        qtbot.keyClick(rows, "z", Qt.KeyboardModifier.ControlModifier)


def test_long_words_wrap_and_make_their_row_higher(rows):
    assert rows.sizeHintForRow(1) > 2 * rows.sizeHintForRow(0)


def test_a_row_is_read_aloud_with_its_sign(rows):
    assert rows.rows()[1].spoken().startswith("good, The cord grip")


def test_other_marks_keep_the_place(rows):
    rows.go_to(2)
    rows.set_rows([Row(words="one"), Row(words="two"), Row(words="three", sign=MARKS["bad"])])
    assert rows.row_at_hand() == 2


def test_qt_finds_nothing_wrong_with_the_model(rows):
    QAbstractItemModelTester(rows.model(), QAbstractItemModelTester.FailureReportingMode.Fatal)
    rows.set_rows([])
    rows.set_rows([Row(words="again")])
