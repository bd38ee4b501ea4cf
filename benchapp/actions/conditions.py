"""What an answer rests on: caution acknowledged, meter chosen, set-up made, facts of this unit."""

from collections.abc import Mapping, Sequence

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes


def record_caution(bench: Bench, unit: str, caution: str, *, by: str) -> Changes:
    """The technician has read and acknowledged a caution."""


def record_meter(bench: Bench, unit: str, meter: str, *, by: str, accept_overdue: bool = False) -> Changes:
    """The meter in hand from here on; an overdue calibration must be knowingly accepted."""


def record_set_up(bench: Bench, unit: str, address: str, done: Sequence[str], *, by: str) -> Changes:
    """The set-up of a step has been made: the items confirmed, in words of the step."""


def record_fact(bench: Bench, unit: str, facts: Mapping[str, object], *, by: str) -> Changes:
    """What this unit has and its design has not: cord, plug, fuse, selector."""
