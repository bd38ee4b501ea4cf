"""Further runs of units: on the texts of today, or as another design than they were taken in as."""

from collections.abc import Sequence
from functools import partial

from benchapp.actions.entries.designs import own_texts_said, pins_of, refuse_unknown
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.actions.workbench.unit_summary import summary_after
from benchapp.sequences.planning.chain_contents import RunContent
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.words import say


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
    refuse_unknown(bench.catalogue, equipment, route)
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
    words += own_texts_said(bench, [plan])
    return ChangeSet(lots=frozenset({history.lot}), units=frozenset({unit}), words=words)


def retype_units(bench: Bench, marks: Sequence[str], *, equipment: str, route: str, by: str, why: str) -> ChangeSet:
    """The units prove to be of another design: a new run of each, which says why; their records stay.

    Raises IntakeProblem where any of them may not be, and then none is.
    """
    if not marks:
        raise IntakeProblem(say("No unit is chosen. Choose those that are of another design."))
    refuse_unknown(bench.catalogue, equipment, route)
    for mark in marks:
        _refuse_other(bench, mark, why)
    done = [start_run(bench, mark, by=by, route=route, equipment=equipment, why=why) for mark in marks]
    words = say(
        "{count} unit(s) (begins|begin) a new run as {title}; (its record stays|their records stay).",
        count=len(marks),
        title=bench.catalogue.equipment[equipment].title,
    )
    lots = frozenset(lot for one in done for lot in one.lots)
    return ChangeSet(lots=lots, units=frozenset(marks), words=words if len(marks) > 1 else done[0].words)


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
