"""What can be recorded about a unit: the kinds of entry, and what they hold.

An entry is one accepted fact of a unit's history. Entries are never changed: an answer is withdrawn or superseded by a
later entry. `content` is plain JSON; its keys by kind of entry:

| kind | content |
| --- | --- |
| answer | step (kind of step), judgement, sentence, and what the step kind adds |
| withdrawal | number (the entry withdrawn), why |
| meter | meter, proved (time of the bench opening that proved it, "" = not proved), overdue_accepted, lead_resistance |
| caution | caution |
| set-up | items (the words confirmed); `address` is the step |
| fault | part, mode, words, grave; `address` is the step that showed it |
| repair | fault (number of its entry or null), part, done, opened (cord, plug, enclosure), parts_used, actions, mode |
| opened | opened (cord, plug, enclosure), why |
| event | event (fall, damp, wet cleaning), note |
| hazard | hazard (smoke, smell, hum, heat), note |
| supervisor-opening | reason; `by` is the supervisor, who tested nothing of the unit |
| disposition | disposition, grade, price, note |
| plug-destroyed | note |
| fact | facts (name -> value, as texts) |
| note | words; probed (a dead reading beside the route, see `free_probes.py`) |

What the workbook keeps beside them, by chain:

| chain | kind | content |
| --- | --- | --- |
| unit | beginning | lot (UUID), shelf_mark, route, equipment, pins (hash of the list of pinned texts) |
| unit | run | route, equipment, pins; `run` of the entry names it, the settings are those that it cites |
| unit | shelf-mark | shelf_mark, why |
| unit | lent | to (the bench's UUID; empty: given back), why |
| bench | beginning, named | name |
| bench | opening | meters (meter, proved, lead_resistance, nulled), rcd_button_tested, note |
| bench | closing | opening (its number), meters, note |
| bench | tags-printed | tags (unit, shelf_mark, disposition, record: the hash it was printed from) |
| bench | anchor | heads (chain -> number and hash of its last entry), reason |
| bench | imported | file (SHA-256 of the day file), chains (bench's or workshop's -> first and last number added) |
| workshop | beginning | made |
| workshop | settings | settings |
| workshop | lot | lot, name, equipment, route, title, note, units (UUID -> shelf mark) |
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any


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
    supervisor_opening = "supervisor-opening"
    disposition = "disposition"
    plug_destroyed = "plug-destroyed"
    fact = "fact"
    note = "note"
    # What the workbook itself keeps in chains; the engine passes over it.
    beginning = "beginning"
    run = "run"
    shelf_mark = "shelf-mark"
    lent = "lent"
    named = "named"
    opening = "opening"
    closing = "closing"
    anchor = "anchor"
    tags_printed = "tags-printed"
    imported = "imported"
    settings = "settings"
    lot = "lot"


class Event(StrEnum):
    """What befell a unit and makes its dead tests old."""

    fall = "fall"
    damp = "damp"
    wet_cleaning = "wet cleaning"


class Hazard(StrEnum):
    """What sends a hand to the wall switch."""

    smoke = "smoke"
    smell = "smell"
    hum = "hum"
    heat = "heat"


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
class Entry:
    """One accepted fact of a chain (a unit's, a bench's, the workshop's), from the screen to the disk and back.

    `number` counts from 1 behind the chain's beginning, `at` is ISO 8601 in UTC, `rules` the rules version of gate and
    judgement. Chain, bench and run are UUIDs; a hash is there once the entry is on disk.
    """

    number: int
    uuid: str
    kind: EntryKind
    at: str
    by: str
    address: str = ""
    content: Mapping[str, Any] = field(default_factory=dict)
    chain: str = ""
    bench: str = ""
    """the chain of the bench at which it was made"""
    run: str = ""
    cites: tuple[Citation, ...] = ()
    rules: str = ""
    sha256: str = ""


class StepAnswer:
    """What a person gives at a step, as it was given; each kind of step has a class of its own."""

    __slots__ = ()


def person(initials: str) -> str:
    """Whose initials these are, however they were typed."""
    return initials.strip().casefold()
