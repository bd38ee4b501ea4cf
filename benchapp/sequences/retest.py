"""What has to be taken again after a repair? Shown before the technician agrees, and enforced by the fold."""

from collections.abc import Sequence

from benchapp.sequences.planned import Plan
from benchapp.sequences.state import UnitState


def retest_scope(plan: Plan, state: UnitState, part: str, opened: Sequence[str]) -> tuple[str, ...]:
    """Addresses, in order, of the steps that a repair of `part` with these things opened makes stale."""
    ...
