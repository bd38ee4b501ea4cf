"""What is shown of a unit without folding (disposition, due, grade, price, stages), worked out again and compared.

It stands as at `units.shown_at`: the time of the unit's last entry, or of a later opening of a bench or change of the
settings, under the settings that this entry cites or says. No other time is plausible.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from benchapp.actions.workbench.unit_summary import summary_after
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_times import seconds_between
from benchapp.sequences.planning.planned import Plan
from benchapp.workbook.model.values import StageRow, UnitSummary

MOVES_NOTHING = frozenset({EntryKind.shelf_mark, EntryKind.lent, EntryKind.moved})
"""kinds of entry after which a unit is shown as before"""
_COLUMNS = ("disposition", "due", "grade", "price", "moves_at", "live")
_STAGE_COLUMNS = ("position", "title", "status", "done", "of", "why")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What the workbook shows of a unit, and since when."""

    at: str
    summary: UnitSummary


def what_is_shown_wrong(
    mark: str, shown: Shown, entries: Sequence[Entry], brought_up: Iterable[Entry], plan_of: Callable[[Entry], Plan]
) -> Iterator[str]:
    """In words; `entries` is the whole chain from the beginning on, `brought_up` are the openings and the settings,
    `plan_of` gives the unit's plan now under the settings that an entry cites or says."""
    moments = [(one, folded) for one, folded in _moments(entries, brought_up) if one.at == shown.at]
    if not moments:
        yield f"{mark} is shown as at {shown.at or 'no time'}, when nothing was recorded that could move it"
        return
    found: list[str] = []
    for moment, folded in moments:
        state = fold(plan_of(moment), folded, at=shown.at)
        found = list(_differences(mark, shown.summary, summary_after(mark, state, folded)))
        if not found:
            return
    yield from found


def _moments(entries: Sequence[Entry], brought_up: Iterable[Entry]) -> Iterator[tuple[Entry, Sequence[Entry]]]:
    """The entries at whose time the unit may have been shown anew, each with the unit's entries until then: its last,
    or one of the others after that. What moves nothing may have come before or after."""
    there = len(entries)
    while there > 1 and entries[there - 1].kind in MOVES_NOTHING:
        there -= 1
    for until in range(len(entries), there - 1, -1):
        yield entries[until - 1], entries[1:until]
    for moment in brought_up:
        if seconds_between(entries[there - 1].at, moment.at) >= 0:
            for until in range(len(entries), there - 1, -1):
                yield moment, entries[1:until]


def _differences(mark: str, there: UnitSummary, expected: UnitSummary) -> Iterator[str]:
    for name in _COLUMNS:
        found, said = getattr(there, name), getattr(expected, name)
        if found != said:
            yield f"{mark}: its {name} is shown as {found!r}, the record makes it {said!r}"
    stages, made = _by_id(there.stages), _by_id(expected.stages)
    for ident in sorted({*stages, *made}):
        if ident not in made:
            yield f"{mark}: a stage {ident!r} is shown that its run does not have"
        elif ident not in stages:
            yield f"{mark}: its stage {ident!r} is not shown"
        else:
            yield from _stage_differences(mark, stages[ident], made[ident])


def _stage_differences(mark: str, there: StageRow, expected: StageRow) -> Iterator[str]:
    for name in _STAGE_COLUMNS:
        found, said = getattr(there, name), getattr(expected, name)
        if found != said:
            yield f"{mark}: {name} of its stage {there.stage!r} is shown as {found!r}, the record makes it {said!r}"


def _by_id(stages: Iterable[StageRow]) -> dict[str, StageRow]:
    return {row.stage: row for row in stages}
