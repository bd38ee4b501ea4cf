"""The entries of the units at hand, kept in memory and topped up from the workbook, where other windows write too."""

import threading
from dataclasses import dataclass, replace

from benchapp.sequences.planning.entries import Entry
from benchapp.workbook.values import Run
from benchapp.workbook.workbook import Workbook


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """A unit's whole history, the run it is in, and the lot it belongs to."""

    lot: str
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
            if known is None:
                lot = self._workbook.unit(mark).lot
                known = History(lot=lot, run=self._workbook.current_run(mark))
            new = self._workbook.entries(mark, after=len(known.entries))
            if new:
                known = replace(known, entries=known.entries + new)
                if new[-1].run != known.run.uuid:
                    known = replace(known, run=self._workbook.current_run(mark))
            self._known[mark] = known
            return known

    def forget(self, mark: str) -> None:
        """Read the unit anew next time."""
        with self._guard:
            self._known.pop(mark, None)
