"""Faults and what befalls a unit: fault, repair, a fall or damp, smoke and smell."""

from collections.abc import Iterator, Sequence

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.recording import Composed, EntryContext, record
from benchapp.sequences.planning.entries import POWERED, EntryKind
from benchapp.sequences.planning.entry_contents import (
    EventContent,
    FalseAlarmContent,
    FaultContent,
    HazardContent,
    NoteContent,
    OpenedContent,
    PartUsed,
    RepairContent,
)
from benchapp.words import say

AGED = "the dead tests are taken again"


def record_fault(
    bench: Bench,
    unit: str,
    *,
    part: str,
    mode: str,
    words: str,
    by: str,
    address: str = "",
    severity: str = "mend",
    found_for: int = 0,
) -> ChangeSet:
    """What is wrong and where; `address` is the step that showed it, `severity` note, mend or do not use.

    `found_for` is the entry of an open fault of which this is what was found.
    """
    content = FaultContent(part=part, mode=mode, words=words, severity=severity, found_for=found_for)
    said = Composed(
        kind=EntryKind.fault,
        address=address,
        content=content,
        words=say("Fault recorded: {first_sentence}", first_sentence=_first_sentence(words)),
    )
    return record(bench, unit, lambda _: said, by=by)


def record_repair(
    bench: Bench,
    unit: str,
    *,
    fault: int | None,
    part: str,
    done: str,
    by: str,
    opened: Sequence[str] = (),
    parts_used: Sequence[PartUsed] = (),
    actions: Sequence[str] = (),
    mode: str = "",
    seen: int | None = None,
) -> ChangeSet:
    """What was done about a fault (its entry number), what was opened (cord, plug, enclosure), parts used.

    `actions` are the lines of the repair's list that were ticked: what they open is opened, said or not. `mode` says
    how the part proved to be wrong, where the fault had it otherwise.
    """

    def compose(now: EntryContext) -> Composed:
        content = RepairContent(
            fault=fault,
            part=part,
            done=done,
            opened=tuple(dict.fromkeys((*opened, *_opened_by_list(now, fault, part, mode, actions)))),
            parts_used=tuple(parts_used),
            actions=tuple(actions),
            mode=mode,
        )
        words = say("Repair recorded; what rests on it is taken again.")
        return Composed(kind=EntryKind.repair, content=content, words=words)

    return record(bench, unit, compose, by=by, seen=seen)


def _opened_by_list(now: EntryContext, fault: int | None, part: str, mode: str, ticked: Sequence[str]) -> Iterator[str]:
    """What this repair's list opens, where one of its lines was ticked: a list may say an opening in other words."""
    if not ticked:
        return
    from benchapp.sequences.history.repairs import repair_list

    known = next((one.mode for one in now.state.faults if one.entry == fault), "")
    listed = repair_list(now.plan, now.state.facts, part, mode or known)
    if any(action.words in ticked for action in listed.actions):
        yield from (one.value for one in listed.opens)


def record_opened(bench: Bench, unit: str, opened: Sequence[str], *, by: str, why: str = "") -> ChangeSet:
    """Cord, plug or enclosure was opened without a repair: to look, or to clean."""
    content = OpenedContent(opened=tuple(opened), why=why)
    said = Composed(kind=EntryKind.opened, content=content, words=f"Opened: {', '.join(opened)}.")
    return record(bench, unit, lambda _: said, by=by)


def record_event(bench: Bench, unit: str, event: str, *, by: str, note: str = "", with_it: str = "") -> ChangeSet:
    """Something that ages dead tests (a fall, damp, wet cleaning), or power outside the steps of the route.

    `with_it` names who stays beside a unit that is left and may be live; `note` says why it is left.
    """
    after = "it counts as live or charged until the way back is gone" if event in POWERED else AGED
    said = Composed(
        kind=EntryKind.event,
        content=EventContent(event=event, note=note.strip(), with_it=with_it.strip()),
        words=f"{event.capitalize()} recorded; {after}.",
    )
    return record(bench, unit, lambda _: said, by=by)


def record_hazard(bench: Bench, unit: str, hazard: str, *, by: str, note: str = "") -> ChangeSet:
    """Smoke, smell, hum or heat: off at the wall, then fault, hold and a do-not-use tag."""
    said = Composed(
        kind=EntryKind.hazard,
        content=HazardContent(hazard=hazard, note=note),
        words=say(
            "{unit} is on hold for {hazard}. Leave it unplugged and tie on its do-not-use tag.",
            unit=unit,
            hazard=hazard,
        ),
    )
    return record(bench, unit, lambda _: said, by=by)


def record_false_alarm(
    bench: Bench, unit: str, hazard: int, *, by: str, reason: str, looked: Sequence[str]
) -> ChangeSet:
    """The key was struck by mistake: `hazard` is the entry that was none, `looked` what was looked at since."""
    content = FalseAlarmContent(hazard=hazard, reason=reason, looked=tuple(looked))
    words = say("{unit} goes on: it was a false alarm.", unit=unit)
    said = Composed(kind=EntryKind.false_alarm, content=content, words=words)
    return record(bench, unit, lambda _: said, by=by)


def record_note(bench: Bench, unit: str, words: str, *, by: str) -> ChangeSet:
    """A remark for whoever comes after."""
    said = Composed(kind=EntryKind.note, content=NoteContent(words=words), words="Noted.")
    return record(bench, unit, lambda _: said, by=by)


def _first_sentence(words: str) -> str:
    return f"{words.partition('. ')[0].rstrip('.')}."
