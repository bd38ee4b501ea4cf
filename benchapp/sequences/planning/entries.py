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
class Entry:
    """One fact of a unit's history; `number` counts from 1 within the unit, `at` is ISO 8601 in UTC."""

    number: int
    uuid: str
    kind: EntryKind
    at: str
    by: str
    address: str = ""
    content: Mapping[str, Any] = field(default_factory=dict)


class StepAnswer:
    """What a person gives at a step, as it was given; each kind of step has a class of its own."""

    __slots__ = ()


def person(initials: str) -> str:
    """Whose initials these are, however they were typed."""
    return initials.strip().casefold()
