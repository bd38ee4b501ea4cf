"""What a workbook file holds: how many entries and units, the last entry, the head of every unit's chain.

Two such answers say what one file has and the other has not.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import DamagedWorkbook
from benchapp.workbook.opened.opening import revision_of
from benchapp.workbook.record import board
from benchapp.workbook.record.sealing import canonical, digest


class UnitHead(NamedTuple):
    """What a unit is called, and the number and hash of its newest entry."""

    mark: str
    number: int
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Holdings:
    """Counts and heads of one file; `units` by their UUIDs: a shelf mark can change."""

    workbook: str
    """the workbook's UUID"""
    units: Mapping[str, UnitHead]
    last_at: str
    """time of the newest entry of any unit; empty where there is none"""
    recorded: str
    """SHA-256 over all that was recorded: two files that have the same hold the same"""

    @property
    def entries(self) -> int:
        """How many entries the units have together."""
        return sum(head.number for head in self.units.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Further:
    """What a file has of one unit that another file has not: entries `first` to `last`; `fork` where both went on."""

    unit: str
    first: int
    last: int
    fork: bool = False

    @property
    def entries(self) -> int:
        """How many entries that are."""
        return max(0, self.last - self.first + 1)


def read_holdings(path: Path) -> Holdings:
    """What the file holds; raises WorkbookProblem. Reads the heads alone, no entry."""
    revision_of(path, look_only=True)
    store = Store(path, look_only=True)
    try:
        return holdings_of(store)
    finally:
        store.close()


def holdings_of(store: Store) -> Holdings:
    """The same of an open file."""
    with store.looking() as connection:
        itself = connection.execute("SELECT uuid FROM workbook").fetchone()
        if itself is None:
            raise DamagedWorkbook(store.name, "it does not say which workbook it is")
        chains = connection.execute("SELECT uuid, last_entry, last_sha256 FROM chains ORDER BY uuid").fetchall()
    units = board.read_units(store)
    heads = {unit.uuid: UnitHead(unit.mark, unit.last_entry, unit.record_hash) for unit in units}
    last_at = max((unit.last_at for unit in units if unit.last_entry), default="")
    return Holdings(workbook=str(itself[0]), units=heads, last_at=last_at, recorded=digest(canonical(chains)))


def further_in(file: Holdings, than: Holdings) -> tuple[Further, ...]:
    """What `file` has and the other has not, by the name of the unit there."""
    found = []
    for uuid, (mark, last, seal) in sorted(file.units.items(), key=lambda one: one[1].mark):
        known = than.units.get(uuid, UnitHead(mark, 0, ""))
        if last > known.number or uuid not in than.units:
            found.append(Further(unit=mark, first=min(known.number + 1, last or 1), last=last))
        elif last == known.number and seal != known.sha256:
            found.append(Further(unit=mark, first=last, last=last, fork=True))
    return tuple(found)
