"""The meter on a wire of the search page: it is read for the pair in sight, and for nothing else."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.wires.reading_field import ReadingField
from benchapp.desktop.wires.sources import SourceOfReading, Taken
from benchapp.desktop.wires.strip import WireStrip
from benchapp.sequences.language.vocabulary import ReadingSource

if TYPE_CHECKING:
    from benchapp.actions.entries.searching import Search


class ProbingWire(QObject):
    """Puts into the field what the meter shows for the pair that is asked for; a person's digits stay."""

    recorded = Signal()
    """what stands in the field is recorded, as by Enter"""

    def __init__(self, context: AppContext, field: ReadingField, parent: QObject) -> None:
        super().__init__(parent)
        self.strip = WireStrip(context)
        self._field = field
        self.sources = SourceOfReading()
        self.strip.taken.connect(self._take)
        field.shown_asked.connect(self.strip.take_shown)
        field.over_range.connect(lambda: field.setText("OL"))

    def ask(self, view: UnitView, search: "Search", *, live: bool) -> None:
        """A pair is asked for: read the meter that the search names."""
        from benchapp.judgement.meters.functions import Function

        meter = view.plan.meters.get(search.live_meter if live else search.meter)
        self.sources.forget()
        self.strip.watch_function(meter, Function.ac_voltage if live else Function.resistance, live=view.live)
        self._field.on_wire = self.strip.watches

    def rest(self) -> None:
        """No pair is in sight: what the probes touch now is no answer."""
        self.sources.forget()
        self.strip.rest()
        self._field.on_wire = False

    def _take(self, taken: Taken) -> None:
        if self._field.text().strip() and not self.sources.is_sent(self._field.text()):
            return
        self.sources.remember(taken)
        self._field.setText(taken.text)
        if taken.source is ReadingSource.steady:
            self.strip.tell(good=True)
        self.recorded.emit()
