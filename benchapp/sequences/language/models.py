"""What a trainer may write: sequences with their steps and worked cases, routes, cautions.

One model for each kind of step. Keys are written with spaces ("set up", "needs before"); the value of the key that
names the kind of a step is the step's id. Whether names, formulas and roles make sense is asked in `references`.
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, Tag

from benchapp.files.forms import Id
from benchapp.files.kinds import kind_key
from benchapp.files.models import FileModel
from benchapp.sequences.language.field_types import FunctionName, Grave, When, Words
from benchapp.sequences.language.vocabulary import Role, StepKind, Supply
from benchapp.sequences.language.worked_cases import WorkedCase


class NamedFault(FileModel):
    """A fault that an answer raises by itself."""

    part: str
    """the part that is at fault: one of the circuit's, or one that every item may have, such as plug or enclosure"""
    mode: str = ""
    """how: open, shorted, high resistance, loose ..."""
    words: Words
    """the fault in a sentence, for screen and record"""


class Checkpoint(FileModel):
    """One thing to look at; "bad" raises its fault, as grave as it says."""

    check: Id
    """the checkpoint's own id"""
    say: Words
    """what is so when it is good, in a sentence"""
    fault: NamedFault | None = None
    """what "bad" says is broken"""
    grave: Grave = "mend"
    """what "bad" asks for"""
    may_not_apply: bool = False
    """whether "does not apply" is an answer here"""
    when: When = Field(default_factory=dict)
    """facts of the unit for which it is looked at"""


class AnswerOption(FileModel):
    """One answer of an `ask` step: its words, what it is worth, the fact or fault it settles."""

    answer: Words
    """the answer in the words of whoever gives it"""
    judgement: Literal["pass", "fail"] = "pass"
    """what the answer is worth"""
    value: str | float | bool | None = None
    """what the step's fact becomes; the answer's own words when not given"""
    fault: NamedFault | None = None
    """what this answer says is broken"""
    grave: Grave = "mend"
    """what the fault asks for"""


class StepBase(FileModel):
    """What every step has: what to say, when it applies, how it is set up, what it shows."""

    say: Words
    """what to do, in a sentence or two"""
    why: str = ""
    """why it is done, for whoever wants to know"""
    when: When = Field(default_factory=dict)
    """facts of the unit, or answers of earlier ask steps, for which the step is done"""
    set_up: tuple[Words, ...] = ()
    """how the item is set up: switch on, fuse out, L and N joined, selector at 240 V, load of ..., see that ..."""
    opens: tuple[Literal["cord", "plug", "enclosure"], ...] = ()
    """what is opened to do it: dead tests that were taken before are taken again"""
    shows: tuple[Role, ...] = ()
    """what it proves towards power, where it is fit to"""


class InspectStep(StepBase):
    """Look at each checkpoint and mark it."""

    inspect: Id
    """the step's own id"""
    checkpoints: tuple[Checkpoint, ...] = Field(min_length=1)
    """what is looked at, in order"""


class WorkStep(StepBase):
    """Carry out actions in order and confirm each; parts used may be recorded."""

    work: Id
    """the step's own id"""
    do: tuple[Words, ...] = Field(min_length=1)
    """the actions in order, each confirmed"""
    parts_used: tuple[str, ...] = ()
    """parts that may be used up, for the record and the kit list"""


class ProbeStep(StepBase):
    """Probe a connector as its circuit asks, pair by pair; `outputs` is every connector but the mains."""

    probe: Id
    """the step's own id"""
    connector: str = "outputs"
    """the connector by its name in the equipment, or outputs: all that are not the mains"""
    what: tuple[Literal["earth", "continuity", "isolation", "unused", "voltage", "lead"], ...] = Field(min_length=1)
    """which probes are taken; the circuit gives their pairs, order and bands; lead: one that comes off, by itself"""
    function: str = ""
    """the meter's function, where it is not the usual one"""


class MeasureStep(StepBase):
    """Take one reading."""

    measure: Id
    """the step's own id"""
    function: FunctionName
    """what the meter is set to"""
    accept: str = ""
    """9.8 V ± 5 %, at most 0.1 ohm, between 216 V and 253 V, limit insulation, from wiring; left out: not judged"""
    at: tuple[str, str] | None = None
    """terminals: "connector.pin", a point of the equipment, or supply.L, supply.N, supply.E, case, outputs"""
    fresh_for: str = ""
    """how long a mains reading serves the output readings after it: 10 min"""
    keep: Literal["steady", "highest", "lowest"] = "steady"
    """which of the readings taken is kept, where the cord is flexed or the supply moves"""
    waveform: Literal["", "sine", "square", "triangle"] = ""
    """the shape of what is measured, where its author knows it: an average-responding meter is put right by it"""
    stop_above: str = ""
    """off at once above this"""
    stop_words: str = ""
    """what to do then, in a sentence"""
    fault: NamedFault | None = None
    """what a reading outside the band says is broken"""
    grave: Grave = "mend"
    """what the fault asks for"""


