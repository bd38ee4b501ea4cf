"""Settings that a workshop may have, and who may change them. The limits are our own choice (common practice)."""

from collections.abc import Iterator, Sequence
from math import isfinite

from benchapp.sequences.planning.entries import person
from benchapp.sequences.planning.people import ListedPerson, Right, is_date, listed, refuse_person
from benchapp.sequences.planning.planned import Workshop
from benchapp.words import say

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
        return say(
            "Dead tests cannot last {days} days: write a whole number from 1 to {most_days}.",
            days=days,
            most_days=MOST_DAYS,
        )
    fresh = workshop.mains_fresh_for
    if not isfinite(fresh) or not 0 < fresh <= MOST_SECONDS:
        return say(
            "A mains reading cannot serve for {fresh:g} s: write 1 s to {most_seconds:g} s.",
            fresh=fresh,
            most_seconds=MOST_SECONDS,
        )
    factor = workshop.guard_factor
    if not isfinite(factor) or not 0 <= factor <= LARGEST_FACTOR:
        return say(
            "{factor:g} is no factor of a guard band: write 0 to {largest_factor:g}.",
            factor=factor,
            largest_factor=LARGEST_FACTOR,
        )
    watts = workshop.largest_lamp
    if not isfinite(watts) or not SMALLEST_LAMP <= watts <= LARGEST_LAMP:
        return say(
            "{watts:g} W is no lamp of a limiter: write {smallest_lamp:g} W to {largest_lamp:g} W.",
            watts=watts,
            smallest_lamp=SMALLEST_LAMP,
            largest_lamp=LARGEST_LAMP,
        )
    if not workshop.region.strip():
        return "Say in which region the workshop is."
    return _refuse_people(workshop.people)


def _refuse_people(people: Sequence[ListedPerson]) -> str | None:
    for row in people:
        if not row.name.strip() or not person(row.initials):
            return "Each person on the list has a name, and initials of letters or digits."
        other = listed(people, row.initials)
        if other is not row and other is not None:
            return say(
                "{name} and {name_2} have the same initials, {initials}: nobody could tell who did what.",
                name=other.name,
                name_2=row.name,
                initials=row.initials,
            )
        if row.until and not is_date(row.until):
            return say("“{until}” is no date: write the day as 2026-12-31, or leave it empty.", until=row.until)
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
        return say(
            "{name} stays on the list: what {initials} did is on record. End what they may do instead.",
            name=gone.name,
            initials=gone.initials,
        )
    if after.demo != before.demo:
        return "Whether a workbook is a demo's is settled when it is begun. Begin another one."
    looser = [*_looser(before, after)]
    if not looser:
        return None
    refused = refuse_person(before.people or after.people, by, Right.supervisor, at)
    if refused:
        return say(
            "Other settings ({listed}) are a supervisor's to make. {refused}", listed=", ".join(looser), refused=refused
        )
    first = set(looser) <= FIRST and not before.people
    return None if first or reason.strip() else say("Say why the settings change ({listed}).", listed=", ".join(looser))


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
