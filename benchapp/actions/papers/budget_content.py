"""The uncertainty of a unit's readings as a record sheet prints it: readings with the same budget share one."""

from collections.abc import Iterable, Iterator

from benchapp.paper.content import Budget
from benchapp.sequences.planning.answer_content import ReadingContent, is_reading
from benchapp.sequences.planning.entries import Entry


def budget_content(entries: Iterable[Entry]) -> tuple[Budget, ...]:
    """One budget for each set of readings whose printed lines are the same, in the order of the first of them."""
    alike: dict[Budget, list[str]] = {}
    for entry in entries:
        if is_reading(entry):
            for budget in _budget_of(entry.content):
                alike.setdefault(budget, []).append(str(entry.number))
    return tuple(
        Budget(numbers=tuple(numbers), taken_with=one.taken_with, rows=one.rows, combined=one.combined)
        for one, numbers in alike.items()
    )


def meter_cautions(entries: Iterable[Entry]) -> tuple[str, ...]:
    """What had to be said of the meters beside the readings, each once."""
    return tuple(
        dict.fromkeys(words for entry in entries if is_reading(entry) for words in entry.content.meter_cautions)
    )


def _budget_of(content: ReadingContent) -> Iterator[Budget]:
    from benchapp.judgement.uncertainty.budget_words import budget_table, combined_words

    known = content.uncertainty
    if known is None:
        return
    yield Budget(
        numbers=(),
        taken_with=", ".join(said for said in (content.meter, content.function) if said) or "worked out",
        rows=budget_table(known, content.kind, content.unit),
        combined=combined_words(known, content.kind, content.unit),
    )
