"""What a trainer may write: sequences with their steps and worked cases, routes, cautions.

Keys are written with spaces ("set up", "needs before"); the value of the key that names the kind of a step is the
step's id. The models of the steps belong to their kinds. Whether names, formulas and roles make sense is checked in
`checks`.
"""

from collections.abc import Mapping
from functools import reduce
from operator import or_
from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, GetCoreSchemaHandler, Tag
from pydantic_core import CoreSchema

from benchapp.files.forms import Id
from benchapp.files.kinds import kind_key
from benchapp.files.models import FileModel
from benchapp.sequences.language.field_types import When, Words
from benchapp.sequences.language.step_kind import StepKind, known_kinds
from benchapp.sequences.language.steps import StepBase
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.language.worked_cases import WorkedCase


class _OfAnyKind:
    """Makes the union of the models of all kinds, once the first file with steps is read."""

    def __get_pydantic_core_schema__(self, _source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        kinds = known_kinds()
        models: Any = [Annotated[kind.model, Tag(kind.model.__name__)] for kind in kinds.values()]
        return handler.generate_schema(Annotated[reduce(or_, models), kind_key(_model_name, kinds, of="step")])


def _model_name(written: Any) -> str | None:  # noqa: ANN401  whatever the file holds
    """The model of a step, by the key that names its kind; None when there is none or more than one."""
    keys = written if isinstance(written, Mapping) else getattr(type(written), "model_fields", ())
    found = [kind.model.__name__ for name, kind in known_kinds().items() if name in keys]
    return found[0] if len(found) == 1 else None


Step = Annotated[StepBase, _OfAnyKind()]


class SequenceFile(FileModel):
    """An ordered set of steps done on one kind of supply."""

    model_config = ConfigDict(defer_build=True)  # the kinds of step are not known before they are needed

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
    return str(getattr(step, StepKind.of(step).name))
