"""The list of people: one person added to it, or what somebody on it may do changed or ended."""

from dataclasses import replace

from benchapp.actions.entries.days import change_workshop
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.planning.people import ListedPerson, Right, listed
from benchapp.words import say


def keep_person(bench: Bench, row: ListedPerson, *, by: str, reason: str = "") -> ChangeSet:
    """Keep that row of the list, in the place of the one with the same initials if there is one.

    Raises Refused for a list that cannot be, and for whoever may not change it (`refuse_change`).
    """
    workshop = bench.workshop
    before = listed(workshop.people, row.initials)
    people = tuple(row if one is before else one for one in workshop.people)
    changed = replace(workshop, people=people if before is not None else (*people, row))
    done = change_workshop(bench, changed, by=by, reason=reason)
    return replace(done, words=f"{row.name} ({row.initials}): {rights_words(row)}.")


def add_person(bench: Bench, row: ListedPerson, *, by: str, reason: str = "") -> ChangeSet:
    """Put a new person on the list; raises Refused as `keep_person` does, and for initials that are somebody else's."""
    if taken := listed(bench.workshop.people, row.initials):
        raise Refused(
            say(
                "{initials} are {name}'s initials already, with all that is recorded under them. Give "
                "the new person others: a middle letter or a digit will do.",
                initials=taken.initials,
                name=taken.name,
            )
        )
    return keep_person(bench, row, by=by, reason=reason)


def enter_first_person(bench: Bench, name: str, *, by: str, region: str = "") -> ChangeSet:
    """The first person of a new workbook, as its supervisor, and the region that the workshop is in, where it is said.

    Raises Refused where there are people on the list.
    """
    row = ListedPerson(name=name.strip(), initials=by.strip(), rights=(Right.supervisor,))
    workshop = bench.workshop
    if workshop.people or not region or region == workshop.region:
        return keep_person(bench, row, by=by)
    done = change_workshop(bench, replace(workshop, people=(row,), region=region, mains=""), by=by)
    return replace(done, words=f"{row.name} ({row.initials}): {rights_words(row)}.")


def rights_words(row: ListedPerson) -> str:
    """What the person may do, and until when, in words."""
    rights = ", ".join(row.rights) or "dead work"
    return f"{rights}, until {row.until}" if row.until else rights
