"""Hazards of old equipment on a unit: found, and cleared by a supervisor."""

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, EntryContext, record
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import FaultContent, HazardClearedContent
from benchapp.words import say


def record_old_hazard(
    bench: Bench, unit: str, hazard: str, *, by: str, where: str = "", address: str = ""
) -> ChangeSet:
    """A hazard of old equipment was found: a fault that says do not use, which shuts what the hazard's file says.

    `where` says in words where it sits. Raises Refused for a hazard that this run does not know.
    """

    def compose(now: EntryContext) -> Composed:
        known = now.plan.hazards.get(hazard)
        if known is None:
            raise Refused(
                say(
                    "This run knows no hazard {hazard!r}. It knows {listed}.",
                    hazard=hazard,
                    listed=", ".join(now.plan.hazards) or "none",
                )
            )
        seen = f"{known.seen} {_sentence(where)}".strip()
        content = FaultContent(part=known.part, words=seen, severity="do not use", old_hazard=hazard)
        words = say("{title} is on record. {say}", title=known.title, say=known.do[0].say)
        return Composed(kind=EntryKind.fault, address=address, content=content, words=words)

    return record(bench, unit, compose, by=by)


def _sentence(where: str) -> str:
    """What was typed as a sentence of its own: what to do stands right behind it."""
    said = where.strip()
    return f"{said[0].upper()}{said[1:].rstrip('.')}." if said else ""


def clear_hazard(bench: Bench, unit: str, hazard: str, fault: int, *, by: str, reason: str) -> ChangeSet:
    """A supervisor says how a hazard left the unit, or that it never was there; `fault` is the entry that found it."""
    content = HazardClearedContent(hazard=hazard, fault=fault, reason=reason.strip())
    words = say("{by} clears the hazard; what an opening makes old is taken again.", by=by)
    said = Composed(kind=EntryKind.hazard_cleared, content=content, words=words)
    return record(bench, unit, lambda _: said, by=by)
