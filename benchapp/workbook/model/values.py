"""What the workbook hands out: plain frozen values. Rows of the database never leave the package.

Times are ISO 8601 texts in UTC, money is text as it was typed, and numbers are SI floats.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.sequences.planning.entries import Citation


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """Units taken in together; `units` is how many there are."""

    name: str
    equipment: str
    route: str
    title: str
    taken_in: str
    by: str
    note: str = ""
    units: int = 0
    uuid: str = ""


class Unit(NamedTuple):
    """One physical item as the board and the sale table show it.

    `mark` is the name it is called by, no other unit has the same; it is the shelf mark unless two units bear that.
    """

    mark: str
    uuid: str
    shelf_mark: str
    lot: str
    equipment: str
    route: str
    title: str
    disposition: str
    grade: str = ""
    price: str = ""
    due: str = ""
    last_entry: int = 0
    last_at: str = ""
    record_hash: str = ""
    """SHA-256 of the last link of its chain of entries"""
    held: str = ""
    """why it is on hold whatever its entries say; empty when it is not"""
    lent_to: str = ""
    """the bench that it is lent to; empty where every bench may record on it"""
    shown_at: str = ""
    """the time as at which disposition, grade, price, due and stages stand"""
    moves_at: str = ""
    """when time alone may next change these; empty for never"""
    live: str = ""
    """"mains" where it may be under power, "charge" where only charge may be left; empty where it is dead"""

    checked: int = 0
    """1 where every stage of its route is done or does not apply, else 0"""

    @property
    def shows(self) -> str:
        """What it stands as in a table: "checked" where all is done and nobody has said yet what becomes of it."""
        return "checked" if self.checked and self.stands == "quarantine" else self.stands

    @property
    def stands(self) -> str:
        """What to take it for: its disposition, or "hold" where it is on hold whatever its entries say."""
        return "hold" if self.held else self.disposition

    @property
    def asks(self) -> str:
        """What is due, or why it is on hold whatever its entries say."""
        return self.held or self.due


class StageRow(NamedTuple):
    """How far one unit is in one stage, as it stood after the unit's latest entry."""

    unit: str
    position: int
    stage: str
    title: str
    status: str
    done: int
    of: int
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One pass of pinned texts over one unit; `texts` maps each file's name to its SHA-256, `workshop` is the settings
    that it began with, as JSON."""

    uuid: str
    unit: str
    number: int
    started: str
    by: str
    route: str
    equipment: str
    workshop: str
    texts: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchIdentity:
    """Which bench this is: the UUID of its chain, and what the workshop calls it."""

    uuid: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchOpening:
    """The check at the start of a day at one bench and, once `closed` is not empty, at its end.

    `number` is the opening's in its bench's chain.
    """

    number: int
    at: str
    by: str
    meters: tuple[MeterProof, ...] = ()
    rcd_button_tested: bool = False
    rcd_rating: float | None = None
    rcd_reset: bool = False
    source: str = ""
    room: str = ""
    note: str = ""
    closed: str = ""
    closed_by: str = ""
    closing: tuple[MeterProof, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Grounds:
    """What an entry made here and now rests on: the workshop's settings (JSON) and this bench's last day, cited too."""

    settings: str
    cites: tuple[Citation, ...]
    day: BenchOpening | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TagPrinted:
    """That a tag was put on paper: for which unit, when, with which words and on which record."""

    unit: str
    """its shelf mark"""
    at: str
    by: str
    disposition: str
    record_hash: str


class SiblingRow(NamedTuple):
    """A unit's reading at a step, and the mains voltage that it was judged by; both in SI."""

    mark: str
    number: int
    value: float
    mains: float | None


class JudgedRow(NamedTuple):
    """A stored reading with what its judgement rests on, from columns.

    `dominant` and `others` are the shape of an uncertainty that one rectangular source outweighs, `over` is where the
    range of a reading over it ends; all in SI.
    """

    unit: str
    number: int
    address: str
    value: float | None
    bound: str
    standard_uncertainty: float | None
    judgement: str
    dominant: float | None = None
    others: float | None = None
    over: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Where a workbook is not what it says it is: the unit and entry concerned, and a sentence.

    `unit` is empty where it concerns the whole file, a bench's chain or the workshop's.
    """

    unit: str
    entry: int | None
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitSummary:
    """What the board and the sale table show of a unit once the entry is recorded."""

    disposition: str
    due: str
    grade: str = ""
    price: str = ""
    stages: tuple[StageRow, ...] = ()
    moves_at: str = ""
    """when time alone may next change it; empty for never"""
    live: str = ""
    """"mains", "charge" or empty, as of a unit"""
