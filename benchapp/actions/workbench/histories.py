"""The entries of the units at hand, kept in memory and topped up from the workbook, where other windows write too."""

import threading
from dataclasses import dataclass, replace

from benchapp.sequences.planning.entries import Entry
from benchapp.workbook.model.problems import AnotherUnit
from benchapp.workbook.model.values import Run
from benchapp.workbook.opened.workbook import Workbook


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """A unit's whole history, the run it is in, and the lot it belongs to."""

    lot: str
    unit: str
    """the UUID of its chain: marks may go from one unit to another"""
    run: Run
    entries: tuple[Entry, ...] = ()


class Histories:
    """History by shelf mark."""

    def __init__(self, workbook: Workbook) -> None:
        self._workbook = workbook
        self._known: dict[str, History] = {}
        self._guard = threading.Lock()

    def of(self, mark: str) -> History:
        """The unit's history as the workbook has it now; raises NotInWorkbook."""
        with self._guard:
            known = self._known.get(mark)
            try:
                known, new = self._top_up(mark, known or self._begin(mark))
            except AnotherUnit:
                known, new = self._top_up(mark, self._begin(mark))
            if new:
                known = replace(known, entries=known.entries + new)
                if new[-1].run != known.run.uuid:
                    known = replace(known, run=self._workbook.current_run(mark))
            self._known[mark] = known
            return known

    def _begin(self, mark: str) -> History:
        unit = self._workbook.unit(mark)
        return History(lot=unit.lot, unit=unit.uuid, run=self._workbook.current_run(mark))

    def _top_up(self, mark: str, known: History) -> tuple[History, tuple[Entry, ...]]:
        """What was known with the entries since; raises AnotherUnit."""
        return known, self._workbook.entries(mark, after=len(known.entries), chain=known.unit)

    def forget(self, mark: str) -> None:
        """Read the unit anew next time."""
        with self._guard:
            self._known.pop(mark, None)

    def forget_all(self) -> None:
        """Read every unit anew next time: marks, lots or whole records have changed."""
        with self._guard:
            self._known.clear()
