"""The bench opening: the check at the start of a day.

Each meter proved on a known source, its leads measured, the RCD's rating, button and reset; what to do at a fire.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QWidget

from benchapp.actions.entries.days import close_bench, open_bench
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.backups.state_line import BackupLine
from benchapp.desktop.bench.fire import fire_words
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import add_action
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import add_rows, button, label
from benchapp.desktop.words import tr
from benchapp.errors import BenchError
from benchapp.sequences.planning.bench_day import KnownSource

if TYPE_CHECKING:
    from benchapp.sequences.planning.chain_contents import MeterProof


class OpeningPage(BenchPage):
    """A row per meter: proved today, and the resistance of its leads."""

    name = "opening"
    of_a_step = False

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.rows = QWidget()
        self.form = QFormLayout(self.rows)
        self.form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
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
        self.day = QWidget()
        add_rows(
            QFormLayout(self.day),
            (self.source, "opening-source", tr("Meters proved on")),
            (self.room, "opening-room", tr("Who else is in the room")),
            (self.rating, "opening-rcd-rating", tr("RCD, printed on it, mA")),
        )
        self.button = button("opening-record", tr("Open the bench for today"), "main")
        self.close_day = button("opening-close", tr("Close the bench for today: meters as ticked above"))
        self.backup = BackupLine(context.backups, "opening")
        self.fire = label("opening-fire", "say", fire_words())
        order = (self.rows, self.day, self.rcd, self.reset, self.fire, self.button, self.close_day, self.backup)
        for widget in order:
            self.body.addWidget(widget)
        self.body.addStretch(1)
        self.source.activated.connect(lambda _number: self.complained.emit(""))
        self.room.textEdited.connect(lambda _text: self.complained.emit(""))
        self.button.clicked.connect(self._record)
        add_action(self, "open", self._record)
        self.close_day.clicked.connect(self._close)
        self._meters: dict[str, tuple[QCheckBox, QLineEdit]] = {}

    def fill(self, view: UnitView) -> None:
        self.say.setText(
            tr(
                "Prove each meter on a proving unit, a battery or an extra-low-voltage supply before it is trusted "
                "today, never by probing a socket; and measure its leads touched together."
            )
        )
        if tuple(self._meters) != tuple(view.plan.meters):
            self._make_rows(view)
        opening = self.context.bench.opening()
        proofs = {proof.meter: proof for proof in opening.meters} if opening else {}
        for meter_id, (proved, leads) in self._meters.items():
            proof = proofs.get(meter_id)
            proved.setChecked(bool(proof and proof.proved))
            leads.setText(f"{proof.lead_resistance:g}" if proof and proof.lead_resistance is not None else "")
        self.close_day.setVisible(opening is not None)
        self.backup.setVisible(opening is not None)
        if opening is not None:
            self.context.backups.look()
        self.rcd.setChecked(bool(opening and opening.rcd_button_tested))
        self.reset.setChecked(bool(opening and opening.rcd_reset))
        rating = opening.rcd_rating if opening else None
        self.rating.setText("" if rating is None else f"{rating * 1000:g}")
        self.source.setCurrentIndex(max(self.source.findData(opening.source if opening else ""), 0))
        self.room.setText(opening.room if opening else "")

    def _make_rows(self, view: UnitView) -> None:
        while self.form.rowCount():
            self.form.removeRow(0)
        self._meters = {}
        for meter_id, meter in view.plan.meters.items():
            proved, leads = QCheckBox(tr("{meter}: proved").format(meter=meter.title)), QLineEdit()
            proved.setObjectName(f"opening-proved-{meter_id}")
            leads.setObjectName(f"opening-leads-{meter_id}")
            leads.setAccessibleName(tr("Lead resistance of {meter}").format(meter=meter.title))
            leads.setPlaceholderText(tr("leads, ohm"))
            self.form.addRow(proved, leads)
            self._meters[meter_id] = (proved, leads)
        order = [widget for pair in self._meters.values() for widget in pair] + [
            self.source,
            self.room,
            self.rating,
            self.rcd,
            self.reset,
            self.button,
            self.close_day,
        ]
        for one, following in pairwise(order):
            QWidget.setTabOrder(one, following)

    def take_focus(self) -> None:
        first = next(iter(self._meters.values()), None)
        (first[0] if first else self.button).setFocus()

    def _record(self) -> None:
        proofs = self._proofs()
        if proofs is None:
            return
        try:
            rating = read_rating(self.rating.text())
        except BenchError as problem:
            self.complained.emit(problem.sentence)
            return
        self.request(
            open_bench,
            meters=proofs,
            source=str(self.source.currentData()),
            rcd_button_tested=self.rcd.isChecked(),
            rcd_rating=rating,
            rcd_reset=self.reset.isChecked(),
            room=self.room.text(),
        )

    def _close(self) -> None:
        proofs = self._proofs()
        if proofs is not None:
            self.request(close_bench, meters=proofs)

    def _proofs(self) -> "list[MeterProof] | None":
        """What stands on the page; None with a complaint where it cannot be read."""
        from benchapp.sequences.planning.chain_contents import MeterProof

        try:
            return [
                MeterProof(meter=meter_id, proved=proved.isChecked(), lead_resistance=read_leads(leads.text()))
                for meter_id, (proved, leads) in self._meters.items()
            ]
        except BenchError as problem:
            self.complained.emit(problem.sentence)
            return None

    def hints(self) -> Sequence[Hint]:
        return (hint("tick", tr("proved, yes or no")), hint("fields"), hint("open"), hint("back"))


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
