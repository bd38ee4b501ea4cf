"""One meter's row in the bench opening: proved today, and the resistance of its leads, each typed or taken by wire."""

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QFontMetrics

from benchapp.desktop.wires.proof_box import ProofBox
from benchapp.desktop.wires.reading_field import ReadingField
from benchapp.desktop.wires.sources import SourceOfReading, Taken
from benchapp.desktop.words import tr
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.sequences.planning.chain_contents import MeterProof

_LONGEST = "  0.1234 ohm  "
"""what stands in a field of the leads, with its edges"""


class MeterRow(QObject):
    """The tick and the field of one meter, and what it sent for either."""

    entered = Signal(object, bool)
    """this row has the keyboard; true in the field of the leads, false at the tick"""
    shown_asked = Signal()

    def __init__(self, meter: "MeterRecord", parent: QObject) -> None:
        super().__init__(parent)
        self.meter = meter
        self.proved = ProofBox(tr("{meter}: proved").format(meter=meter.title))
        self.proved.setObjectName(f"opening-proved-{meter.meter}")
        self.leads = ReadingField()
        self.leads.setObjectName(f"opening-leads-{meter.meter}")
        self.leads.setAccessibleName(tr("Lead resistance of {meter}").format(meter=meter.title))
        self.leads.setPlaceholderText(tr("leads, ohm"))
        self._of_leads = SourceOfReading()
        self._known: tuple[float, str] | None = None
        self.proved.toggled.connect(self._forget_known)
        self.leads.over_range.connect(lambda: self.leads.setText(tr("OL")))
        self.proved.entered.connect(lambda: self.entered.emit(self, False))
        self.leads.entered.connect(lambda: self.entered.emit(self, True))
        for widget in (self.proved, self.leads):
            widget.shown_asked.connect(self.shown_asked)

    def fill(self, proof: "MeterProof | None") -> None:
        """Show what today's opening has of it; what it read of the known source then is said of that time alone."""
        self.proved.setChecked(bool(proof and proof.proved))
        resistance = proof.lead_resistance if proof else None
        text = "" if resistance is None else f"{resistance:g}"
        self._of_leads.forget()
        self._known = None
        if proof is not None and proof.leads_sent:
            self._of_leads.remember(Taken(text=text, sent=proof.leads_sent, source=proof.leads_source))
        self.leads.setText(text)
        room = QFontMetrics(self.leads.font()).horizontalAdvance(_LONGEST)
        self.leads.setMinimumWidth(room)

    @property
    def has_keyboard(self) -> bool:
        """Whether what is typed now comes to this row."""
        return self.proved.hasFocus() or self.leads.hasFocus()

    def function(self, *, of_leads: bool) -> "Function | None":
        """What its wire is read on: ohms for the leads, DC volts for the known source; None where it has none."""
        from benchapp.judgement.meters.functions import Function

        wanted = (Function.resistance, Function.continuity) if of_leads else (Function.dc_voltage,)
        return next((one for one in wanted if one in self.meter.functions), None)

    def take_leads(self, taken: Taken) -> None:
        """Put into the field what the meter sent; what a person typed there stays."""
        if self.leads.text().strip() and not self._of_leads.is_sent(self.leads.text()):
            return
        self._of_leads.remember(taken)
        self.leads.setText(taken.text)

    def take_known(self, volts: float, sent: str) -> None:
        """It read so many V of the known source, so it is proved."""
        self.proved.setChecked(True)
        self._known = volts, sent

    def stands(self) -> list[Any]:
        """What stands in the row, for a draft."""
        return [self.proved.isChecked(), self.leads.text()]

    def restore(self, proved: object, leads: object) -> None:
        """Put that back."""
        self.proved.setChecked(bool(proved))
        self.leads.setText(str(leads))

    def _forget_known(self, _ticked: bool) -> None:
        self._known = None

    def proof(self) -> "MeterProof":
        """What stands in the row; raises BenchError where it cannot be read."""
        from benchapp.sequences.planning.chain_contents import MeterProof

        source, sent = self._of_leads.of(self.leads.text())
        volts, known_sent = self._known or (None, "")
        return MeterProof(
            meter=self.meter.meter,
            proved=self.proved.isChecked(),
            lead_resistance=read_leads(self.leads.text()),
            leads_source=source,
            leads_sent=sent,
            known_reading=volts,
            known_sent=known_sent,
        )


def read_leads(text: str) -> float | None:
    """The resistance of the leads in ohm as typed; None when nothing was. Raises BenchError, also for broken leads."""
    if not text.strip():
        return None
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.entry import read_reading
    from benchapp.quantities.quantity import Bound

    reading = read_reading(text, kind=Kind("resistance"), unit="ohm")
    if reading.bound is not Bound.exact:
        raise BenchError(
            tr("Leads that read “{typed}” are broken, or not touched together: measure them again.").format(typed=text)
        )
    return reading.si
