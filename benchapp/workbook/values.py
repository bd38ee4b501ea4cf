"""What the workbook hands out: plain frozen values. Rows of the database never leave the package.

Times are ISO 8601 texts in UTC, money is text as it was typed, and numbers are SI floats.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """One physical item as the board and the sale table show it."""

    mark: str
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


@dataclass(frozen=True, slots=True, kw_only=True)
class StageRow:
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
    """One pass of pinned texts over one unit; `texts` maps each file's name to its SHA-256, `workshop` is JSON."""

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
class MeterProof:
    """A meter looked at when the bench was opened: proved on a known source, leads measured (ohm) or nulled."""

    meter: str
    proved: bool
    lead_resistance: float | None = None
    nulled: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchOpening:
    """The check at the start of a day and, once `closed` is not empty, at its end."""

    uuid: str
    at: str
    by: str
    meters: tuple[MeterProof, ...] = ()
    rcd_button_tested: bool = False
    note: str = ""
    closed: str = ""
    closed_by: str = ""
    closing: tuple[MeterProof, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TagPrinted:
    """That a tag was put on paper: for which unit, when, with which words and on which record."""

    unit: str
    at: str
    by: str
    disposition: str
    record_hash: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptEntry:
    """An entry as it lies in the workbook: the engine's content and what the journal added to it."""

    uuid: str
    unit: str
    number: int
    kind: str
    at: str
    by: str
    address: str
    run: str
    content: Mapping[str, Any] = field(default_factory=dict)
    sha256: str = ""


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
    """Where a workbook is not what it says it is: the unit and entry concerned, and a sentence."""

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """An entry that the gate let pass, to be recorded as the unit's entry `number`."""

    uuid: str
    unit: str
    run: str
    number: int
    kind: str
    at: str
    by: str
    address: str
    content: Mapping[str, Any]
    summary: UnitSummary
    workshop: str
    """the workshop's settings that the gate let it pass under, as the JSON in which they are kept"""
