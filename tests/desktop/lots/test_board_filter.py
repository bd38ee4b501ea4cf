"""Search, choice and order of the board in the window, by keys and by mouse."""

import pytest

from benchapp.actions.entries.outcome import set_disposition
from benchapp.desktop.lots.arranging import Only, Order
from tests.desktop.windows import take_in, window_on


@pytest.fixture
def before_board(look, bench):
    take_in(bench, count=12)
    with window_on(look, bench) as technician:
        technician.strike("F2")
        yield technician


def shown(technician):
    return [row.mark for row in technician.window.lots.board.board.rows]


def test_letters_struck_on_the_board_search_as_they_are_typed(before_board):
    before_board.strike("0")
    assert before_board.at_keyboard().objectName() == "board-search"
    before_board.type("1")
    assert shown(before_board) == ["TB-001", "TB-010", "TB-011", "TB-012"]
    assert before_board.reads("lot-summary").startswith("4 shown of 12 units")


def test_enter_takes_the_one_unit_that_is_left_and_the_search_is_over(before_board):
    before_board.strike("0")
    before_board.type("12")
    before_board.strike("Enter")
    assert before_board.window.bench.mark == "TB-012"
    before_board.strike("F2")
    assert len(shown(before_board)) == 12


def test_enter_with_several_left_and_the_arrow_down_lead_to_the_board(before_board):
    for key in ("Enter", "Down"):
        before_board.strike("1")
        before_board.strike(key)
        assert before_board.at_keyboard().objectName() == "board"
        assert before_board.window.lots.board.mark() == shown(before_board)[0]


def test_esc_empties_the_search_and_leads_back(before_board):
    before_board.strike("9")
    assert shown(before_board) == ["TB-009"]
    before_board.strike("Esc")
    assert len(shown(before_board)) == 12
    assert before_board.at_keyboard().objectName() == "board"


def test_the_row_at_hand_stays_while_it_is_shown(before_board):
    before_board.strike("Down", "Down")
    assert before_board.window.lots.board.mark() == "TB-003"
    before_board.strike("3")
    before_board.strike("Esc")
    assert before_board.window.lots.board.mark() == "TB-003"


def test_held_units_alone_and_what_stands_first_are_chosen_in_lists(before_board):
    lots = before_board.window.lots
    set_disposition(before_board.window.context.bench, "TB-007", disposition="hold", note="its papers", by="AB")
    lots.refresh()
    lots.filter.order.setCurrentIndex(list(Order).index(Order.stands))
    assert shown(before_board)[0] == "TB-007"
    lots.filter.only.setCurrentIndex(list(Only).index(Only.danger))
    assert shown(before_board) == ["TB-007"]


def test_a_click_on_a_head_that_is_no_stage_sorts(before_board):
    lots = before_board.window.lots
    lots.board.heads.sectionClicked.emit(lots.board.board.columnCount() - 1)
    assert lots.filter.arranging().order is Order.due
    lots.board.heads.sectionClicked.emit(0)
    assert lots.filter.arranging().order is Order.mark
    assert not before_board.window.bench.mark
