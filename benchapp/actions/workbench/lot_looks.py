"""The look of a lot, read from the record; a unit that nothing was recorded of since is not worked out again."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import Unit

if TYPE_CHECKING:
    from benchapp.lots.lot_look import LotLook
    from benchapp.lots.unit_look import UnitLook


class LotLooks:
    """Keeps what each unit told while its record, and what time has moved of it, are the same."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._kept: dict[str, tuple[tuple[str, str], UnitLook]] = {}

    def look(self, lot: str, stop: Callable[[], bool]) -> "LotLook | None":
        """The lot in one look, its units folded one by one; None where it is told to stop. Raises NotInWorkbook."""
        from benchapp.lots.lot_look import lot_look

        looks = []
        for unit in self._bench.units(lot):
            if stop():
                return None
            looks.append(self._look_at(unit))
        return lot_look(self._bench.board(lot), looks)

    def at_once(self, lot: str) -> "LotLook":
        """What the board alone says: no yield, no faults, nothing to fetch. Raises NotInWorkbook."""
        from benchapp.lots.lot_look import lot_look

        return lot_look(self._bench.board(lot), ())

    def _look_at(self, unit: Unit) -> "UnitLook":
        from benchapp.lots.unit_look import look_at_unit

        stands = (unit.record_hash, unit.shown_at)
        known = self._kept.get(unit.uuid)
        if known is None or known[0] != stands:
            told = look_at_unit(unit.mark, self._bench.plan(unit.mark), self._bench.state(unit.mark))
            known = self._kept[unit.uuid] = (stands, told)
        return known[1]
