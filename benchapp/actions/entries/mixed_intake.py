"""Taking in a lot of several designs, what was known of each unit with it: all of it, or nothing."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from benchapp.actions.entries.intake import pins_of
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.actions.workbench.text_bounds import refuse_long
from benchapp.actions.workbench.unit_summary import stage_rows
from benchapp.words import say
from benchapp.workbook.model.values import Lot
from benchapp.workbook.record.intake import NewUnits, Shown

if TYPE_CHECKING:
    from benchapp.lots.listed_units import ListedUnit


def take_in_units(bench: Bench, *, name: str, units: "Sequence[ListedUnit]", by: str, note: str = "") -> ChangeSet:
    """A new lot of these units, in quarantine, a run each on the route of its own design.

    Raises IntakeProblem, TakenName or what a route has against its design; then nothing is written.
    """
    if not (name.strip() and by.strip() and units):
        raise IntakeProblem(say("A lot needs a name, your initials, and at least one unit. Give what is missing."))
    refuse_long(initials=by, name=name, note=note)
    at = bench.clock()
    groups = [
        _group(
            bench,
            equipment,
            route,
            [(unit.mark, unit.known) for unit in units if _kind(unit) == (equipment, route)],
            at,
        )
        for equipment, route in dict.fromkeys(map(_kind, units))
    ]
    first = groups[0].pins
    one = len(groups) == 1
    lot = Lot(
        name=name.strip(),
        equipment=first.equipment if one else "",
        route=first.route if one else "",
        title=bench.catalogue.equipment[first.equipment].title if one else say("several designs"),
        taken_in=at,
        by=by,
        note=note,
    )
    bench.write(lambda: bench.workbook.add_lot(lot, groups))
    words = say(
        "{count} units of {title} are taken in, in quarantine. Tie on their tags: do not plug in.",
        count=len(units),
        title=lot.title,
    )
    return ChangeSet(lots=frozenset({lot.name}), units=frozenset(unit.mark for unit in units), words=words)


def _kind(unit: "ListedUnit") -> tuple[str, str]:
    return unit.equipment, unit.route


def _group(
    bench: Bench, equipment: str, route: str, units: Sequence[tuple[str, Mapping[str, str]]], at: str
) -> NewUnits:
    from benchapp.sequences.interlock.fold import fold
    from benchapp.sequences.planning.plan import make_plan

    for mark, said in units:
        refuse_long(shelf_mark=mark)
        for text in said.values():
            refuse_long(note=text)
    state = fold(make_plan(bench.catalogue, route, equipment, bench.workshop), (), at=at)
    shown = Shown(stages=stage_rows("", state), due=state.due.words)
    return NewUnits(units=units, pins=pins_of(bench, route, equipment), shown=shown)
