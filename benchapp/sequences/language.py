"""What a trainer may write: sequences with their steps and worked cases, routes, cautions.

One model for each kind of step. Keys are written with spaces ("set up", "needs before"); the value of the key that
names the kind of a step is the step's id. Whether names, formulas and roles make sense is asked in `references`.
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, StringConstraints, Tag

from benchapp.files import FileModel, Id, kind_key
from benchapp.sequences.planned import Role, StepKind, Supply

Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=2, max_length=600)]
Grave = Literal["note", "mend", "do not use"]
Mark = Literal["good", "bad", "does not apply"]
JudgementWord = Literal["pass", "conditional pass", "conditional fail", "fail", "not judged", "not taken"]
"""what comes out of an answer; "not taken" where it would be refused, as a wait cut short"""


def _as_list(written: Any) -> Any:  # noqa: ANN401  whatever the file holds
    return [written] if isinstance(written, str | bool | int | float) else written


OneOrMore = Annotated[tuple[bool | float | str, ...], BeforeValidator(_as_list), Field(min_length=1)]
When = Mapping[str, OneOrMore]
"""facts of the unit, or earlier `ask` steps of the sequence, with the values for which the step is done"""


class NamedFault(FileModel):
    """A fault that an answer raises by itself."""

    part: str
    mode: str = ""
    words: Words


class Checkpoint(FileModel):
    """One thing to look at; "bad" raises its fault, as grave as it says."""

    check: Id
    say: Words
    fault: NamedFault | None = None
    grave: Grave = "mend"
    may_not_apply: bool = False
    """whether "does not apply" is an answer here"""
    when: When = Field(default_factory=dict)


class Answer(FileModel):
    """One answer of an `ask` step: its words, what it is worth, the fact or fault it settles."""

    answer: Words
    judgement: Literal["pass", "fail"] = "pass"
    value: str | float | bool | None = None
    """what the step's fact becomes; the answer's own words when not given"""
    fault: NamedFault | None = None
    grave: Grave = "mend"


class StepBase(FileModel):
    """What every step has: what to say, when it applies, how it is set up, what it shows."""

    say: Words
    why: str = ""
    when: When = Field(default_factory=dict)
    set_up: tuple[Words, ...] = ()
    opens: tuple[Literal["cord", "plug", "enclosure"], ...] = ()
    """what is opened to do it: dead tests that were taken before are taken again"""
    shows: tuple[Role, ...] = ()


class InspectStep(StepBase):
    """Look at each checkpoint and mark it."""

    inspect: Id
    checkpoints: tuple[Checkpoint, ...] = Field(min_length=1)


class WorkStep(StepBase):
    """Carry out actions in order and confirm each; parts used may be recorded."""

    work: Id
    do: tuple[Words, ...] = Field(min_length=1)
    parts_used: tuple[str, ...] = ()


class ProbeStep(StepBase):
    """Probe a connector as its circuit asks, pair by pair; `outputs` is every connector but the mains."""

    probe: Id
    connector: str = "outputs"
    what: tuple[Literal["earth", "continuity", "isolation", "unused", "voltage"], ...] = Field(min_length=1)
    function: str = ""


class MeasureStep(StepBase):
    """Take one reading."""

    measure: Id
    function: str
    accept: str = ""
    """left out: the reading is recorded and not judged"""
    at: tuple[str, str] | None = None
    """terminals: "connector.pin", a point of the equipment, or supply.L, supply.N, supply.E, case, outputs"""
    fresh_for: str = ""
    keep: Literal["steady", "highest", "lowest"] = "steady"
    """which of the readings taken is kept, where the cord is flexed or the supply moves"""
    waveform: Literal["", "sine", "square", "triangle"] = ""
    """the shape of what is measured, where its author knows it: an average-responding meter is put right by it"""
    stop_above: str = ""
    """off at once above this"""
    stop_words: str = ""
    fault: NamedFault | None = None
    grave: Grave = "mend"


class AskStep(StepBase):
    """Put a question; answers are given, or a value is typed where `value` says of what kind."""

    ask: Id
    answers: tuple[Answer, ...] = ()
    fact: str = ""
    value: str = ""
    """unit of the value to type: "A", "m", "mm²"; with `accept` it is judged"""
    accept: str = ""
    fault: NamedFault | None = None
    grave: Grave = "mend"


class WaitStep(StepBase):
    """Wait, at least this long."""

    wait: Id
    time: str


class ComputeStep(StepBase):
    """A value by formula over earlier readings and equipment data."""

    compute: Id
    value: str
    unit: str
    accept: str = ""
    fault: NamedFault | None = None
    grave: Grave = "mend"


class PhotoStep(StepBase):
    """Take photos for the record."""

    photo: Id
    at_least: int = Field(default=1, ge=0, le=20)


def step_kind(written: Any) -> str | None:  # noqa: ANN401  whatever the file holds
    """The model of a step, by the key that names its kind; None when there is none or more than one."""
    keys = written if isinstance(written, Mapping) else getattr(type(written), "model_fields", ())
    found = [kind.value for kind in StepKind if kind.value in keys]
    return f"{found[0].capitalize()}Step" if len(found) == 1 else None


Step = Annotated[
    Annotated[InspectStep, Tag("InspectStep")]
    | Annotated[WorkStep, Tag("WorkStep")]
    | Annotated[ProbeStep, Tag("ProbeStep")]
    | Annotated[MeasureStep, Tag("MeasureStep")]
    | Annotated[AskStep, Tag("AskStep")]
    | Annotated[WaitStep, Tag("WaitStep")]
    | Annotated[ComputeStep, Tag("ComputeStep")]
    | Annotated[PhotoStep, Tag("PhotoStep")],
    kind_key(step_kind, StepKind, of="step"),
]


class CaseLine(FileModel):
    """One answer of a worked case and the judgement that must come out."""

    step: str
    reads: str = ""
    """what the meter shows; at a wait step how long was waited, all of it when not given"""
    marks: Mapping[str, Mark] = Field(default_factory=dict)
    """checkpoints not named are good"""
    answer: str = ""
    meter: str = ""
    """the case's own meter, when not given"""
    judgement: JudgementWord


