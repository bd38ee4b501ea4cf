"""The model of a hazard of old equipment (resources/hazards): how it is seen, what to do, what it shuts, its sale.

Every statement has its source and status. Nothing here is legal advice: where law decides, the file says whom to ask.
"""

from collections.abc import Mapping
from enum import StrEnum
from typing import Annotated, Literal, TypeVar

from pydantic import AfterValidator, Field, StringConstraints

from benchapp.files.forms import Id
from benchapp.files.locations import Mistake
from benchapp.files.models import FileModel
from benchapp.judgement.limits.figures import STATUS
from benchapp.sequences.language.field_types import When, Words
from benchapp.wiring.model.registry import KindName

ELSEWHERE = "elsewhere"
"""the key of `sale` for every region that has no words of its own"""


class Shut(StrEnum):
    """What a hazard that was found shuts on its unit."""

    work = "work"
    """all of it: no hand, no tool, no meter, no cutting"""
    opening = "opening"
    """its case stays shut"""
    mains = "mains"
    """it is never plugged in"""


class Statement(FileModel):
    """One thing that is said, where it is said, and how far that is confirmed."""

    say: Words
    """the statement, in a sentence or two"""
    source: str = Field(min_length=3)
    """document, edition and clause, or kind of page"""
    status: Annotated[str, STATUS]
    """confirmed (kind of page), from memory, or common practice, no source"""


StatementOrSale = TypeVar("StatementOrSale", bound=Statement)


class Sale(Statement):
    """Whether a unit may be sold with the hazard in it, under the law of a region."""

    may: Literal["no", "ask", "after repair", "yes"]
    """no; only after a supervisor has asked whom it says; after it was mended and tested again; yes"""


def _says_the_rest(sale: Mapping[str, Sale]) -> Mapping[str, Sale]:
    if ELSEWHERE not in sale:
        raise Mistake(f"“{ELSEWHERE}” is missing", expected=f"{ELSEWHERE}: for every region that is not named")
    return sale


class FoundIn(FileModel):
    """Which equipment may hold it; what is left out does not matter. Equipment of unknown age may always."""

    from_: int | None = Field(default=None, ge=1850, le=2100)
    """the first year of making in question"""
    until: int | None = Field(default=None, ge=1850, le=2100)
    """the last one"""
    when: When = Field(default_factory=dict)
    """facts of the design: {mains fed: true}"""
    parts: tuple[KindName, ...] = ()
    """kinds of part of which its circuit has one"""
    only_named: bool = False
    """whether only designs that name it are asked, and those that nobody knows"""


class OldHazard(FileModel):
    """A hazard of old equipment: what it is, where it sits, how it is seen, what is done and what never."""

    hazard: Id
    """the hazard's own id"""
    title: Words
    """what it is called"""
    clear: Words
    """what is so where it is not there: the checkpoint's sentence"""
    seen: Words
    """the finding in a sentence, for tag and record"""
    tag: Annotated[str, StringConstraints(strip_whitespace=True, min_length=2, max_length=130)]
    """its own words on a do-not-use tag, at most 130 characters: what it is, what to do, what never"""
    found_in: FoundIn = FoundIn()
    """which equipment is asked about it"""
    presumed: bool = False
    """taken to be there and not asked for: told before the case is opened"""
    shuts: tuple[Shut, ...] = ()
    """what it shuts on a unit in which it was found"""
    part: Id = "enclosure"
    """the part at which it sits, as a fault names it: enclosure, cord, plug"""
    eyes: bool = False
    """whether eye protection is worn for it"""
    what: Annotated[tuple[Statement, ...], Field(min_length=1)]
    """what it is"""
    where: Annotated[tuple[Statement, ...], Field(min_length=1)]
    """in which equipment, and until when"""
    look: Annotated[tuple[Statement, ...], Field(min_length=1)]
    """how to see it"""
    do: Annotated[tuple[Statement, ...], Field(min_length=1)]
    """what to do: stop, store, whom to tell"""
    never: Annotated[tuple[Statement, ...], Field(min_length=1)]
    """what never to do"""
    sale: Annotated[Mapping[str, Sale], AfterValidator(_says_the_rest)]
    """whether the item may be sold with it, by region, and elsewhere"""

    @property
    def signs(self) -> str:
        """How it is seen, in sentences."""
        return " ".join(one.say for one in self.look)

    @property
    def advice(self) -> str:
        """What to do and what never, in sentences."""
        return " ".join(one.say for one in (*self.do, *self.never))

    def sale_in(self, region: str) -> Sale:
        """What holds for a sale in that region."""
        return self.sale.get(region, self.sale[ELSEWHERE])

    def with_own_sources(self, published: tuple[Statement, ...], source: str, status: str) -> "OldHazard":
        """The same, where every statement that is none of the published ones has that source and status."""

        def marked(one: StatementOrSale) -> StatementOrSale:
            return one if one in published else one.model_copy(update={"source": source, "status": status})

        lists = {name: tuple(map(marked, getattr(self, name))) for name in ("what", "where", "look", "do", "never")}
        sale = {region: marked(one) for region, one in self.sale.items()}
        return self.model_copy(update={**lists, "sale": sale})

    def statements(self) -> tuple[Statement, ...]:
        """Everything that it says, in order."""
        return (*self.what, *self.where, *self.look, *self.do, *self.never, *self.sale.values())
