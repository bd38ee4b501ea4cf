"""The board of a lot: units down, stages across, one sign with its word in each cell."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from benchapp.sequences.planning.state import StageState, StageStatus


class Sign(StrEnum):
    """A shape for each status of a stage, so that nothing rests on colour alone; drawn by screen and paper."""

    ring = "ring"
    half = "half"
    tick = "tick"
    cross = "cross"
    bar = "bar"
    turn = "turn"
    dash = "dash"


SIGN_OF: Mapping[StageStatus, Sign] = {
    StageStatus.not_started: Sign.ring,
    StageStatus.in_progress: Sign.half,
    StageStatus.done: Sign.tick,
    StageStatus.failed: Sign.cross,
    StageStatus.shut: Sign.bar,
    StageStatus.stale: Sign.turn,
    StageStatus.skipped: Sign.dash,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitRow:
    """What the board needs of one unit."""

    mark: str
    disposition: str
    stages: tuple[StageState, ...]
    due: str = ""
    live: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One unit at one stage: the sign, its word, and how much of the stage is done."""

    stage: str
    sign: Sign
    word: str
    done: int = 0
    of: int = 0
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardRow:
    """One unit across its stages."""

    mark: str
    disposition: str
    cells: tuple[Cell, ...]
    due: str = ""
    live: str = ""
    """"mains" or "charge" where it may hurt; empty where it is dead"""

    def waits_at(self, stage: str) -> bool:
        """Whether something is to be done on it at that stage; at any, where `stage` is empty."""
        return any(cell.word in _WAITING for cell in self.cells if stage in ("", cell.stage))

    def is_shut_at(self, stage: str) -> bool:
        """Whether that stage stays shut until something else is settled."""
        return any(cell.word == str(StageStatus.shut) for cell in self.cells if cell.stage == stage)

    @property
    def checked(self) -> bool:
        """Whether every stage of its route is done or does not apply."""
        return bool(self.cells) and all(cell.word in _OVER for cell in self.cells)

    @property
    def left_out(self) -> str:
        """Why nobody is sent to it by "next unit" or a sweep: it may hurt, or is settled; empty where it is offered."""
        return self.live or ("" if self.disposition == "quarantine" else self.disposition)

    @property
    def shows(self) -> str:
        """What it stands as: "checked" where all is done and nobody has said yet what becomes of it."""
        return self.live or ("checked" if self.checked and self.disposition == "quarantine" else self.disposition)


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """The lot: `columns` are (stage id, title), in the order of the route."""

    columns: tuple[tuple[str, str], ...]
    rows: tuple[BoardRow, ...]


EMPTY = Cell(stage="", sign=Sign.dash, word="not in this route")
_WAITING = (str(StageStatus.not_started), str(StageStatus.in_progress), str(StageStatus.stale))
_OVER = (str(StageStatus.done), str(StageStatus.skipped), EMPTY.word)


def lot_board(units: Sequence[UnitRow]) -> Board:
    """The board of these units; a column for every stage that any of them has."""
    columns: dict[str, str] = {}
    drawn: dict[int, Cell] = {}
    for unit in units:
        for stage in unit.stages:
            columns.setdefault(stage.id, stage.title)
    return Board(columns=tuple(columns.items()), rows=tuple(_row(unit, tuple(columns), drawn) for unit in units))


def _row(unit: UnitRow, columns: tuple[str, ...], drawn: dict[int, Cell]) -> BoardRow:
    """One unit's row; `drawn` keeps the cell of a state that several units share."""
    cells = {stage.id: drawn.get(id(stage)) or drawn.setdefault(id(stage), _cell(stage)) for stage in unit.stages}
    return BoardRow(
        mark=unit.mark,
        disposition=unit.disposition,
        cells=tuple(cells.get(column, EMPTY) for column in columns),
        due=unit.due,
        live=unit.live,
    )


def _cell(stage: StageState) -> Cell:
    return Cell(
        stage=stage.id, sign=SIGN_OF[stage.status], word=str(stage.status), done=stage.done, of=stage.of, why=stage.why
    )
