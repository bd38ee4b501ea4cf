"""The readings beside the route that a search goes by: which entries they are, and which of them still count."""

from collections.abc import Iterable
from typing import TypeGuard

from benchapp.sequences.planning.entries import Entry, EntryKind, is_of
from benchapp.sequences.planning.entry_contents import NoteContent, ProbedReading, WithdrawalContent

DISTURB = frozenset({EntryKind.repair, EntryKind.opened, EntryKind.event})
"""After these a probe no longer tells of the unit as it is."""


def is_probe(entry: Entry) -> TypeGuard[Entry[NoteContent]]:
    """Whether the entry keeps a reading beside the route."""
    return is_of(entry, NoteContent) and entry.content.probed is not None


def standing_probes(entries: Iterable[Entry]) -> list[tuple[Entry[NoteContent], ProbedReading]]:
    """The probes since the unit was last mended, opened or befallen by something, without those taken back."""
    probes: dict[int, tuple[Entry[NoteContent], ProbedReading]] = {}
    for entry in entries:
        if entry.kind in DISTURB:
            probes.clear()
        elif is_of(entry, WithdrawalContent):
            probes.pop(entry.content.number, None)
        elif is_of(entry, NoteContent) and entry.content.probed is not None:
            probes[entry.number] = (entry, entry.content.probed)
    return list(probes.values())


def probe_words(entry: Entry[NoteContent]) -> str:
    """What was read and where: "OL between pin 2 of the outlet and pin 4 of the outlet"."""
    return entry.content.words.removeprefix("Probed: ").removeprefix("Probed ").rstrip(".")
