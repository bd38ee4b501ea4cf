"""What of an entry's text stands in columns too: made from the text alone, so that it can always be made again."""

from collections.abc import Mapping
from typing import Any

from benchapp.sequences.planning.entries import Entry, EntryKind

INPUTS = (
    "value",
    "bound",
    "lower",
    "upper",
    "standard_uncertainty",
    "expanded_uncertainty",
    "coverage",
    "dominant_half_width",
    "others_standard_uncertainty",
    "over_range_at",
    "mains",
    "rule",
    "judgement",
)
"""keys of an answer's content that stand in columns of their own: its judgement's inputs, in SI units"""


def columns_of(entry: Entry) -> dict[str, Any]:
    """The columns of the entry's row, but for the chain's row number, the text and its hash."""
    content: Mapping[str, Any] = entry.content
    answers = entry.kind is EntryKind.answer
    row = {name: content.get(name) if answers else None for name in INPUTS}
    row["flickers"] = answers and content.get("flickers") is True
    row["withdraws"] = content.get("number") if entry.kind is EntryKind.withdrawal else None
    row["states_facts"] = "facts" in content
    for name in ("uuid", "number", "kind", "at", "by", "bench", "address", "run", "rules"):
        row[name] = getattr(entry, name)
    return row
