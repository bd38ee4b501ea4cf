"""The meter on a wire of the bench opening: read for the row that has the keyboard, taken by a person's key alone."""

from PySide6.QtCore import QObject, Signal

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.opening_rows import MeterRow
from benchapp.desktop.scanning.codes import unit_of_code
from benchapp.desktop.wires.keyboard_meter import NotTaken, read_burst, types_itself
from benchapp.desktop.wires.sources import Taken
from benchapp.desktop.wires.strip import WireStrip
from benchapp.desktop.words import tr
from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.words import shown


class OpeningWire(QObject):
    """Puts into a row what its meter shows of its leads, or of the known source.

    It may be turned to volts through the wire, never to ohms: the probes may still be on the known source.
    """

    turned = Signal()
    """another meter is read, or none"""
    complained = Signal(object)
    """why what a meter typed was not taken; empty where it was"""

    def __init__(self, context: AppContext, parent: QObject) -> None:
        super().__init__(parent)
        self.strip = WireStrip(context)
        self.strip.lie_flat()
        self._context = context
        self._row: MeterRow | None = None
        self._of_leads = False
        self.strip.taken.connect(self._take)

    def read(self, row: MeterRow, of_leads: bool) -> None:
        """The keyboard is in that row."""
        from benchapp.sequences.interlock.reading_sources import PROVES_LEADS, PROVES_METER

        if self.strip.watches and (row, of_leads) == (self._row, self._of_leads):
            return
        self._row, self._of_leads = row, of_leads
        function = row.function(of_leads=of_leads)
        never = tr(PROVES_LEADS) if of_leads else tr(PROVES_METER)
        self.strip.watch_function(row.meter, function, live=True, never=never)
        (row.leads if of_leads else row.proved).on_wire = self.strip.watches
        self.turned.emit()

    def rest(self) -> None:
        """No row is in sight."""
        self._row = None
        self.strip.rest()

    def take_burst(self, text: str) -> bool:
        """Put into the row what its own meter typed there; False where it types nothing, or a unit's tag came."""
        bench, typed, row = self._context.bench, text.strip(), self._row
        if row is None or not row.has_keyboard or not types_itself(bench, row.meter) or unit_of_code(bench, typed):
            return False
        function = row.function(of_leads=self._of_leads)
        if function is None:
            return False
        reading = read_burst(typed, function, stands=row.leads.text().strip() if self._of_leads else "")
        if isinstance(reading, NotTaken):
            self.complained.emit(reading.words)
        else:
            said = self._put(Taken(text=typed, sent=typed, source=ReadingSource.keyboard))
            self.complained.emit("" if self._of_leads or row.proved.isChecked() else said)
        return True

    def _take(self, taken: Taken) -> None:
        if said := self._put(taken):
            self.strip.says.setText(said)

    def _put(self, taken: Taken) -> str:
        """Put it into the row; what there is to say of it."""
        if self._row is None:
            return ""
        if self._of_leads:
            self._row.take_leads(taken)
            return ""
        from benchapp.sequences.planning.meter_proofs import is_of_known_source, no_known_source

        volts = volts_of(taken.text)
        if volts is None or not is_of_known_source(volts):
            return shown(no_known_source(self._row.meter.meter))
        self._row.take_known(volts, taken.sent)
        return tr("Proved: it read {reading}.").format(reading=taken.text)


def volts_of(text: str) -> float | None:
    """The volts that were sent; None over range."""
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.entry import read_reading

    return read_reading(text, kind=Kind("voltage")).si