class AskStep(StepBase):
    """Put a question; answers are given, or a value is typed where `value` says of what kind."""

    ask: Id
    """the step's own id"""
    answers: tuple[AnswerOption, ...] = ()
    """what can be answered"""
    fact: str = ""
    """the fact of the unit that the answer settles"""
    value: str = ""
    """unit of the value to type: "A", "m", "mm²"; with `accept` it is judged"""
    accept: str = ""
    """what a typed value is held against, or from fuse rules"""
    fault: NamedFault | None = None
    """what a failed answer says is broken, where the answer itself does not say it"""
    grave: Grave = "mend"
    """what the fault asks for"""


class WaitStep(StepBase):
    """Wait, at least this long."""

    wait: Id
    """the step's own id"""
    time: str
    """how long: 30 s, 10 min"""


class ComputeStep(StepBase):
    """A value by formula over earlier readings and equipment data."""

    compute: Id
    """the step's own id"""
    value: str
    """the formula, over earlier steps and equipment data: (low-open - low) / low"""
    unit: str
    """the unit it is shown in"""
    accept: str = ""
    """what it is held against, as for a reading; left out: not judged"""
    fault: NamedFault | None = None
    """what a value outside the band says is broken"""
    grave: Grave = "mend"
    """what the fault asks for"""


class PhotoStep(StepBase):
    """Take photos for the record."""

    photo: Id
    """the step's own id"""
    at_least: int = Field(default=1, ge=0, le=20)
    """how many are needed"""


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


class SequenceFile(FileModel):
    """An ordered set of steps done on one kind of supply."""

    sequence: Id
    """the sequence's own id"""
    title: Words
    """what the board and the page call it"""
    say: str = ""
    """what holds for all of it, in a sentence"""
    supply: Supply = Supply.none
    """what feeds the item: none, limited (lamp limiter or variable transformer) or full mains"""
    fits: When = Field(default_factory=dict)
    """facts of the unit for which it is done at all"""
    needs_before: tuple[Id, ...] = ()
    """sequences that come before it on a route"""
    cautions: tuple[Id, ...] = ()
    """cautions to read and acknowledge first"""
    overdue_meters: Literal["accepted", "refused"] = "accepted"
    """whether its readings may be taken with a meter whose calibration is overdue and was knowingly accepted"""
    steps: tuple[Step, ...] = Field(min_length=1)
    """the steps in order"""
    worked_cases: tuple[WorkedCase, ...] = ()
    """readings and the judgements that must come out: benchapp check runs them"""


class RouteFile(FileModel):
    """Sequences in order: the whole check of the designs that it names, or of all that fit and no route names."""

    route: Id
    """the route's own id"""
    title: Words
    """what the intake calls it"""
    equipment: tuple[Id, ...] = ()
    """the designs that it is made for"""
    fits: When = Field(default_factory=dict)
    """facts of a design with the values that it suits; for designs of your own that no route names yet"""
    sequences: tuple[Id, ...] = Field(min_length=1)
    """the sequences in order"""
    way_back: Id | None = None
    """the sequence that leads from power back to hands; needed where anything is live"""
    not_tested: tuple[Words, ...] = ()
    """what this route leaves untested, for the tag"""


class Caution(FileModel):
    """What can hurt, and what to do about it; read and acknowledged before the work."""

    caution: Id
    """the caution's own id"""
    title: Words
    """what can hurt, in a word or two"""
    words: tuple[Words, ...] = Field(min_length=1)
    """what to do about it, a sentence each"""
    source: str
    """document, edition and clause, or common practice"""
    status: str
    """how sure the source is: confirmed (kind of page), from memory, or common practice, no source"""


def id_of(step: StepBase) -> str:
    """The step's own id, whatever its kind."""
    return str(getattr(step, kind_of(step).value))


def kind_of(step: StepBase) -> StepKind:
    """The kind of a step, from its model."""
    fields = type(step).model_fields
    return next(kind for kind in StepKind if kind.value in fields)
