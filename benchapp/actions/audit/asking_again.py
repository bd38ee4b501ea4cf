"""A unit's history judged again and held before its gate again, entry by entry, in one walk.

What the gate says rests on more than the unit's own entries: the workshop's settings of the hour are part of the plan,
and what the bench's opening found is handed over as the day at the bench.
"""

from collections.abc import Callable, Iterable, Iterator

from benchapp.actions.audit.reverify import step_differs, what_differs
from benchapp.errors import BenchError
from benchapp.judgement.statements.statements import KNOWN_RULES
from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.interlock.bench_day import refuse_by_the_day
from benchapp.sequences.interlock.gate import refuse_entry
from benchapp.sequences.interlock.unit_walk import Standing, UnitWalk
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.answer_content import is_answer
from benchapp.sequences.planning.bench_day import BenchDay
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.planned import Plan

FORGED = (ArithmeticError, AttributeError, LookupError, TypeError, ValueError)
"""What comes of an entry that no program recorded: a time that is none, a number where a list belongs."""


def ask_again(
    plan_of: Callable[[Entry], Plan],
    entries: Iterable[Entry],
    *,
    day_of: Callable[[Entry], BenchDay] | None = None,
    beside: Callable[[Entry, Standing], None] | None = None,
) -> Iterator[tuple[Entry, tuple[str, ...]]]:
    """Every entry, oldest first, with what is wrong with it, in words; nothing where it is what it says.

    `plan_of` gives the plan under which the entry was recorded, by its run's pinned texts and the settings of the hour,
    the same object for the same plan; where it raises BenchError, that is what is wrong. `day_of` gives the day at the
    bench where the entry was made, as the opening and closing that it cites say; one of another day counts for nothing.
    Without `day_of` no entry is held to its day. `beside` is handed each entry with the unit right before it.
    """
    along = UnitWalk()
    for entry in entries:
        try:
            standing = along.before(plan_of(entry), entry.at)
            if beside is not None:
                beside(entry, standing)
            wrong = tuple(_what_is_wrong(standing, entry, day_of))
        except BenchError as problem:
            wrong = (f"it cannot be judged again: {problem.sentence.rstrip('.')}",)
        except FORGED as problem:
            wrong = (f"it cannot be judged again: it, or an entry before it, holds what none can hold ({problem})",)
        yield entry, wrong
        along.take(entry)


def _what_is_wrong(standing: Standing, entry: Entry, day_of: Callable[[Entry], BenchDay] | None) -> Iterator[str]:
    if entry.rules not in KNOWN_RULES:
        own = ", ".join(sorted(KNOWN_RULES))
        yield f"it was judged by rules {entry.rules}; this program has rules {own} and cannot say"
        return
    refused = refuse_entry(standing.engine, entry)
    if refused is None and day_of is not None:
        step = standing.plan.by_address.get(entry.address)
        supply = step.supply if step is not None else Supply.none
        refused = refuse_by_the_day(day_of(entry).as_at(entry.at), entry.content, supply=supply)
    if refused is not None:
        yield f"it would have been refused: {refused.rstrip('.')}"
    if is_answer(entry) and entry.address in standing.plan.by_address:
        yield from step_differs(standing.plan, entry)
        again = evaluate(standing.plan, standing.state, entry.address, answer_from(entry.content), at=entry.at)
        yield from what_differs(entry.content, again)
