"""Settings that a workshop may have, and who may change them. The limits are our own choice (common practice)."""

from collections.abc import Iterator, Sequence
from math import isfinite

from benchapp.sequences.planning.entries import person
from benchapp.sequences.planning.people import ListedPerson, Right, is_date, listed, refuse_person
from benchapp.sequences.planning.planned import Workshop

MOST_DAYS = 366
"""days for which a dead test may stand in for one of today"""
MOST_SECONDS = 3600.0
"""seconds for which a mains reading may serve: the supply moves within the hour"""
LARGEST_FACTOR = 3.0
"""of the guard band w = r·U (ILAC-G8 uses up to 3)"""

SMALLEST_LAMP, LARGEST_LAMP = 15.0, 500.0
"""watts of filament lamps that were sold for rooms"""


def refuse_workshop(workshop: Workshop) -> str | None:
    """The sentence with which settings are refused; None where they may be kept."""
    days = workshop.dead_tests_last_days
    if isinstance(days, bool) or not isinstance(days, int) or not 1 <= days <= MOST_DAYS:
        return f"Dead tests cannot last {days} days: write a whole number from 1 to {MOST_DAYS}."
    fresh = workshop.mains_fresh_for
    if not isfinite(fresh) or not 0 < fresh <= MOST_SECONDS:
        return f"A mains reading cannot serve for {fresh:g} s: write 1 s to {MOST_SECONDS:g} s."
    factor = workshop.guard_factor
    if not isfinite(factor) or not 0 <= factor <= LARGEST_FACTOR:
        return f"{factor:g} is no factor of a guard band: write 0 to {LARGEST_FACTOR:g}."
    watts = workshop.largest_lamp
    if not isfinite(watts) or not SMALLEST_LAMP <= watts <= LARGEST_LAMP:
        return f"{watts:g} W is no lamp of a limiter: write {SMALLEST_LAMP:g} W to {LARGEST_LAMP:g} W."
    if not workshop.region.strip():
        return "Say in which region the workshop is."
    return _refuse_people(workshop.people)


def _refuse_people(people: Sequence[ListedPerson]) -> str | None:
    for row in people:
        if not row.name.strip() or not person(row.initials):
            return "Each person on the list has a name, and initials of letters or digits."
        other = listed(people, row.initials)
        if other is not row and other is not None:
            return (
                f"{other.name} and {row.name} have the same initials, {row.initials}: nobody could tell who did what."
            )
        if row.until and not is_date(row.until):
            return f"“{row.until}” is no date: write the day as 2026-12-31, or leave it empty."
    if people and not any(Right.supervisor in row.rights and not row.until for row in people):
        return "The list needs a supervisor whose rights have no end: nobody else can change it."
    return None


def refuse_change(before: Workshop, after: Workshop, *, by: str, at: str, reason: str) -> str | None:
    """Why that person does not change the settings so; None where they do.

    What asks for less than before, and any change of the people, needs a supervisor and a reason. The first list of
    people is made by whoever is a supervisor on it.
    """
    gone = next((row for row in before.people if listed(after.people, row.initials) is None), None)
    if gone is not None:
        return f"{gone.name} stays on the list: what {gone.initials} did is on record. End what they may do instead."
    if after.demo != before.demo:
        return "Whether a workbook is a demo's is settled when it is begun. Begin another one."
    looser = [*_looser(before, after)]
    if not looser:
        return None
    refused = refuse_person(before.people or after.people, by, Right.supervisor, at)
    if refused:
        return f"Other settings ({', '.join(looser)}) are a supervisor's to make. {refused}"
    first = set(looser) <= FIRST and not before.people
    return None if first or reason.strip() else f"Say why the settings change ({', '.join(looser)})."


REGION = "region"
PEOPLE = "people"
FIRST = frozenset({REGION, PEOPLE})
"""what whoever begins a workbook settles with the first list of people, without a reason"""


def _looser(before: Workshop, after: Workshop) -> Iterator[str]:
    """In what the settings ask for less than before, or for something else, in words."""
    if before.insulation_tester and not after.insulation_tester:
        yield "no insulation tester"
    if after.dead_tests_last_days > before.dead_tests_last_days:
        yield "dead tests last longer"
    if after.region != before.region:
        yield REGION
    if after.mains_fresh_for > before.mains_fresh_for:
        yield "mains readings serve longer"
    if after.guard_factor < before.guard_factor:
        yield "a smaller guard band"
    if after.largest_lamp > before.largest_lamp:
        yield "a larger lamp in the limiter"
    if after.people != before.people:
        yield PEOPLE
