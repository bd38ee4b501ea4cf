"""How a unit stands: the values that the fold of its history gives to screens, paper and the gate."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement.decision.decision import Decision
    from benchapp.judgement.statements.band import Band
    from benchapp.judgement.uncertainty.uncertainty import Uncertainty
    from benchapp.quantities.quantity import Reading
    from benchapp.sequences.planning.answer_content import AnswerContent


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
    accepts: str = ""
    """what a supervisor may accept of this unit to fulfil it; empty where nobody may"""


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
    severity: str = "mend"
    repair: int | None = None
    hazard: bool = False
    """smoke, smell, hum or heat, or it drew too much"""
    false_alarm: int | None = None
    """the entry that says that smoke, smell, hum or heat was none"""
    old_hazard: str = ""
    """id of the hazard of old equipment that it is"""
    cleared: int | None = None
    """the entry by which a supervisor cleared that hazard"""
    taken_back: bool = False
    """whether its answer was taken back: a danger stays open until somebody has looked again"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evaluation:
    """An answer tried without recording it. With a `complaint` nothing else need be there; without one, a `content`."""

    complaint: str | None = None
    reading: "Reading | None" = None
    band: "Band | None" = None
    uncertainty: "Uncertainty | None" = None
    decision: "Decision | None" = None
    judgement: str = ""
    sentence: str = ""
    content: "AnswerContent | None" = None
    questions: tuple[str, ...] = ()
    """what a careful colleague would ask before recording it"""
