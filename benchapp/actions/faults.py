"""Faults and what befalls a unit: fault, repair, a fall or damp, smoke and smell."""

from collections.abc import Mapping, Sequence

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes


def record_fault(bench: Bench, unit: str, *, part: str, mode: str, words: str, by: str, address: str = "") -> Changes:
    """What is wrong and where; `address` is the step that showed it."""


def record_repair(
    bench: Bench,
    unit: str,
    *,
    fault: int | None,
    part: str,
    done: str,
    by: str,
    opened: Sequence[str] = (),
    parts_used: Sequence[Mapping[str, object]] = (),
) -> Changes:
    """What was done about a fault (its entry number), what was opened (cord, plug, enclosure), parts used."""


def record_event(bench: Bench, unit: str, event: str, *, by: str, note: str = "") -> Changes:
    """Something that ages dead tests: a fall, damp, wet cleaning."""


def record_hazard(bench: Bench, unit: str, hazard: str, *, by: str, note: str = "") -> Changes:
    """Smoke, smell, hum or heat: off at the wall, then fault, hold and a do-not-use tag."""
