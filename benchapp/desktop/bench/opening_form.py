"""What is looked at when the bench is opened: a row for each meter, what proved them, who is there, the RCD."""

from collections.abc import Mapping
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.fire import fire_words
from benchapp.desktop.bench.opening_rows import MeterRow
from benchapp.desktop.bench.opening_wire import OpeningWire
from benchapp.desktop.keys import key_text
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

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        look = context.look
        self.wire = OpeningWire(context, self)
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
        for widget in (self.none_yet, rows, self.wire.strip, checks, label("opening-fire", "say", fire_words())):
            body.addWidget(widget)
        self._meters: dict[str, MeterRow] = {}
        self._filled: dict[str, Any] = {}

    def fill(self, meters: "Mapping[str, MeterRecord]", opening: "BenchOpening | None") -> bool:
        """Show these meters, and what today's opening has of them; whether the rows are others than before."""
        anew = tuple(self._meters) != tuple(meters)
        if anew:
            self._make_rows(meters)
        self.none_yet.setVisible(not meters)
        proofs = {proof.meter: proof for proof in opening.meters} if opening else {}
        for meter_id, row in self._meters.items():
            row.fill(proofs.get(meter_id))
        self.rcd.setChecked(bool(opening and opening.rcd_button_tested))
        self.reset.setChecked(bool(opening and opening.rcd_reset))
        rating = opening.rcd_rating if opening else None
        self.rating.setText("" if rating is None else f"{rating * 1000:g}")
        self.source.setCurrentIndex(max(self.source.findData(opening.source if opening else ""), 0))
        self.room.setText(opening.room if opening else "")
        self._filled = self._stands()
        return anew

    def _make_rows(self, meters: "Mapping[str, MeterRecord]") -> None:
        self.wire.rest()
        while self._rows.rowCount():
            self._rows.removeRow(0)
        for gone in self._meters.values():
            gone.deleteLater()
        self._meters = {}
        for meter_id, meter in meters.items():
            row = MeterRow(meter, self)
            row.entered.connect(self.wire.read)
            row.shown_asked.connect(self.wire.strip.take_shown)
            self._rows.addRow(row.proved, row.leads)
            self._meters[meter_id] = row

    def follow(self, *after: QWidget) -> None:
        """Let Tab go through the form in the order in which it is read, and then to these."""
        strip = self.wire.strip
        order: list[QWidget] = [widget for row in self._meters.values() for widget in (row.proved, row.leads)]
        order += [strip.by_key] if order else []
        order += [self.source, self.room, self.rating, self.rcd, self.reset, *after]
        for one, following in pairwise(order):
            QWidget.setTabOrder(one, following)

    def take_burst(self, text: str) -> bool:
        """What a meter that types has typed into its row."""
        return self.wire.take_burst(text)

    def first(self) -> QWidget:
        """Where the keyboard begins."""
        return next((row.proved for row in self._meters.values()), self.source)

    @property
    def has_meters(self) -> bool:
        """Whether there is a meter to prove."""
        return bool(self._meters)

    def proofs(self) -> "list[MeterProof]":
        """What stands in the rows of the meters; raises BenchError where it cannot be read."""
        return [row.proof() for row in self._meters.values()]

    def draft(self) -> dict[str, Any]:
        """What was changed here and not recorded, as it stands; empty where nothing was."""
        stands = self._stands()
        return {} if stands == self._filled else stands

    def restore(self, draft: Mapping[str, Any]) -> None:
        """Put back what `draft` gave, for the meters that are still there; what stands there was typed."""
        meters = draft.get("meters", {})
        for meter_id, row in self._meters.items():
            if meter_id in meters:
                row.restore(*meters[meter_id])
        for box, name in ((self.rcd, "rcd"), (self.reset, "reset")):
            box.setChecked(bool(draft.get(name)))
        self.rating.setText(str(draft.get("rating", "")))
        self.room.setText(str(draft.get("room", "")))
        self.source.setCurrentIndex(max(self.source.findData(draft.get("source", "")), 0))

    def _stands(self) -> dict[str, Any]:
        return {
            "meters": {meter_id: row.stands() for meter_id, row in self._meters.items()},
            "rcd": self.rcd.isChecked(),
            "reset": self.reset.isChecked(),
            "rating": self.rating.text(),
            "room": self.room.text(),
            "source": self.source.currentData(),
        }

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
