"""What the board and the sale table show of a unit: made from its state at each entry, kept, and read back."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.entry_contents import DispositionContent
from benchapp.sequences.planning.state import StageState, StageStatus
from benchapp.words import say
from benchapp.workbook.model.values import StageRow, UnitSummary
from benchapp.workbook.opened.workbook import Workbook

if TYPE_CHECKING:
    from benchapp.lots.board import Board
    from benchapp.sequences.planning.planned import Plan


def summary_after(mark: str, after: UnitState, entries: Sequence[Entry]) -> UnitSummary:
    """What is shown of the unit after the last of the entries, all its stages with it: time may have moved some."""
    from benchapp.sequences.history.ageing import moves_at
    from benchapp.sequences.interlock.due import AT_REST
    from benchapp.sequences.interlock.fold import engine_of

    given = (entry.content for entry in reversed(entries))
    sale = next((content for content in given if isinstance(content, DispositionContent)), None)
    return UnitSummary(
        disposition=after.disposition,
        due=after.due.words,
        grade=sale.grade if sale else "",
        price=sale.price if sale else "",
        stages=stage_rows(mark, after),
        live="mains" if after.on_mains else "charge" if after.energised else "",
        moves_at="" if after.disposition in AT_REST else moves_at(engine_of(after).evaluation),
    )


def as_recorded(plan: "Plan") -> "Plan":
    """The plan for what is kept of a unit, which must follow from the record alone, not from what a program ships."""
    return replace(plan, looser="") if plan.looser else plan


def stage_rows(mark: str, state: UnitState) -> tuple[StageRow, ...]:
    """The stages of a state, as the workbook keeps them."""
    return tuple(
        StageRow(
            unit=mark,
            position=position,
            stage=stage.id,
            title=stage.title,
            status=str(stage.status),
            done=stage.done,
            of=stage.of,
            why=stage.why,
        )
        for position, stage in enumerate(state.stages)
    )


def board_of(workbook: Workbook, lot: str) -> "Board":
    """The board of a lot from what the workbook keeps, without folding; raises NotInWorkbook."""
    from benchapp.lots.board import UnitRow, lot_board

    workbook.lot(lot)
    stages: defaultdict[str, list[StageState]] = defaultdict(list)
    known: dict[tuple[object, ...], StageState] = {}  # most units of a lot stand alike
    for row in workbook.stages(lot):
        alike = (row.stage, row.title, row.status, row.done, row.of, row.why)
        state = known.get(alike) or known.setdefault(alike, _stage_state(row))
        stages[row.unit].append(state)
    return lot_board(
        [
            UnitRow(
                mark=unit.mark, disposition=unit.stands, stages=tuple(stages[unit.mark]), due=unit.asks, live=unit.live
            )
            for unit in workbook.units(lot)
        ]
    )


def _stage_state(row: StageRow) -> StageState:
    try:
        status = StageStatus(row.status)
    except ValueError as error:
        raise UnknownStage(row.unit, row.title, row.status) from error
    return StageState(id=row.stage, title=row.title, status=status, done=row.done, of=row.of, why=row.why)


class UnknownStage(BenchError):
    """The file says of a stage what no stage can be."""

    def __init__(self, unit: str, stage: str, status: str) -> None:
        super().__init__(
            say(
                "{unit}: the stage {stage!r:.60} is said to be {status!r:.60}, which no stage can be. "
                "Check the workbook with benchapp verify.",
                unit=unit,
                stage=stage,
                status=status,
            )
        )
