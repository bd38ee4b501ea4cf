"""The uncertainty of a unit's readings as a record sheet prints it: readings with the same budget share one."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from benchapp.paper.content import Budget
from benchapp.sequences.planning.entries import Entry, EntryKind


def budget_content(entries: Iterable[Entry]) -> tuple[Budget, ...]:
    """One budget for each set of readings whose printed lines are the same, in the order of the first of them."""
    alike: dict[Budget, list[str]] = {}
    for entry in entries:
        if entry.kind is EntryKind.answer:
            for budget in _budget_of(entry.content):
                alike.setdefault(budget, []).append(str(entry.number))
    return tuple(
        Budget(numbers=tuple(numbers), taken_with=one.taken_with, rows=one.rows, combined=one.combined)
        for one, numbers in alike.items()
    )


def meter_cautions(entries: Iterable[Entry]) -> tuple[str, ...]:
    """What had to be said of the meters beside the readings, each once."""
    found = (words for entry in entries for words in entry.content.get("meter_cautions", ()))
    return tuple(dict.fromkeys(str(words) for words in found))


def _budget_of(content: Mapping[str, Any]) -> Iterator[Budget]:
    from benchapp.judgement.uncertainty.budget_words import budget_table, combined_words
    from benchapp.quantities.dimensions import Kind
    from benchapp.sequences.answering.stored_uncertainty import uncertainty_from

    known = uncertainty_from(content)
    if known is None:
        return
    kind, unit = Kind(content["kind"]), str(content.get("unit") or "")
    yield Budget(
        numbers=(),
        taken_with=", ".join(str(content[key]) for key in ("meter", "function") if content.get(key)) or "worked out",
        rows=budget_table(known, kind, unit),
        combined=combined_words(known, kind, unit),
    )
