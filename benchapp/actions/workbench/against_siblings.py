"""What a unit's reading says beside those of its lot: for the screen, the record sheet and programs."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from benchapp.workbook.model.values import SiblingRow
from benchapp.workbook.opened.workbook import Workbook

if TYPE_CHECKING:
    from benchapp.lots.resemblance import Likeness
    from benchapp.sequences.planning.answer_content import ReadingContent


@dataclass(frozen=True, slots=True, kw_only=True)
class BesideSiblings:
    """A reading beside its lot's, and its share of the mains beside theirs; None where there is nothing to compare."""

    read: "Likeness | None" = None
    of_mains: "Likeness | None" = None


def siblings_of(workbook: Workbook, lot: str, equipment: str, mark: str, address: str) -> tuple[SiblingRow, ...]:
    """What the lot's other units of that design read last at that step, by shelf mark."""
    latest = {row.mark: row for row in workbook.siblings(lot, equipment, address) if row.mark != mark}
    return tuple(latest[other] for other in sorted(latest))


def beside_siblings(
    siblings: Iterable[SiblingRow], content: "ReadingContent", *, step: float | None = None
) -> BesideSiblings:
    """The exact reading that an answer's content holds, beside those; `step` is the weight of its last digit in SI."""
    from benchapp.lots.resemblance import likeness, likeness_to_mains

    value = content.value
    if value is None or content.bound != "exact":
        return BesideSiblings()
    rows = tuple(siblings)
    read = {row.mark: row.value for row in rows}
    fed = {row.mark: row.mains for row in rows if row.mains}
    volts = content.mains if content.kind == "voltage" else None
    return BesideSiblings(
        read=likeness(float(value), read, step=step or 0.0), of_mains=likeness_to_mains(float(value), volts, read, fed)
    )


def sibling_sentences(beside: BesideSiblings, content: "ReadingContent") -> tuple[str, ...]:
    """In plain words, a sentence for each of the two comparisons that there are."""
    from benchapp.lots.resemblance import likeness_words, mains_words

    found = []
    if beside.read is not None:
        found.append(likeness_words(beside.read, content.kind, unit=content.unit))
    if beside.of_mains is not None:
        found.append(mains_words(beside.of_mains))
    return tuple(found)


def describe_siblings(beside: BesideSiblings) -> dict[str, Any]:
    """For programs, numbers in SI units."""
    return {"read": _described(beside.read), "output_over_mains": _described(beside.of_mains)}


def _described(found: "Likeness | None") -> dict[str, Any] | None:
    if found is None:
        return None
    names = ("value", "units", "lowest", "middle", "highest", "score", "worth_a_look")
    return {name: getattr(found, name) for name in names}
