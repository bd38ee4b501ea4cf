"""What of an entry's text stands in columns too: made from the text alone, so that it can always be made again."""

from typing import Any

from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.entry_contents import FactContent, WithdrawalContent

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
    content = entry.content
    answers = isinstance(content, AnswerContent)
    row = {name: getattr(content, name, None) if answers else None for name in INPUTS}
    row["flickers"] = isinstance(content, ReadingContent) and content.flickers
    row["withdraws"] = content.number if isinstance(content, WithdrawalContent) else None
    row["states_facts"] = isinstance(content, AnswerContent | FactContent) and bool(content.facts)
    for name in ("uuid", "number", "kind", "at", "by", "bench", "address", "run", "rules"):
        row[name] = getattr(entry, name)
    return row
