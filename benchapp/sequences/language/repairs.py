"""The models of lists of repairs: resources/repairs, and the lists that a workshop writes.

A workshop's own list stands before the shipped one for the work itself. Cautions, what is opened and the lines under
`safety` of the shipped list hold with it: an own list adds to them and takes nothing away.
"""

from collections.abc import Mapping
from string import Formatter
from typing import Annotated

from pydantic import AfterValidator, Field

from benchapp.files.models import FileModel
from benchapp.sequences.language.vocabulary import FactValue, Opening
from benchapp.wiring.model.mains_place import MainsPlace
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.registry import KindName

SHIPPED = "usual-repairs"
"""the id of the list that comes with the program; no list of a workshop has it"""
WAYS_TO_FAIL = (
    *(mode.value for mode in Mode),
    "low resistance",
    "wrong value",
    "wrong rating",
    "wrong part",
    "damaged",
    "missing",
)
"""How a part can be wrong, in the trade's words: what a search can find, and what only eyes can."""
_PLACEHOLDERS = ("part", "place", "unit")


def _known_ways(modes: tuple[str, ...]) -> tuple[str, ...]:
    strange = [mode for mode in modes if mode not in WAYS_TO_FAIL]
    if strange:
        raise ValueError(f"“{strange[0]}” is no way to fail; there are {', '.join(WAYS_TO_FAIL)}")
    return modes


def _fillable(words: str) -> str:
    try:
        fields = [rest for _, *rest in Formatter().parse(words) if rest[0] is not None]
    except ValueError:
        fields = [["", "", None]]
    if any(name not in _PLACEHOLDERS or form or conversion for name, form, conversion in fields):
        raise ValueError(f"“{words}”: braces may only hold {', '.join(_PLACEHOLDERS)}")
    return words


Words = Annotated[str, AfterValidator(_fillable)]


class Fits(FileModel):
    """Which faults an entry is for; what is left out does not matter. `pins` is a pair of pins of a connector."""

    parts: tuple[KindName, ...] = ()
    modes: Annotated[tuple[str, ...], AfterValidator(_known_ways)] = ()
    sits: tuple[Opening, ...] = ()
    lies: tuple[MainsPlace, ...] = ()
    """across mains, or mains to metal, as the circuit has it"""
    pins: bool = False
    facts: Mapping[str, FactValue] = Field(default_factory=dict)


class Work(FileModel):
    """What is done about such a fault, what it opens, and the cautions that go with it."""

    fits: Fits
    """which faults it is for"""
    do: Annotated[tuple[Words, ...], Field(min_length=1)]
    """the work, a line for each action"""
    safety: tuple[Words, ...] = ()
    """lines before the work that stay, whatever list of a workshop takes its place"""
    opens: tuple[Opening, ...] = ()
    """what is opened to do it: plug, cord, enclosure"""
    cautions: tuple[str, ...] = ()
    """ids of the cautions that go with it"""


class OpenAndClose(FileModel):
    """The words for opening something and for closing it again."""

    open: Words
    close: Words
    stays: Words = ""
    """in place of closing, where a step of the route that is taken again closes it"""


class BySupply(FileModel):
    """Lines for equipment that takes mains, and for the rest."""

    mains: tuple[Words, ...] = ()
    """for what takes mains"""
    no_mains: tuple[Words, ...] = ()
    """for the rest"""


class UsualRepairs(FileModel):
    """A file of action lists: what always comes first, how things are opened and closed, the work itself.

    A workshop's own list needs the work alone; whatever else it says is added to the shipped list's.
    """

    repairs: str
    """the list's own id"""
    title: str
    """what it is called"""
    source: str = "the workshop's own"
    """where it comes from"""
    status: str = "common practice, no source"
    """how far that is confirmed"""
    first: BySupply = BySupply()
    """lines before anything is opened"""
    opening: Mapping[Opening, OpenAndClose] = Field(default_factory=dict)
    """how plug, cord and enclosure are opened and closed again"""
    cautions: BySupply = BySupply()
    """ids of the cautions that go with every repair"""
    work: Annotated[tuple[Work, ...], Field(min_length=1)]
    """for each kind of fault what is done; the first entry that fits counts"""
