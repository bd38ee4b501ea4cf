"""Two windows at one unit: whoever comes second is told who was first, and nothing of theirs takes its place unseen."""

from collections.abc import Collection

from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.words import say

TAKES_THE_PLACE = frozenset({EntryKind.answer, EntryKind.repair, EntryKind.disposition})
"""kinds of which a second one takes the place of the first"""


def refuse_second_answer(
    unit: str, withdrawn: Collection[int], entries: tuple[Entry, ...], entry: Entry, seen: int
) -> str:
    """The sentence for whoever saw `seen` entries when another gave this answer first; empty where nobody did."""
    if entry.kind not in TAKES_THE_PLACE:
        return ""
    since = (one for one in entries[seen:] if (one.kind, one.address) == (entry.kind, entry.address))
    first = next((one for one in since if one.number not in withdrawn), None)
    if first is None:
        return ""
    given = str(getattr(first.content, "judgement", "") or getattr(first.content, "disposition", "")) or first.kind
    return say(
        "{by} was first here, at {unit} on {at} UTC: {given}. Yours was not recorded. Look at the record; what stands "
        "there can be answered again from its line.",
        by=first.by,
        unit=unit,
        at=first.at[:16].replace("T", " at "),
        given=given,
    )
