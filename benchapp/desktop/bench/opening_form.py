"""What is looked at when the bench is opened: a row for each meter, what proved them, who is there, the RCD."""

from collections.abc import Mapping
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from benchapp.desktop.bench.fire import fire_words
from benchapp.desktop.keys import key_text
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import add_rows, label
from benchapp.desktop.words import tr
from benchapp.errors import BenchError
from benchapp.sequences.planning.bench_day import KnownSource

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.sequences.planning.chain_contents import MeterProof
    from benchapp.workbook.model.values import BenchOpening

_NARROW = 45
"""width below which the RCD's checks stand under the day's fields, in heights of a line"""


def opening_words() -> str:
    """What is to be done, in a sentence."""
    return tr(
        "Prove each meter on a proving unit, a battery or an extra-low-voltage supply before it is trusted "
        "today, never by probing a socket; and measure its leads touched together."
    )


class OpeningForm(QWidget):
    """A row per meter: proved today, and the resistance of its leads; below them the day's other checks."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        rows = QWidget()
        self._rows = QFormLayout(rows)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self.none_yet = label("opening-no-meters", "complaint")
        self.none_yet.setText(
            tr("There is no meter yet: {key} takes one in, as its data sheet states it.").format(key=key_text("meters"))
        )
        self.rcd = QCheckBox(tr("The RCD's test button was pressed and it tripped"))
        self.rcd.setObjectName("opening-rcd")
        self.rating = QLineEdit()
        self.rating.setPlaceholderText(tr("for live work: 30 mA or less"))
        self.reset = QCheckBox(tr("It was switched on again, and stays on"))
        self.reset.setObjectName("opening-rcd-reset")
        self.source = QComboBox()
        for words, value in ((tr("choose"), ""), *((tr(one.value), one.value) for one in KnownSource)):
            self.source.addItem(words, value)
        self.room = QLineEdit()
        self.room.setPlaceholderText(tr("for live work: their name"))
        day = QWidget()
        fields = QFormLayout(day)
        fields.setContentsMargins(0, 0, 0, 0)
        add_rows(
            fields,
            (self.source, "opening-source", tr("Meters proved on")),
            (self.room, "opening-room", tr("Who else is in the room")),
            (self.rating, "opening-rcd-rating", tr("RCD, printed on it, mA")),
        )
        tripped = QWidget()
        beside = QVBoxLayout(tripped)
        beside.setContentsMargins(0, 0, 0, 0)
        for one in (self.rcd, self.reset):
            beside.addWidget(one)
        beside.addStretch(1)
        checks = Split(look, day, tripped, shares=(1, 1), narrow=_NARROW)
        body = QVBoxLayout(self)
        body.setContentsMargins(0, 0, 0, 0)
        for widget in (self.none_yet, rows, checks, label("opening-fire", "say", fire_words())):
            body.addWidget(widget)
        self._meters: dict[str, tuple[QCheckBox, QLineEdit]] = {}

    def fill(self, meters: "Mapping[str, MeterRecord]", opening: "BenchOpening | None") -> bool:
        """Show these meters, and what today's opening has of them; whether the rows are others than before."""
        anew = tuple(self._meters) != tuple(meters)
        if anew:
            self._make_rows(meters)
        self.none_yet.setVisible(not meters)
        proofs = {proof.meter: proof for proof in opening.meters} if opening else {}
        for meter_id, (proved, leads) in self._meters.items():
            proof = proofs.get(meter_id)
            proved.setChecked(bool(proof and proof.proved))
            leads.setText(f"{proof.lead_resistance:g}" if proof and proof.lead_resistance is not None else "")
        self.rcd.setChecked(bool(opening and opening.rcd_button_tested))
        self.reset.setChecked(bool(opening and opening.rcd_reset))
        rating = opening.rcd_rating if opening else None
        self.rating.setText("" if rating is None else f"{rating * 1000:g}")
        self.source.setCurrentIndex(max(self.source.findData(opening.source if opening else ""), 0))
        self.room.setText(opening.room if opening else "")
        return anew

    def _make_rows(self, meters: "Mapping[str, MeterRecord]") -> None:
        while self._rows.rowCount():
            self._rows.removeRow(0)
        self._meters = {}
        for meter_id, meter in meters.items():
            proved, leads = QCheckBox(tr("{meter}: proved").format(meter=meter.title)), QLineEdit()
            proved.setObjectName(f"opening-proved-{meter_id}")
            leads.setObjectName(f"opening-leads-{meter_id}")
            leads.setAccessibleName(tr("Lead resistance of {meter}").format(meter=meter.title))
            leads.setPlaceholderText(tr("leads, ohm"))
            self._rows.addRow(proved, leads)
            self._meters[meter_id] = (proved, leads)

    def follow(self, *after: QWidget) -> None:
        """Let Tab go through the form in the order in which it is read, and then to these."""
        order: list[QWidget] = [widget for pair in self._meters.values() for widget in pair]
        order += [self.source, self.room, self.rating, self.rcd, self.reset, *after]
        for one, following in pairwise(order):
            QWidget.setTabOrder(one, following)

    def first(self) -> QWidget:
        """Where the keyboard begins."""
        return next((proved for proved, _leads in self._meters.values()), self.source)

    @property
    def has_meters(self) -> bool:
        """Whether there is a meter to prove."""
        return bool(self._meters)

    def proofs(self) -> "list[MeterProof]":
        """What stands in the rows of the meters; raises BenchError where it cannot be read."""
        from benchapp.sequences.planning.chain_contents import MeterProof

        return [
            MeterProof(meter=meter_id, proved=proved.isChecked(), lead_resistance=read_leads(leads.text()))
            for meter_id, (proved, leads) in self._meters.items()
        ]

    def opening(self) -> dict[str, Any]:
        """What the opening of the bench is told, by the names that the action has; raises BenchError."""
        return {
            "meters": self.proofs(),
            "source": str(self.source.currentData()),
            "rcd_button_tested": self.rcd.isChecked(),
            "rcd_rating": read_rating(self.rating.text()),
            "rcd_reset": self.reset.isChecked(),
            "room": self.room.text(),
        }


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


def read_rating(text: str) -> float | None:
    """The residual current of the RCD in A as typed, in mA where no unit stands; None when nothing was.

    Raises BenchError for what is no such current.
    """
    if not text.strip():
        return None
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.entry import read_reading
    from benchapp.quantities.quantity import Bound

    reading = read_reading(text, kind=Kind("current"), unit="mA")
    if reading.bound is not Bound.exact or reading.si is None or reading.si <= 0:
        raise BenchError(tr("“{typed}” is no rating of an RCD. Type what is printed on it, in mA.").format(typed=text))
    return reading.si
