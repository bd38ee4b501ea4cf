"""Cautions and hazards of old equipment as the record sheet carries them, with who read or found them when."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from benchapp.actions.papers.dates import day_and_time
from benchapp.paper.content import Fact
from benchapp.sequences.history.repairs import repair_list
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.interlock.live_conditions import cautions_of
from benchapp.sequences.planning.entries import Entry, is_of
from benchapp.sequences.planning.entry_contents import CautionContent, HazardClearedContent, RepairContent
from benchapp.sequences.planning.state import FaultState, FaultStatus
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan

NOBODY = "Nobody has read it on this unit."


def cautions_read(plan: "Plan", entries: Sequence[Entry]) -> tuple[Fact, ...]:
    """Every caution of the route and of the repairs that were made, each with whoever read it and when."""
    read: dict[str, list[str]] = {}
    for entry in entries:
        if is_of(entry, CautionContent):
            read.setdefault(entry.content.caution, []).append(f"{entry.by}, {day_and_time(entry.at)}")
    governing = dict.fromkeys((*read, *_governing(plan, entries)))
    return tuple(_caution(plan, name, read.get(name, [])) for name in governing if name in plan.cautions)


def _governing(plan: "Plan", entries: Sequence[Entry]) -> Iterator[str]:
    for stage in plan.stages:
        yield from cautions_of(stage.cautions, stage.supply)
    for entry in entries:
        if is_of(entry, RepairContent):
            yield from repair_list(plan, plan.facts, entry.content.part, entry.content.mode).cautions


def _caution(plan: "Plan", name: str, read: list[str]) -> Fact:
    caution = plan.cautions[name]
    by = say("Read by {listed}.", listed="; ".join(read)) if read else NOBODY
    return Fact(name=f"⚠ {caution.title}", value=f"{' '.join(caution.words)} {by}")


def hazards_on_record(plan: "Plan", state: UnitState, entries: Sequence[Entry]) -> tuple[Fact, ...]:
    """The hazards that were found, as they stand, then those that are taken to be in every such unit."""
    found = [one for one in state.faults if one.old_hazard in plan.hazards]
    lines = [Fact(name=plan.hazards[one.old_hazard].title, value=_found(plan, one, entries)) for one in found]
    return (*lines, *(Fact(name=one.title, value=f"Presumed. {one.advice}") for one in plan.hazards_presumed))


def _found(plan: "Plan", fault: FaultState, entries: Sequence[Entry]) -> str:
    made = {entry.number: entry for entry in entries}
    hazard, finding = plan.hazards[fault.old_hazard], made[fault.entry]
    said = f"FOUND by {finding.by}, {day_and_time(finding.at)}: {fault.words}"
    if fault.status is not FaultStatus.closed:
        return f"{said} {hazard.advice} {hazard.sale_in(plan.profile.limits).say}"
    cleared = made.get(fault.cleared or 0)
    if cleared is not None and is_of(cleared, HazardClearedContent):
        return say(
            "{said} Cleared by {by}, {day_and_time}: {reason}",
            said=said,
            by=cleared.by,
            day_and_time=day_and_time(cleared.at),
            reason=cleared.content.reason,
        )
    return say("{said} Mended, see repair {repair}.", said=said, repair=fault.repair)
