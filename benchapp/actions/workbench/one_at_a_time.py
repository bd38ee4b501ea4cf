"""Mains is on one unit of a bench at a time: why it may not come on a second one."""

from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.planning.entries import Entry
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan

A_DAY = 86400.0
"""seconds; a clock that was set back by more is left to `benchapp verify`"""


def refuse_second(bench: Bench, unit: str, plan: "Plan", entry: Entry) -> str | None:
    """Why mains may not be on this unit now; None where it may."""
    from benchapp.sequences.interlock.least_times import is_under_power

    if not is_under_power(plan.by_address.get(entry.address), entry):
        return None
    here = bench.workbook.bench.uuid
    for other in bench.units():
        if other.mark == unit:
            continue
        if other.live == "mains" and bench.history(other.mark).entries[-1].bench == here:
            words = "may still be under power at this bench, and one unit is at a time"
            return say(
                "{mark} {words}: take {mark}, go its way back (plug out, discharged, proved low) first.",
                mark=other.mark,
                words=words,
            )
        if until := _under_power_then(bench, other.mark, other.last_at, entry.at):
            words = say(
                "By its record {mark} was under power at this bench until {until}", mark=other.mark, until=until
            )
            return say(
                "{words}, and now it is {at}. Set this computer's clock right, or wait until then.",
                words=words,
                at=entry.at,
            )
    return None


def _under_power_then(bench: Bench, mark: str, last_at: str, at: str) -> str:
    """Until when that unit was under power here, where the time falls in it: a clock was set back since; else empty."""
    from benchapp.sequences.interlock.power_spans import power_spans
    from benchapp.sequences.interlock.unit_walk import walk
    from benchapp.sequences.interlock.way_back import is_on_mains
    from benchapp.sequences.planning.entry_times import seconds_between

    if not last_at or not 0 < seconds_between(at, last_at) < A_DAY:
        return ""
    history = bench.history(mark)
    plan, entries = bench.plan_of(history), history.entries
    on = {one.number: is_on_mains(before.engine.evaluation) for one, before in walk(lambda _one: plan, entries)}
    spans = power_spans(mark, entries, on, on_after=False)
    here = bench.workbook.bench.uuid
    return next((span.until for span in spans if span.bench == here and span.covers(at)), "")
