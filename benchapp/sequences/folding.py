"""How does a unit stand? The fold of its whole history; pure, and the same on any machine for ever."""

from collections.abc import Sequence

from benchapp.sequences.entries import Entry
from benchapp.sequences.planned import Plan
from benchapp.sequences.state import UnitState


def fold(plan: Plan, entries: Sequence[Entry], *, at: str) -> UnitState:
    """The state of the unit at the time `at` (ISO 8601, UTC) that these entries, oldest first, leave it in."""
    ...
