"""May this be recorded? The one gate that every entry passes before it is recorded."""

from collections.abc import Sequence

from benchapp.sequences.entries import Entry
from benchapp.sequences.planned import Plan
from benchapp.sequences.state import UnitState


def refuse(plan: Plan, entries: Sequence[Entry], entry: Entry) -> str | None:
    """The sentence with which the prospective entry is refused, or None when it may be recorded."""
    ...


def refuse_in(plan: Plan, state: UnitState, entry: Entry) -> str | None:
    """The same where the state at `entry.at` is already known."""
    ...
