"""What is to be fetched before a lot is begun: parts, fuses, meters, loads, what limits first power.

Nobody knows before the looking which plug has to go, so a line says for how many units a thing may be needed, and for
how many of these it is needed for sure, because the step that asks for it has failed.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import StepStatus
from benchapp.words import say


class KitKind(StrEnum):
    """What sort of thing it is: used up, or used."""

    part = "part"
    meter = "meter"
    supply = "supply"
    load = "load"


@dataclass(frozen=True, slots=True, kw_only=True)
class KitLine:
    """One thing to fetch: for at most how many units, why, and for how many of them for sure."""

    what: str
    units: int
    why: str
    kind: KitKind = KitKind.part
    sure: int = 0


def kit_list(plan: Plan, units: Iterable[UnitState]) -> tuple[KitLine, ...]:
    """What the steps still to do may need on units of one plan."""
    return merge_kits(_kit_of(plan, state) for state in units)


def merge_kits(kits: Iterable[Iterable[KitLine]]) -> tuple[KitLine, ...]:
    """One list for many units: each unit's own lines, counted together by what is to be fetched."""
    lines: dict[str, KitLine] = {}
    for kit in kits:
        for line in kit:
            known = lines.get(line.what)
            more = line if known is None else replace(known, units=known.units + 1, sure=known.sure + line.sure)
            lines[line.what] = more
    return tuple(lines.values())


def _kit_of(plan: Plan, state: UnitState) -> Iterable[KitLine]:
    """What one unit may need, each thing once, though many steps ask for it."""
    found: dict[str, KitLine] = {}
    for step in plan.steps:
        status = state.steps[step.address].status
        for line in _asked(plan, step) if status not in _DONE else ():
            known = found.setdefault(line.what, line)
            if status is StepStatus.failed and line.kind is KitKind.part:
                found[line.what] = replace(known, sure=1)
    if _goes_live(plan) and any(line.kind is KitKind.meter for line in found.values()):
        what = say("RCD, and a lamp limiter or variable transformer")
        found[what] = KitLine(what=what, units=1, why=say("first power is limited"), kind=KitKind.supply)
    return found.values()


_DONE = (StepStatus.done, StepStatus.skipped)
_LOAD = "load of "


def _asked(plan: Plan, step: PlannedStep) -> Iterator[KitLine]:
    """What one step asks for."""
    stage = plan.stage(step.stage).title
    for part in getattr(step.model, "parts_used", ()):
        yield KitLine(what=part, units=1, why=stage)
    if step.accept == "from fuse rules":
        yield KitLine(what=_fuse(plan), units=1, why=stage)
    if step.function:
        what = say("meter for {function}", function=step.function)
        yield KitLine(what=what, units=1, why=stage, kind=KitKind.meter)
    for item in step.set_up:
        if item.startswith(_LOAD):
            what = say("load of {ohms}", ohms=item.removeprefix(_LOAD).partition(" on ")[0])
            yield KitLine(what=what, units=1, why=stage, kind=KitKind.load)


def _fuse(plan: Plan) -> str:
    rating = plan.facts.get("plug fuse rating")
    return (
        say("plug fuse of {rating:g} A", rating=rating)
        if isinstance(rating, float | int)
        else say("plug fuse as the rules choose it")
    )


def _goes_live(plan: Plan) -> bool:
    return any(Role.limited_power in step.shows for step in plan.steps)
