"""Units of one lot put into another, a new one or one that is there: an entry of each unit says why."""

from collections.abc import Sequence
from functools import partial

from benchapp.actions.entries.intake import SEVERAL
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.text_bounds import refuse_long
from benchapp.words import say
from benchapp.workbook.model.values import Lot, Unit


def move_units(bench: Bench, marks: Sequence[str], *, to: str, by: str, why: str) -> ChangeSet:
    """Put these units into the lot called `to`, which is made where there is none of that name.

    Raises Refused for what is missing, Held, Lent, NotInWorkbook; then none is moved.
    """
    name = " ".join(to.split())
    if complaint := _refused(marks, name, by, why):
        raise Refused(complaint)
    refuse_long(initials=by, name=name, note=why)
    units = [bench.unit(mark) for mark in marks]
    there = [unit.mark for unit in units if unit.lot == name]
    if there:
        raise Refused(say("{units}: in {lot} already. Leave them out.", units=", ".join(there), lot=name))
    new = all(lot.name != name for lot in bench.lots())
    at = max(bench.now(bench.history(mark)) for mark in marks)
    lot = _as_a_whole(name, units, bench, at=at, by=by, why=why)
    bench.write(partial(bench.workbook.move_units, tuple(marks), lot, new=new, at=at, by=by.strip(), why=why.strip()))
    for mark in marks:
        bench.forget(mark)
    words = say(
        "{count} unit(s) (is|are) in {lot} now: {why}.", count=len(units), lot=name, why=why.strip().rstrip(".")
    )
    lots = frozenset({name, *(unit.lot for unit in units)})
    return ChangeSet(lots=lots, units=frozenset(marks), words=words)


def _refused(marks: Sequence[str], name: str, by: str, why: str) -> str:
    if not marks:
        return say("No unit is chosen. Choose those that go into another lot.")
    if not name or not name.isprintable():
        return say("Say which lot they go into: one that is there, or the name of a new one.")
    if not by.strip():
        return say("Nobody's initials are given. Every entry says who made it: enter yours, then record it again.")
    if not why.strip():
        return say("Say why they go into another lot: the reason stands on the record of each.")
    return ""


def _as_a_whole(name: str, units: Sequence[Unit], bench: Bench, *, at: str, by: str, why: str) -> Lot:
    """A new lot of these units, of one design where all of them are."""
    kinds = {(unit.equipment, unit.route) for unit in units}
    if len(kinds) > 1:
        return Lot(name=name, equipment="", route="", title=say(SEVERAL), taken_in=at, by=by, note=why)
    ((equipment, route),) = kinds
    design = bench.catalogue.equipment.get(equipment)
    title = design.title if design is not None else equipment
    return Lot(name=name, equipment=equipment, route=route, title=title, taken_in=at, by=by, note=why)
