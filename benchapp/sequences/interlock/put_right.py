"""What takes a unit out of use for good asks for a reason, and so does what puts that right; both stay on record."""

from collections.abc import Iterator

from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.interlock.due import EngineState
from benchapp.sequences.interlock.old_hazards import refuse_work
from benchapp.sequences.interlock.step_gate import go_back
from benchapp.sequences.interlock.way_back import is_for_hands
from benchapp.sequences.planning.entries import Disposition, Entry
from benchapp.sequences.planning.entry_contents import DispositionContent, PlugDestroyedContent, PlugKeptContent
from benchapp.words import say


def refuse_destroyed(engine: EngineState, entry: Entry[PlugDestroyedContent]) -> str | None:
    """Why an entry that the plug is destroyed is refused; None where it may be recorded."""
    if not is_for_hands(engine.evaluation):
        return go_back(engine.evaluation)
    if untouched := refuse_work(engine.evaluation):
        return untouched
    if engine.evaluation.ledger.destroyed:
        return say("Its plug was destroyed before.")
    return None if entry.content.note.strip() else say("Say why its mains plug is cut off and destroyed.")


def refuse_kept(engine: EngineState, entry: Entry[PlugKeptContent]) -> str | None:
    """Why an entry that the plug is on after all is refused; None where it may be recorded."""
    if not is_for_hands(engine.evaluation):
        return go_back(engine.evaluation)
    if not engine.evaluation.ledger.destroyed:
        return say("Nobody said that its plug was destroyed: there is nothing to put right.")
    return None if entry.content.why.strip() else say("Say why the entry that its plug was destroyed is wrong.")


def refuse_unsaid(engine: EngineState, entry: Entry[DispositionContent]) -> str | None:
    """Scrap, and any way out of scrap, says why."""
    before = engine.evaluation.ledger.disposition
    was = before.content.disposition if before is not None else ""
    said = entry.content
    if Disposition.scrap not in (was, said.disposition) or was == said.disposition or said.note.strip():
        return None
    return (
        say("Say why it is scrap.")
        if said.disposition == Disposition.scrap
        else say("It was scrap: say why it is not.")
    )


def put_right(ledger: Ledger) -> Iterator[tuple[str, Entry]]:
    """What was said of the unit and put right later: in words with both reasons, and the entry that did."""
    for kept in ledger.kept:
        before = [e for e in ledger.by_number.values() if e.number < kept.number]
        said = next(e.content.note for e in reversed(before) if isinstance(e.content, PlugDestroyedContent))
        yield say("Plug destroyed ({said}): wrong, {why}", said=said, why=kept.content.why), kept
    for was, now in zip(ledger.dispositions, ledger.dispositions[1:], strict=False):
        if was.content.disposition == Disposition.scrap != now.content.disposition:
            yield (
                say("Scrap ({note}): no longer, {content_note}", note=was.content.note, content_note=now.content.note),
                now,
            )
