"""Intake: a lot of units with their shelf marks, each with a run that pins its texts."""

from collections.abc import Collection, Mapping, Sequence

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes


def shelf_marks(first: str, count: int, *, taken: Collection[str] = ()) -> tuple[str, ...]:
    """`count` shelf marks counting up from the first ("TB-001"), leaving out those taken; raises IntakeProblem."""


def take_in_lot(
    bench: Bench,
    *,
    name: str,
    equipment: str,
    route: str,
    marks: Sequence[str],
    by: str,
    note: str = "",
    facts: Mapping[str, object] | None = None,
) -> Changes:
    """A new lot, its units in quarantine, a run each on the route as its text stands now."""


def start_run(bench: Bench, unit: str, *, by: str, route: str | None = None) -> Changes:
    """A new run of a unit, on the texts as they stand now; its history stays."""
