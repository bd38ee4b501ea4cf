"""Intake: units with their shelf marks come into a lot, each with a run that pins its texts. All of them, or none.

There is one way in, `take_in_units`, whatever the door: typed by hand, read from a list, or made by a program.
"""

import re
from collections.abc import Collection, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from benchapp.actions.entries.conditions import record_fact
from benchapp.actions.entries.designs import (
    facts_of_unknown,
    mains_said_of,
    own_texts_said,
    pins_of,
    refuse_facts,
    refuse_unknown,
)
from benchapp.actions.entries.hazards import record_old_hazard
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.actions.workbench.text_bounds import refuse_long
from benchapp.actions.workbench.unit_summary import stage_rows
from benchapp.lots.listed_units import ListedUnit
from benchapp.words import say
from benchapp.workbook.model.values import Lot
from benchapp.workbook.record.intake import NewUnits, Shown

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan

MOST_UNITS = 2000
"""units that one lot may hold; more is taken for a slip of the finger (own choice)"""
SEVERAL = "several designs"
"""what a lot is called whose units are not of one design"""


def shelf_marks(first: str, count: int, *, taken: Collection[str] = ()) -> tuple[str, ...]:
    """`count` marks counting up from the first ("TB-001"), leaving out those taken; raises IntakeProblem."""
    if not 1 <= count <= MOST_UNITS:
        raise IntakeProblem(
            say(
                "A lot cannot have {count} unit(s). Enter a number from 1 to {MOST_UNITS}.",
                count=count,
                MOST_UNITS=MOST_UNITS,
            )
        )
    found = re.fullmatch(r"(.*?)([0-9]+)", first.strip())
    if found is None:
        raise IntakeProblem(
            say("The shelf mark {first!r:.60} does not end in a number to count up from. Try {first}-001.", first=first)
        )
    stem, digits = found.groups()
    marks: list[str] = []
    number = int(digits)
    while len(marks) < count:
        mark = f"{stem}{number:0{len(digits)}d}"
        if mark not in taken:
            marks.append(mark)
        number += 1
    return tuple(marks)


def take_in_lot(
    bench: Bench,
    *,
    name: str,
    equipment: str,
    route: str,
    marks: Sequence[str],
    by: str,
    note: str = "",
    facts: Mapping[str, str | float | bool] | None = None,
    hazards: Sequence[str] = (),
    known: Mapping[str, str] | None = None,
) -> ChangeSet:
    """A new lot of one design, of whose units one thing is known: their `facts`, old `hazards`, and what is `known`.

    Raises what `take_in_units` raises.
    """
    units = [
        ListedUnit(mark=mark, equipment=equipment, route=route, known=known or {}, hazards=tuple(hazards))
        for mark in marks
    ]
    return take_in_units(bench, name=name, units=units, by=by, note=note, facts=facts)


def take_in_units(
    bench: Bench,
    *,
    name: str,
    units: Sequence[ListedUnit],
    by: str,
    note: str = "",
    facts: Mapping[str, str | float | bool] | None = None,
    more: bool = False,
) -> ChangeSet:
    """A new lot of these units, in quarantine, a run each on the route of its own design as its text stands now.

    With `more` they come into the lot of that name, which is there. `facts` hold for each of them; of a design that
    nobody knows, the class is a fact too, where it is known.

    Raises IntakeProblem, TakenName, NotInWorkbook or what a route has against its design; then nothing is written.
    """
    _refuse_blank(name, units, by)
    _refuse_long_texts(name, units, by, note)
    at = bench.clock()
    groups: list[NewUnits] = []
    plans: list[Plan] = []
    for equipment, route in dict.fromkeys((unit.equipment, unit.route) for unit in units):
        alike = [unit for unit in units if (unit.equipment, unit.route) == (equipment, route)]
        group, plan = _group(bench, equipment, route, alike, at)
        refuse_facts(plan, at, facts)
        groups.append(group)
        plans.append(plan)
    lot = _lot(bench, name.strip(), groups, at=at, by=by, note=note, more=more)
    bench.write(partial(bench.workbook.add_lot, lot, groups, more=more))
    _record_what_was_seen(bench, units, facts or {}, by)
    words = _taken_in(units, plans, lot, more=more)
    words += "".join(f" {said}" for plan in plans for said in mains_said_of(plan))
    words += own_texts_said(bench, plans)
    return ChangeSet(lots=frozenset({lot.name}), units=frozenset(unit.mark for unit in units), words=words)


