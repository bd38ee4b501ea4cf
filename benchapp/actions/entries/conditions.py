"""What an answer rests on: caution acknowledged, meter chosen, set-up made, facts of this unit."""

from collections.abc import Mapping, Sequence

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, EntryContext, record
from benchapp.sequences.interlock.bench_day import meter_content
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import CautionContent, FactContent, SetUpContent
from benchapp.words import say


def record_caution(bench: Bench, unit: str, caution: str, *, by: str) -> ChangeSet:
    """The technician has read and acknowledged a caution; the one before mains needs the RCD tried today."""
    content = CautionContent(caution=caution)
    said = Composed(kind=EntryKind.caution, content=content, words=say("The caution is acknowledged."))
    return record(bench, unit, lambda _: said, by=by)


def record_meter(bench: Bench, unit: str, meter: str, *, by: str, accept_overdue: bool = False) -> ChangeSet:
    """The meter in hand from here on, with what today's bench opening found of it.

    An overdue calibration must be knowingly accepted.
    """
    if meter not in bench.plan(unit).meters:
        known = ", ".join(sorted(bench.plan(unit).meters)) or "none"
        raise Refused(
            say(
                "There is no meter {meter!r} in this run; it knows {known}. Choose one of these.",
                meter=meter,
                known=known,
            )
        )

    def compose(now: EntryContext) -> Composed:
        content = meter_content(now.day, meter, overdue_accepted=accept_overdue)
        return Composed(
            kind=EntryKind.meter,
            content=content,
            words=say("The {meter} is in hand.", meter=bench.plan(unit).meters[meter].kind),
        )

    return record(bench, unit, compose, by=by)


def record_set_up(bench: Bench, unit: str, address: str, done: Sequence[str], *, by: str) -> ChangeSet:
    """The set-up of a step has been made: the items confirmed, in words of the step."""
    content = SetUpContent(items=tuple(done))
    said = Composed(kind=EntryKind.set_up, address=address, content=content, words=say("The set-up is made."))
    return record(bench, unit, lambda _: said, by=by)


def record_fact(bench: Bench, unit: str, facts: Mapping[str, str | float | bool], *, by: str) -> ChangeSet:
    """What this unit has and its design has not: cord, plug, fuse, selector."""
    content = FactContent(facts=dict(facts))
    words = f"{unit}: " + ", ".join(f"{name} {value}" for name, value in facts.items()) + "."
    said = Composed(kind=EntryKind.fact, content=content, words=words)
    return record(bench, unit, lambda _: said, by=by)