class WorkedCase(FileModel):
    """Answers in order, on one piece of equipment, with the judgements that must come out."""

    case: Words
    equipment: str
    meter: str = ""
    facts: Mapping[str, str | float | bool] = Field(default_factory=dict)
    leads: str = "0 ohm"
    """resistance of the test leads as measured; nulled when not given, "not measured" where nobody looked"""
    answers: tuple[CaseLine, ...] = Field(min_length=1)


class SequenceFile(FileModel):
    """An ordered set of steps done on one kind of supply."""

    sequence: Id
    title: Words
    say: str = ""
    supply: Supply = Supply.none
    fits: When = Field(default_factory=dict)
    needs_before: tuple[Id, ...] = ()
    cautions: tuple[Id, ...] = ()
    overdue_meters: Literal["accepted", "refused"] = "accepted"
    """whether its readings may be taken with a meter whose calibration is overdue and was knowingly accepted"""
    steps: tuple[Step, ...] = Field(min_length=1)
    worked_cases: tuple[WorkedCase, ...] = ()


class RouteFile(FileModel):
    """Sequences in order: the whole check of the designs that it names, or of all that fit and no route names."""

    route: Id
    title: Words
    equipment: tuple[Id, ...] = ()
    fits: When = Field(default_factory=dict)
    """facts of a design with the values that it suits; for designs of your own that no route names yet"""
    sequences: tuple[Id, ...] = Field(min_length=1)
    way_back: Id | None = None
    not_tested: tuple[Words, ...] = ()
    """what this route leaves untested, for the tag"""


class Caution(FileModel):
    """What can hurt, and what to do about it; read and acknowledged before the work."""

    caution: Id
    title: Words
    words: tuple[Words, ...] = Field(min_length=1)
    source: str
    status: str


def id_of(step: StepBase) -> str:
    """The step's own id, whatever its kind."""
    return str(getattr(step, kind_of(step).value))


def kind_of(step: StepBase) -> StepKind:
    """The kind of a step, from its model."""
    fields = type(step).model_fields
    return next(kind for kind in StepKind if kind.value in fields)
