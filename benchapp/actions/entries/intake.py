"""Intake: a lot of units with their shelf marks, each with a run that pins its texts."""

import re
from collections.abc import Collection, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from benchapp.actions.entries.conditions import record_fact
from benchapp.actions.entries.hazards import record_old_hazard
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.actions.workbench.text_bounds import refuse_long
from benchapp.actions.workbench.unit_summary import stage_rows, summary_after
from benchapp.sequences.planning.chain_contents import RunContent
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.words import say
from benchapp.workbook.model.values import Lot
from benchapp.workbook.record.intake import NewUnits, Pins, Shown

if TYPE_CHECKING:
    from benchapp.sequences.planning.catalogue import Catalogue
    from benchapp.sequences.planning.planned import Plan

MOST_UNITS = 2000
"""units that one lot may hold; more is taken for a slip of the finger (own choice)"""


def shelf_marks(first: str, count: int, *, taken: Collection[str] = ()) -> tuple[str, ...]:
    """`count` marks counting up from the first ("TB-001"), leaving out those taken; raises IntakeProblem."""
    if not 1 <= count <= MOST_UNITS:
        raise IntakeProblem(
            say(
                "A lot cannot have {count} units. Enter a number from 1 to {MOST_UNITS}.",
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
    """A new lot, its units in quarantine, a run each on the route as its text stands now.

    `hazards` are the ids of those of old equipment that every unit of it was seen to have; `known` is what is known of
    all of them, by what it is: where from, who gave them.

    Raises IntakeProblem, TakenName or what the route has against the equipment; then nothing is written.
    """
    from benchapp.sequences.interlock.fold import fold
    from benchapp.sequences.planning.plan import make_plan

    _refuse_blank(name, marks, by)
    refuse_long(initials=by, name=name, note=note)
    for mark in marks:
        refuse_long(shelf_mark=mark)
    for text in (known or {}).values():
        refuse_long(note=text)
    catalogue, at = bench.catalogue, bench.clock()
    _refuse_unknown(catalogue, equipment, route)
    plan = make_plan(catalogue, route, equipment, bench.workshop)
    state = fold(plan, (), at=at)
    _refuse_facts(plan, at, facts)
    lot = Lot(
        name=name.strip(),
        equipment=equipment,
        route=route,
        title=catalogue.equipment[equipment].title,
        taken_in=at,
        by=by,
        note=note,
    )
    shown = Shown(stages=stage_rows("", state), due=state.due.words)
    of_each = {what: text.strip() for what, text in (known or {}).items() if text.strip()}
    units = NewUnits(units=[(mark, of_each) for mark in marks], pins=pins_of(bench, route, equipment), shown=shown)
    add = partial(bench.workbook.add_lot, lot, [units])
    bench.write(add)
    for mark in marks if facts else ():
        record_fact(bench, mark, facts or {}, by=by)
    for mark, hazard in ((mark, hazard) for mark in marks for hazard in hazards):
        record_old_hazard(bench, mark, hazard, by=by, where="All of the lot, at intake.")
    words = say(
        "{count} units of {title} are taken in, in quarantine. Tie on their tags: do not plug in.",
        count=len(marks),
        title=lot.title,
    )
    words += "".join(f" {said}" for said in mains_said_of(plan))
    words += _own_texts_of(bench, plan)
    return ChangeSet(lots=frozenset({lot.name}), units=frozenset(marks), words=words)


def start_run(
    bench: Bench, unit: str, *, by: str, route: str | None = None, equipment: str | None = None, why: str = ""
) -> ChangeSet:
    """A new run of a unit, on the texts as they stand now; its history stays.

    On another route or `equipment` where the wrong one was chosen at intake: that needs its reason, and a unit that is
    dead. Raises IntakeProblem, or what the route has against the equipment.
    """
    from benchapp.sequences.interlock.fold import fold
    from benchapp.sequences.planning.plan import make_plan

    history = bench.history(unit)
    equipment = equipment or history.run.equipment
    route = route or history.run.route
    _refuse_unknown(bench.catalogue, equipment, route)
    if (route, equipment) != (history.run.route, history.run.equipment):
        _refuse_other(bench, unit, why)
    plan, at = make_plan(bench.catalogue, route, equipment, bench.workshop), bench.now(history)
    begun = RunContent(route=route, equipment=equipment, pins="")
    run = Entry(number=len(history.entries) + 1, uuid="", kind=EntryKind.run, at=at, by=by, content=begun)
    entries = (*history.entries, run)
    shown = summary_after(unit, fold(plan, entries, at=at), entries)
    add = partial(
        bench.workbook.add_run, unit, pins=pins_of(bench, route, equipment), shown=shown, at=at, by=by, why=why
    )
    bench.write(add)
    bench.forget(unit)
    words = say(
        "{unit} begins a new run of {route} as {title}; its record stays.",
        unit=unit,
        route=route,
        title=plan.equipment.title,
    )
    words += _own_texts_of(bench, plan)
    return ChangeSet(lots=frozenset({history.lot}), units=frozenset({unit}), words=words)


def mains_said_of(plan: "Plan") -> tuple[str, ...]:
    """What is said at intake of a design whose voltage or frequency does not fit this place's mains; often nothing."""
    from benchapp.wiring.assembly.selecting import mains_cautions
    from benchapp.wiring.model.circuit import State

    return mains_cautions(plan.circuit, State(), plan.profile)


def mains_said_here(bench: Bench, catalogue: "Catalogue", equipment: str) -> tuple[str, ...]:
    """The same for a design that is not taken in yet, by its id; nothing where this place's limits cannot be read."""
    from benchapp.wiring.assembly.selecting import mains_cautions
    from benchapp.wiring.checks.compile import compile_circuit
    from benchapp.wiring.model.circuit import State

    profile, design = catalogue.limits.get(bench.workshop.region), catalogue.equipment.get(equipment)
    if profile is None or design is None:
        return ()
    circuit = compile_circuit(design, catalogue.connectors, accepted=True)
    return mains_cautions(circuit, State(), profile.supplied_by(bench.workshop.mains))


def _refuse_other(bench: Bench, unit: str, why: str) -> None:
    """Another design has another way back: this unit goes back by its own first."""
    state = bench.state(unit)
    if state.energised:
        raise IntakeProblem(
            say(
                "{unit} may still be live. Go the way back first: plug out and in sight, discharged, "
                "voltage proved low.",
                unit=unit,
            )
        )
    if not why.strip():
        raise IntakeProblem(
            say("Say why {unit} is another design than it was taken in as: the reason stands on its record.", unit=unit)
        )


def _own_texts_of(bench: Bench, plan: "Plan") -> str:
    """The safety texts and figures that are the workshop's own, and own files that were left out; often nothing."""
    from benchapp.sequences.planning.own_texts import named

    own = say(" By this workshop's own: {named}.", named=named(plan.own_texts)) if plan.own_texts else ""
    wrong = bench.left_out
    more = f" (and {len(wrong) - 1} more)" if len(wrong) > 1 else ""
    return (
        say("{own} Left out until it is mended: {wrong}{more}.", own=own, wrong=wrong[0], more=more) if wrong else own
    )


def _refuse_facts(plan: "Plan", at: str, facts: Mapping[str, str | float | bool] | None) -> None:
    from benchapp.sequences.interlock.gate import refuse
    from benchapp.sequences.planning.entry_contents import FactContent

    if facts:
        entry = Entry(number=1, uuid="", kind=EntryKind.fact, at=at, by="", content=FactContent(facts=dict(facts)))
        complaint = refuse(plan, (), entry)
        if complaint:
            raise IntakeProblem(complaint)


def pins_of(bench: Bench, route: str, equipment: str) -> Pins:
    """Every text that a run of that route on that design rests on, as it stands now."""
    catalogue = bench.catalogue
    texts = catalogue.texts_for(route, equipment, tuple(sorted(catalogue.meters)))
    return Pins(route=route, equipment=equipment, texts=texts)


def _refuse_blank(name: str, marks: Sequence[str], by: str) -> None:
    if not name.strip():
        raise IntakeProblem(say("The lot has no name. Give it one that you would write on the shelf."))
    if not by.strip():
        raise IntakeProblem(say("Nobody's initials are given. Enter yours, then take the lot in."))
    if not marks or not all(mark.strip() for mark in marks):
        raise IntakeProblem(say("A lot needs a shelf mark for each of its units. Enter the first one and how many."))


def _refuse_unknown(catalogue: "Catalogue", equipment: str, route: str) -> None:
    from benchapp.files.spelling import nearest

    for what, asked, known in (("equipment", equipment, catalogue.equipment), ("route", route, catalogue.routes)):
        if asked not in known:
            near = nearest(asked, known)
            hint = (
                say("Did you mean {near}?", near=near)
                if near
                else say("Known are: {listed}.", listed=", ".join(sorted(known)) or "none")
            )
            raise IntakeProblem(say("There is no {what} {asked!r}. {hint}", what=what, asked=asked, hint=hint))
