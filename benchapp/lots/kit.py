"""What is to be fetched before a lot is begun: plugs, fuses, meters, cautions to read.

Nobody knows yet which plug has to go, so the list says for how many units a part may be needed.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import StepStatus
from benchapp.words import say


@dataclass(frozen=True, slots=True, kw_only=True)
class KitLine:
    """One thing to fetch, for at most how many units, and why."""

    what: str
    units: int
    why: str


def kit_list(plan: Plan, units: Iterable[UnitState]) -> tuple[KitLine, ...]:
    """What the steps still to do may need: parts of work steps, fuses, then meters by function."""
    states = list(units)
    lines: dict[str, KitLine] = {}
    for step in plan.steps:
        waiting = sum(state.steps[step.address].status not in _DONE for state in states)
        if not waiting:
            continue
        for part in getattr(step.model, "parts_used", ()):
            _add(lines, part, waiting, step.say)
        if step.accept == "from fuse rules":
            _add(lines, _fuse(plan), waiting, step.say)
        if step.function:
            _add(lines, say("meter for {function}", function=step.function), waiting, plan.stage(step.stage).title)
    if any(line.startswith("meter") for line in lines) and _goes_live(plan):
        _add(lines, "RCD, and a lamp limiter or variable transformer", len(states), "first power is limited")
    return tuple(lines.values())


_DONE = (StepStatus.done, StepStatus.skipped)


def _add(lines: dict[str, KitLine], what: str, units: int, why: str) -> None:
    known = lines.get(what)
    if known is None or known.units < units:
        lines[what] = KitLine(what=what, units=units, why=known.why if known else why)


def _fuse(plan: Plan) -> str:
    rating = plan.facts.get("plug fuse rating")
    return (
        say("plug fuse of {rating:g} A", rating=rating)
        if isinstance(rating, float | int)
        else "plug fuse as the rules choose it"
    )


def _goes_live(plan: Plan) -> bool:
    return any(Role.limited_power in step.shows for step in plan.steps)
