"""What can be recorded: the kinds of entry, and one entry.

An entry is one accepted fact of a unit's history, of a bench or of the workshop. Entries are never changed: an answer
is withdrawn or superseded by a later entry. What an entry of each kind carries is a class of contents.py.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Generic, TypeGuard

from benchapp.sequences.planning.content import Content

if TYPE_CHECKING:
    from typing_extensions import TypeVar  # one with a default, which the library has from Python 3.13 on

    C = TypeVar("C", bound=Content, default=Content, covariant=True)
else:
    from typing import TypeVar

    C = TypeVar("C")
OneContent = TypeVar("OneContent", bound=Content)
"""the content of an entry that a function hands on as it was"""


class EntryKind(StrEnum):
    """What an entry says happened."""

    answer = "answer"
    withdrawal = "withdrawal"
    meter = "meter"
    caution = "caution"
    set_up = "set-up"
    fault = "fault"
    repair = "repair"
    opened = "opened"
    event = "event"
    hazard = "hazard"
    false_alarm = "false-alarm"
    hazard_cleared = "hazard-cleared"
    supervisor_opening = "supervisor-opening"
    acceptance = "acceptance"
    disposition = "disposition"
    plug_destroyed = "plug-destroyed"
    plug_kept = "plug-kept"
    fact = "fact"
    note = "note"
    photos = "photos"
    # What the workbook itself keeps in chains; the engine passes over it.
    beginning = "beginning"
    run = "run"
    shelf_mark = "shelf-mark"
    lent = "lent"
    moved = "moved"
    named = "named"
    opening = "opening"
    closing = "closing"
    anchor = "anchor"
    tags_printed = "tags-printed"
    imported = "imported"
    settings = "settings"
    lot = "lot"


class Event(StrEnum):
    """What befell a unit: it makes its dead tests old, or (`POWERED`) power was on it outside its steps."""

    fall = "fall"
    damp = "damp"
    wet_cleaning = "wet cleaning"
    powered = "under power lately"
    left = "left, may be live"


POWERED = frozenset({Event.powered, Event.left})
"""After these it counts as charged, or as live, until the way back is gone; the dead tests stand."""


class Hazard(StrEnum):
    """What sends a hand to the wall switch."""

    smoke = "smoke"
    smell = "smell"
    hum = "hum"
    heat = "heat"
    tripped = "RCD or fuse tripped"


class Accepted(StrEnum):
    """What a supervisor may accept of one unit; each is asked for by a rule of its own."""

    lower_rating = "a 220 V rating on 230 V mains"
    frequency = "iron for 60 Hz on 50 Hz mains"
    live_chassis = "a live chassis that is kept"
    transcribed = "readings that a tester kept"


class Disposition(StrEnum):
    """What is to become of a unit."""

    quarantine = "quarantine"
    for_sale = "for sale"
    spares = "spares or repair"
    scrap = "scrap"
    keep = "keep"
    hold = "hold"


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """An entry of another chain that an entry rests on: the chain's UUID, the number in it, and the hash."""

    chain: str
    number: int
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry(Generic[C]):
    """One accepted fact of a chain (a unit's, a bench's, the workshop's), from the screen to the disk and back.

    `number` counts from 1 behind the chain's beginning, `at` is ISO 8601 in UTC, `rules` the rules version of gate and
    judgement. Chain, bench and run are UUIDs; a hash is there once the entry is on disk. `Entry[MeterContent]` is one
    whose content is known to be of that class; `Entry` alone, one of any.
    """

    number: int
    uuid: str
    kind: EntryKind
    at: str
    by: str
    address: str = ""
    content: C
    chain: str = ""
    bench: str = ""
    """the chain of the bench at which it was made"""
    run: str = ""
    cites: tuple[Citation, ...] = ()
    rules: str = ""
    sha256: str = ""


def is_of(entry: Entry, content: type[OneContent]) -> TypeGuard[Entry[OneContent]]:
    """Whether the entry's content is of that class."""
    return isinstance(entry.content, content)


class StepAnswer:
    """What a person gives at a step, as it was given; each kind of step has a class of its own."""

    __slots__ = ()


def person(initials: str) -> str:
    """Whose initials these are, however they were typed: letters and digits alone count, "K.T." is "KT"."""
    return "".join(letter for letter in initials.casefold() if letter.isalnum())
