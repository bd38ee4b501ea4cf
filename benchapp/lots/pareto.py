"""The faults of a lot by how often they come, and those that many units share.

A fault that three of five units share is no outlier: it may be in the design, or in how the stage is done. The sweep
pauses, and the units that passed are questioned.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

SAME_IN = 3
LAST = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultOfUnit:
    """A fault that was found on a unit."""

    mark: str
    part: str
    mode: str = ""

    @property
    def name(self) -> str:
        """Part and mode in words."""
        return f"{self.part}, {self.mode}" if self.mode else self.part


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultCount:
    """One fault of a lot: how many units have it, and what it and the more frequent ones make up together."""

    name: str
    units: int
    share: float
    together: float


def count_faults(faults: Iterable[FaultOfUnit]) -> tuple[FaultCount, ...]:
    """Faults by how many units have them, most frequent first; those of equal count by name."""
    counts = Counter(name for _mark, name in {(fault.mark, fault.name) for fault in faults})
    whole = sum(counts.values())
    rows: list[FaultCount] = []
    so_far = 0
    for name, units in sorted(counts.items(), key=lambda item: (-item[1], item[0])):
        so_far += units
        rows.append(FaultCount(name=name, units=units, share=units / whole, together=so_far / whole))
    return tuple(rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedFault:
    """A fault that many of a few units have: these, and the others of them, which passed."""

    name: str
    units: tuple[str, ...]
    others: tuple[str, ...]


def shared_fault(swept: Sequence[str], faults: Iterable[FaultOfUnit]) -> SharedFault | None:
    """The fault that three of the last five units of a sweep have (by shelf mark, in order); None when none is."""
    last = tuple(swept[-LAST:])
    known = [fault for fault in faults if fault.mark in last]
    for row in count_faults(known):
        if row.units >= SAME_IN:
            units = tuple(mark for mark in last if any((one.mark, one.name) == (mark, row.name) for one in known))
            return SharedFault(name=row.name, units=units, others=tuple(mark for mark in last if mark not in units))
    return None
