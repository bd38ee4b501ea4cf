"""How a unit stands: the values that the fold of its history gives to screens, paper and the gate."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from benchapp.sequences.language.vocabulary import FactValue, Supply

if TYPE_CHECKING:
    from benchapp.judgement.decision.decision import Decision
    from benchapp.judgement.statements.band import Band
    from benchapp.judgement.uncertainty.uncertainty import Uncertainty
    from benchapp.quantities.quantity import Reading
    from benchapp.sequences.planning.entries import Entry


class StepStatus(StrEnum):
    """How one step stands."""

    open = "open"
    done = "done"
    failed = "failed"
    stale = "stale"
    skipped = "skipped"
    shut = "shut"


class StageStatus(StrEnum):
    """How one stage stands; the board draws one sign for each."""

    not_started = "not started"
    in_progress = "in progress"
    done = "done"
    failed = "failed"
    shut = "shut"
    stale = "stale"
    skipped = "skipped"


class DueKind(StrEnum):
    """What the technician is to do next."""

    caution = "caution"
    meter = "meter"
    set_up = "set-up"
    step = "step"
    fault = "fault"
    repair = "repair"
    way_back = "way-back"
    shut = "shut"
    held = "held"
    finished = "finished"


class FaultStatus(StrEnum):
    """How far a fault has come: found, mended, shown to be mended."""

    open = "open"
    repaired = "repaired"
    closed = "closed"


@dataclass(frozen=True, slots=True, kw_only=True)
class StepState:
    """`entry` is the number of the answer it rests on; `holds` is false for an answer that counts for nothing yet."""

    address: str
    status: StepStatus
    judgement: str = ""
    entry: int | None = None
    why: str = ""
    holds: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StageState:
    """`done` of `of` steps that apply to this unit."""

    id: str
    title: str
    status: StageStatus
    done: int = 0
    of: int = 0
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One row of the interlock; `go_to` is the step or thing that would fulfil it."""

    id: str
    words: str
    holds: bool
    go_to: str | None = None
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """What is due next. `subject` names the caution, the meter function or the fault's entry number it is about."""

    kind: DueKind
    address: str = ""
    words: str = ""
    subject: str = ""
    missing: tuple[Condition, ...] = ()
    items: tuple[str, ...] = ()
    """what is confirmed one by one, where a set-up is due"""
    meters: tuple[tuple[str, str], ...] = ()
    """the meters that have the step's function, each with why it would not do here (empty: it would)"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultState:
    """A fault of this unit; `entry` is the number of the entry that recorded it."""

    entry: int
    part: str
    mode: str
    words: str
    status: FaultStatus
    address: str = ""
    grave: str = "mend"
    supply_side: bool = True
    repair: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitState:
    """The unit as its whole history leaves it at the time `at`."""

    at: str
    steps: Mapping[str, StepState]
    stages: tuple[StageState, ...]
    due: Due
    faults: tuple[FaultState, ...] = ()
    energised: bool = False
    """a live or insulation step was answered and the way back has not been gone since"""
    interlock: Mapping[Supply, tuple[Condition, ...]] = field(default_factory=dict)
    """the conditions for limited and for full supply"""
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    disposition: str = "quarantine"
    held: bool = False
    finished: bool = False
    """nothing is left to do: its disposition is settled"""
    complete: bool = False
    """every step that applies holds, no fault is open"""
    may_sell: str = ""
    """why the unit may not be offered for sale; empty when it may"""
    not_tested: tuple[str, ...] = ()
    """titles of what was not tested, for the tag"""
    readings: Mapping[str, "Entry"] = field(default_factory=dict)
    """by address: the reading that stands, good or bad (never one withdrawn)"""
    history: Mapping[str, tuple["Entry", ...]] = field(default_factory=dict)
    """by address: every answer ever given there, withdrawn ones too"""
    withdrawn: frozenset[int] = frozenset()
    meters: Mapping[str, "Entry"] = field(default_factory=dict)
    """by meter id: the entry that last took it in hand"""
    set_up: tuple[str, ...] = ()
    """the set-up in force"""
    set_up_stage: str = ""
    last_entry: int = 0
    openings: int = 0
    destroyed: bool = False
    """the mains plug is cut off and destroyed"""
    about: Any = field(default=None, repr=False, compare=False)
    """what the gate asks its questions of; no part of the value"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """An answer tried without recording it. With a `complaint` nothing else need be there."""

    complaint: str | None = None
    reading: "Reading | None" = None
    band: "Band | None" = None
    uncertainty: "Uncertainty | None" = None
    decision: "Decision | None" = None
    judgement: str = ""
    sentence: str = ""
    content: Mapping[str, Any] = field(default_factory=dict)
    questions: tuple[str, ...] = ()
    """what a careful colleague would ask before recording it"""
