"""What a plan asks of every kind of step."""

from abc import abstractmethod
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import TYPE_CHECKING, Any, ClassVar

from benchapp.sequences.language.step_kind import StepKind, Written, known_kinds
from benchapp.sequences.language.vocabulary import FactValue, Role
from benchapp.sequences.planning.answer_content import AnswerContent

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.statements.band import Band
    from benchapp.sequences.language.hazards import OldHazard
    from benchapp.wiring.model.circuit import Circuit
    from benchapp.wiring.probing.probes import Probe


class OnTag(Enum):
    """What a tag makes of the kind: a test, done or left out; a question, named where left out; nothing."""

    test = "test"
    question = "question"
    nothing = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class SingleStep:
    """One planned step of a written one: most come to one, a probe step to one for each pair that is touched.

    `circuit` is that of the units for which it is asked; `when` are the facts that make a unit one of them, where the
    design alone does not. A lead that is read by itself is taken `off` the unit.
    """

    circuit: "Circuit"
    id: str = ""
    """stands behind the address of the written step; empty where it comes to one"""
    say: str = ""
    function: "Function | None" = None
    terminals: tuple[str, ...] = ()
    accept: str = ""
    fresh_for: str = ""
    at_fault: str = ""
    """the part of this design that is at fault where the author leaves that to the wiring"""
    probe: "Probe | None" = None
    band: "Band | None" = None
    """None for a voltage, which follows from the mains of the hour"""
    when: Mapping[str, FactValue] = field(default_factory=dict)
    off: bool = False
    inside: bool = False
    """read with the cover off, before hands go in"""
    lasts: float | None = None
    """seconds that must have passed, by the entries, before an answer is taken; None where time is no matter"""


class PlannedKind(StepKind, asks=True):
    """A kind as plans know it."""

    on_tag: ClassVar[OnTag]
    content: ClassVar[type[AnswerContent]]
    """what an entry of an answer carries (`AnswerContent` with what is the kind's own)"""
    digest_keys: ClassVar[tuple[str, ...]]
    """the step's own keys that an answer rests on, beside what every step is asked for (`step_digest`)"""
    shows: ClassVar[Mapping[Role, Callable[[Any], str]]]
    """the roles that a step may show, each with why a step cannot (empty: it can); no other role counts"""

    @abstractmethod
    def plan(self, circuit: "Circuit", step: Written) -> Iterator[SingleStep]:
        """The planned steps that a written one comes to on a circuit; raises TerminalProblem."""

    def at_place(self, step: Written, circuit: "Circuit", profile: "LimitProfile") -> Written:  # noqa: ARG002
        """The written step as it is asked of this design under the limits of this place; most are asked everywhere."""
        return step

    def for_hazards(self, step: Written, asked: tuple["OldHazard", ...]) -> Written | None:  # noqa: ARG002
        """The step for a design that is asked about these hazards of old equipment; None where nothing is left."""
        return step

    def content_of(self, said: Mapping[str, Any]) -> type[AnswerContent]:  # noqa: ARG002
        """The class of an answer that was stored with these keys, where the kind has more than one."""
        return self.content

    def waits_for(self, step: Written) -> frozenset[str]:  # noqa: ARG002
        """Facts of the unit that the step asks about beside its `when`."""
        return frozenset()

    def settles(self, step: Written) -> str:  # noqa: ARG002
        """The fact of the unit that an answer settles; empty for none."""
        return ""


def one_step(_kind: PlannedKind, circuit: "Circuit", step: Written) -> Iterator[SingleStep]:
    """The plan of a step that comes to one, with no reading of a meter at it."""
    yield SingleStep(circuit=circuit, accept=getattr(step, "accept", ""))


def on_tag(name: str) -> OnTag:
    """What a tag makes of a kind; one that nobody knows is named where it is left out, and never as done."""
    kind = known_kinds().get(name)
    return kind.on_tag if isinstance(kind, PlannedKind) else OnTag.question
