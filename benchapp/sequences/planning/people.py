"""Who may do what at a workshop: the list of people in its settings, and what each may do until when.

Dead work asks for no right. Initials say who somebody is by their letters and digits alone: "K.T." is "KT".
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from benchapp.sequences.planning.entries import person
from benchapp.sequences.planning.entry_times import day_of
from benchapp.words import say


class Right(StrEnum):
    """What somebody may do beside dead work. A supervisor may do all of it."""

    live_work = "live work"
    sign_off = "sign-off"
    supervisor = "supervisor"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedPerson:
    """One row of the list: rights hold to the end of the day `until` (ISO 8601, UTC); empty: until further notice."""

    name: str
    initials: str
    rights: tuple[Right, ...] = ()
    until: str = ""


WHERE = "The list of people stands in the workshop's settings."
WHAT = {
    Right.live_work: "work on a unit under mains",
    Right.sign_off: "sign a unit off for sale",
    Right.supervisor: "do what a supervisor does",
}


def listed(people: Iterable[ListedPerson], by: str) -> ListedPerson | None:
    """Whose initials these are; None where they are not on the list."""
    asked = person(by)
    return next((one for one in people if person(one.initials) == asked), None)


def has_ended(row: ListedPerson, at: str) -> bool:
    """Whether the rights have come to their end by that time (ISO 8601, UTC); an end that is no day is past."""
    return bool(row.until) and not (is_date(row.until) and day_of(at) <= date.fromisoformat(row.until))


def is_date(text: str) -> bool:
    """Whether the text is a day as ISO 8601 writes it: 2026-12-31."""
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def may(people: Iterable[ListedPerson], by: str, right: Right, at: str) -> bool:
    """Whether somebody with those initials has the right at that time (ISO 8601, UTC)."""
    row = listed(people, by)
    return row is not None and not has_ended(row, at) and bool({right, Right.supervisor} & {*row.rights})


def refuse_person(people: Sequence[ListedPerson], by: str, right: Right, at: str) -> str | None:
    """Why they may not, in a sentence with the way on; None where they may."""
    if may(people, by, right, at):
        return None
    row, needed = listed(people, by), f"the right “{right}”"
    if not people:
        return say(
            "To {what} asks for {needed}, and nobody is on the list of people yet. {where}",
            what=WHAT[right],
            needed=needed,
            where=WHERE,
        )
    able = ", ".join(one.initials for one in people if may(people, one.initials, right, at)) or "nobody today"
    others = f"Whoever has {needed}: {able}. {WHERE}"
    if row is None:
        return say(
            "{by} is not on the list of people, and may not {what}. {others}",
            by=by.strip(),
            what=WHAT[right],
            others=others,
        )
    if has_ended(row, at):
        return say(
            "What {name} ({initials}) may do ended on {until}. {others}",
            name=row.name,
            initials=row.initials,
            until=row.until,
            others=others,
        )
    return f"{row.name} ({row.initials}) may not {WHAT[right]}. {others}"


def unlisted(people: Sequence[ListedPerson], by: str, at: str) -> str:
    """What is said at once of initials that are not on the list, or no longer; empty where there is nothing to say."""
    if not person(by):
        return ""
    row = listed(people, by)
    if row is None:
        return say("{by} is not on the list of people: dead work only. {where}", by=by.strip(), where=WHERE)
    if has_ended(row, at):
        return say(
            "What {name} ({initials}) may do ended on {until}: dead work only. {where}",
            name=row.name,
            initials=row.initials,
            until=row.until,
            where=WHERE,
        )
    return ""
