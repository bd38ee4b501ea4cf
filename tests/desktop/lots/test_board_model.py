"""The board as a table of Qt."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester

from benchapp.desktop.lots.board_model import BoardModel
from benchapp.desktop.widgets.cells import SIGN_ROLE
from benchapp.lots.board import UnitRow, lot_board
from benchapp.sequences.planning.state import StageState, StageStatus


def board(count=3, status=StageStatus.in_progress):
    stage = StageState(id="plug", title="Plug rewire", status=status, done=2, of=5, why="begun")
    return lot_board(
        [UnitRow(mark=f"TB-{n:03}", disposition="quarantine", stages=(stage,), due="cord") for n in range(1, count + 1)]
    )


@pytest.fixture
def model(qapp):
    made = BoardModel()
    made.set_board(board())
    return made


def test_qt_finds_nothing_wrong_with_the_model(model):
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.set_board(board(5))
    model.set_board(None)


def test_units_stand_down_and_stages_across(model):
    heads = [model.headerData(column, Qt.Orientation.Horizontal) for column in range(model.columnCount())]
    assert heads == ["Unit", "Now", "Plug rewire", "Due"]
    assert [model.index(row, 0).data() for row in range(model.rowCount())] == ["TB-001", "TB-002", "TB-003"]


def test_a_stage_that_is_begun_says_how_far(model):
    assert model.index(0, 2).data() == "begun 2/5"


def test_every_cell_of_a_stage_has_sign_and_word(model):
    assert model.index(0, 2).data(SIGN_ROLE).word == "begun"
    assert model.index(0, 1).data() == "not tested"


def test_the_same_units_keep_the_place_in_the_table(model, qtbot):
    with qtbot.assertNotEmitted(model.modelReset):
        model.set_board(board(status=StageStatus.done))
    assert model.index(0, 2).data() == "done"


def test_a_unit_of_which_all_is_done_is_to_be_settled_and_no_more_said_to_be_untested(model):
    model.set_board(board(status=StageStatus.done))
    assert {model.index(row, 1).data() for row in range(3)} == {"to be settled"}
    model.set_board(board(status=StageStatus.stale))
    assert {model.index(row, 1).data() for row in range(3)} == {"not tested"}


def test_a_unit_without_stages_counts_as_untested(model):
    model.set_board(lot_board([UnitRow(mark="TB-001", disposition="quarantine", stages=(), due="lost")]))
    assert model.index(0, 1).data() == "not tested"
