"""One sequence while its file is checked, from the first step to the last: what may be named at a step."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.quantities.dimensions import Kind
from benchapp.sequences.language.models import SequenceFile, Step, id_of

FEW = 12
"""Names listed as expected before the list would hide the line (own choice)."""


@dataclass(slots=True, kw_only=True)
class CheckContext:
    """What a step may name beside the steps before it.

    Facts of units with the values that they can have (None: any text; empty: a number), readings of all sequences by
    "sequence.step", parts that can be at fault, switches of all equipment.
    """

    facts: Mapping[str, frozenset[str] | None]
    readings: Mapping[str, Kind]
    parts: frozenset[str] = frozenset()
    switches: frozenset[str] = frozenset()


@dataclass(slots=True, kw_only=True)
class SequenceContext:
    """A file that is checked, with what may be named in it."""

    document: Document
    known: CheckContext
    seen: dict[str, Kind | None] = field(default_factory=dict)
    """steps so far, with the kind of their reading"""
    done: dict[str, Step] = field(default_factory=dict)
    """steps so far, by id"""

    def complain(self, key: Key, what: str, expected: str = "", near: str | None = None, at: int = 0) -> Complaint:
        """A complaint at that place of the file; `at` counts characters inside the value."""
        location = self.document.location(key)
        if at and key in self.document.words:
            location = location.moved(at)
        return Complaint(location=location, what=what, expected=expected, nearest=near or "")

    def unknown(self, key: Key, what: str, word: str, known: Iterable[str]) -> Complaint:
        """A complaint about a word that is none of those known, with the nearest of them or, of a few, all."""
        names = sorted(known)
        near = nearest(word, names)
        expected = f"one of {', '.join(names)}" if not near and 0 < len(names) <= FEW else ""
        return self.complain(key, what, expected, near)

    def later(self, name: str) -> str:  # noqa: ARG002 - a page has no steps
        """Where a step of that id comes after those seen so far, in words; empty where there is none."""
        return ""


@dataclass(slots=True, kw_only=True)
class Walk(SequenceContext):
    """One sequence on its way from the first step to the last."""

    sequence: SequenceFile

    def later(self, name: str) -> str:
        """Where a step of that id comes after those seen so far, in words; empty where there is none."""
        own = name.removeprefix(f"{self.sequence.sequence}.")
        for number, step in enumerate(self.sequence.steps):
            if id_of(step) == own and own not in self.seen:
                line = self.document.location(("steps", number)).line
                return f"“{name}” comes only on line {line}, after this"
        return ""
