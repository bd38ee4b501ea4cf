"""The board: a sign with its word in every cell, whatever the units are."""

from benchapp.lots.board import SIGN_OF, Sign, UnitRow, lot_board
from benchapp.sequences.planning.state import StageState, StageStatus
from tests.sequences.bench import Unit, plan_of


def row(unit: Unit, mark: str) -> UnitRow:
    state = unit.state
    return UnitRow(mark=mark, disposition=state.disposition, stages=state.stages, due=state.due.words)


def test_units_down_and_stages_across():
    fresh, done = Unit(plan_of()), Unit(plan_of())
    done.finish()
    board = lot_board([row(fresh, "TB-001"), row(done, "TB-002")])
    assert [title for _, title in board.columns][:2] == ["Visual inspection", "Mains plug"]
    assert [one.mark for one in board.rows] == ["TB-001", "TB-002"]
    assert {cell.sign for cell in board.rows[1].cells} == {Sign.tick}
    assert board.rows[0].cells[0].word == "not started"
    assert board.rows[0].cells[4].sign is Sign.bar


def test_every_status_has_a_sign_of_its_own():
    assert set(SIGN_OF) == set(StageStatus)
    assert len(set(SIGN_OF.values())) == len(SIGN_OF)


def test_units_of_different_routes_share_one_board():
    unit, speaker = Unit(plan_of()), Unit(plan_of("loudspeaker", "tb-ls1"))
    board = lot_board([row(unit, "TB-001"), row(speaker, "TB-002")])
    assert len(board.columns) == 8
    assert all(len(one.cells) == 8 for one in board.rows)
    assert "not in this route" in {cell.word for cell in board.rows[1].cells}


def test_cell_says_how_much_is_done_and_why_not():
    stage = StageState(id="a", title="A", status=StageStatus.failed, done=2, of=5, why="open joint")
    cell = lot_board([UnitRow(mark="TB-1", disposition="hold", stages=(stage,))]).rows[0].cells[0]
    assert (cell.sign, cell.word, cell.done, cell.of, cell.why) == (Sign.cross, "failed", 2, 5, "open joint")


def test_empty_lot_has_an_empty_board():
    assert lot_board([]).columns == ()