def _group(bench: Bench, equipment: str, route: str, units: Sequence[ListedUnit], at: str) -> "tuple[NewUnits, Plan]":
    """Units of one design as they are written down, and the plan of their runs."""
    from benchapp.sequences.interlock.fold import fold
    from benchapp.sequences.planning.plan import make_plan

    refuse_unknown(bench.catalogue, equipment, route)
    plan = make_plan(bench.catalogue, route, equipment, bench.workshop)
    state = fold(plan, (), at=at)
    shown = Shown(stages=stage_rows("", state), due=state.due.words)
    marked = [(unit.mark, {what: text.strip() for what, text in unit.known.items() if text.strip()}) for unit in units]
    return NewUnits(units=marked, pins=pins_of(bench, route, equipment), shown=shown), plan


def _lot(bench: Bench, name: str, groups: Sequence[NewUnits], *, at: str, by: str, note: str, more: bool) -> Lot:
    """The lot as a whole: of one design where all its units are, those that it has already too."""
    kinds = {(group.pins.equipment, group.pins.route) for group in groups}
    if more:
        kinds |= {(unit.equipment, unit.route) for unit in bench.units(bench.lot(name).name)}
    if len(kinds) != 1:
        return Lot(name=name, equipment="", route="", title=say(SEVERAL), taken_in=at, by=by, note=note)
    ((equipment, route),) = kinds
    title = bench.catalogue.equipment[equipment].title
    return Lot(name=name, equipment=equipment, route=route, title=title, taken_in=at, by=by, note=note)


def _record_what_was_seen(
    bench: Bench, units: Sequence[ListedUnit], facts: Mapping[str, str | float | bool], by: str
) -> None:
    for unit in units:
        said = {**facts_of_unknown(bench.catalogue, unit), **facts}
        if said:
            record_fact(bench, unit.mark, said, by=by)
        for hazard in unit.hazards:
            record_old_hazard(bench, unit.mark, hazard, by=by, where="All of the lot, at intake.")


def _taken_in(units: Sequence[ListedUnit], plans: "Sequence[Plan]", lot: Lot, *, more: bool) -> str:
    title = plans[0].equipment.title if len(plans) == 1 else say(SEVERAL)
    if more:
        return say(
            "{count} unit(s) of {title} (has|have) come into {lot}, in quarantine. "
            "Tie on (its tag|their tags): do not plug in.",
            count=len(units),
            title=title,
            lot=lot.name,
        )
    return say(
        "{count} unit(s) of {title} (is|are) taken in, in quarantine. Tie on (its tag|their tags): do not plug in.",
        count=len(units),
        title=title,
    )


def _refuse_blank(name: str, units: Sequence[ListedUnit], by: str) -> None:
    if not name.strip():
        raise IntakeProblem(say("The lot has no name. Give it one that you would write on the shelf."))
    if not by.strip():
        raise IntakeProblem(say("Nobody's initials are given. Enter yours, then take the lot in."))
    if not units or not all(unit.mark.strip() for unit in units):
        raise IntakeProblem(say("A lot needs a shelf mark for each of its units. Enter the first one and how many."))


def _refuse_long_texts(name: str, units: Sequence[ListedUnit], by: str, note: str) -> None:
    refuse_long(initials=by, name=name, note=note)
    for unit in units:
        refuse_long(shelf_mark=unit.mark)
        for text in unit.known.values():
            refuse_long(note=text)
