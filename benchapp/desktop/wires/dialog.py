"""The dialog of meters on a wire: which meter, where it answers, what it reads when it is tried."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QHBoxLayout, QLineEdit, QListWidget, QWidget

from benchapp.actions.workbench.meter_wires import keep_wire
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, button, hold_narrow, label, wrapping_form
from benchapp.desktop.wires.live_meter import PATIENCE, LiveMeter
from benchapp.desktop.words import tr
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from collections.abc import Callable

    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.meters.finding import Found
    from benchapp.meters.sent_reading import SentReading
    from benchapp.sequences.planning.catalogue import Catalogue

EXAMPLE = "TCPIP::192.168.7.21::5025::SOCKET"


class WiresDialog(AskingDialog):
    """One meter at a time. Enter keeps the address in its record; what is tried changes nothing."""

    def __init__(self, context: "AppContext", parent: QWidget) -> None:
        super().__init__(parent, "wires", tr("Meters on a wire"), QDialogButtonBox.StandardButton.Save)
        self._context = context
        self._live = LiveMeter()
        self._live.arrived.connect(self._show_reading)
        for none in (self._live.failed, self._live.silent):
            none.connect(self.complain)
        self._asking = 0
        self._tried: MeterRecord | None = None
        self._identity = ("", "")
        """the address that was tried, and who answered there"""
        self.meters, self.function = QComboBox(), QComboBox()
        self.address = QLineEdit()
        self.address.setPlaceholderText(EXAMPLE)
        form = wrapping_form()
        add_rows(
            form,
            (self.meters, "wires-meter", tr("Meter")),
            (self.address, "wires-address", tr("It answers at")),
            (self.function, "wires-function", tr("Read")),
        )
        hold_narrow(self.meters)
        self.look = button("wires-look", tr("&Look for meters"))
        self.trial = button("wires-try", tr("&Try it"))
        keys = QHBoxLayout()
        keys.addWidget(self.look)
        keys.addWidget(self.trial)
        self.stored = button("wires-stored", tr("Readings that a tester &kept …"))
        keys.addStretch(1)
        kept = QHBoxLayout()
        kept.addWidget(self.stored)
        kept.addStretch(1)
        self.found = QListWidget()
        self.found.setObjectName("wires-found")
        self.found.setAccessibleName(tr("Addresses that were found"))
        self.found.setMaximumHeight(self.fontMetrics().height() * 5)
        self.found.hide()
        self.reading = label("wires-reading", "title")
        self.said = label("wires-said", "quiet")
        self.buttons.button(QDialogButtonBox.StandardButton.Save).setText(tr("Keep this address"))
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setText(tr("Close"))
        self.lay_out(form, keys, self.found, self.reading, self.said, kept, wide=36)
        self.meters.currentIndexChanged.connect(self._show_meter)
        self.look.clicked.connect(self._look)
        self.trial.clicked.connect(self._try_or_stop)
        self.stored.clicked.connect(self._bring_in)
        self.found.itemActivated.connect(lambda item: self.address.setText(item.text()))
        self.found.itemClicked.connect(lambda item: self.address.setText(item.text()))
        self.finished.connect(lambda _result: self._stop())
        context.live_meter.stop()  # many meters let one in at a time
        self._aside(lambda: context.bench.catalogue, self._fill)

    def _fill(self, catalogue: "Catalogue") -> None:
        """The meters of the workshop's files, those on a wire first."""
        records = catalogue.meters.values()
        for record in sorted(records, key=lambda one: one.wire is None):
            self.meters.addItem(f"{record.meter}  {record.title}", record.meter)
        self.meters.setFocus(Qt.FocusReason.OtherFocusReason)

    def _record(self) -> "MeterRecord | None":
        chosen = self.meters.currentData()
        return self._context.bench.catalogue.meters.get(chosen) if chosen is not None else None

    def _show_meter(self) -> None:
        from benchapp.judgement.meters.wire import DRIVES_THE_UNIT

        self._stop()
        record = self._record()
        if record is None:
            return
        self.address.setText(record.wire.address.resource if record.wire is not None else "")
        self.function.clear()
        heard = record.wire is not None and record.wire.only_listened_to
        for function in record.functions:
            if heard or function not in DRIVES_THE_UNIT:
                self.function.addItem(tr(function.value), function)

    def _bring_in(self) -> None:
        from benchapp.desktop.wires.stored_dialog import StoredDialog

        self._stop()
        dialog = StoredDialog(self._context, self)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    # look
    def _look(self) -> None:
        from benchapp.meters.finding import find_meters

        self.look.setEnabled(False)
        self.said.setText(tr("Looking through the USB and serial ports …"))
        self._aside(find_meters, self._show_found)

    def _show_found(self, found: "Found") -> None:
        self.look.setEnabled(True)
        self.found.clear()
        self.found.addItems(found.addresses)
        self.found.setVisible(bool(found.addresses))
        chosen = tr("Choose one, then try it. A meter in the network is named by its own address.")
        self.said.setText(found.remark or chosen)
        self.fit()

    # try
    def _try_or_stop(self) -> None:
        if self._tried is not None:
            self._stop()
            return
        record = self._record()
        if record is None:
            return
        try:
            self._tried = with_address(record, self.address.text())
        except BenchError as problem:
            self.complain(problem.sentence)
            return
        self.complain("")
        self.trial.setText(tr("S&top"))
        self.reading.setText("…")
        if self._tried.wire is not None and self._tried.wire.dialect == "keyboard":
            self.said.setText(tr("It types: take its reading on the page of a step."))
            self._stop()
        elif self._tried.wire is not None and self._tried.wire.dialect == "SCPI":
            self._aside(self._who(self._tried), self._show_who, self._not_there)
        else:
            self._begin()

    def _who(self, record: "MeterRecord") -> "Callable[[], str]":
        def ask() -> str:
            from benchapp.meters.scpi import ScpiInstrument

            with ScpiInstrument(record, patience=PATIENCE) as instrument:
                answer = instrument.identify()
            return ",".join((answer.maker, answer.model, answer.serial_number))

        return ask

    def _show_who(self, identity: str) -> None:
        if self._tried is None:
            return
        self._identity = (self.address.text().strip(), identity)
        self.said.setText(tr("It says that it is {identity}.").format(identity=identity))
        self.fit()
        self._begin()

    def _not_there(self, sentence: str) -> None:
        self._stop()
        self.complain(sentence)

    def _begin(self) -> None:
        if self._tried is not None and self.function.currentData() is not None:
            self._live.begin(self._tried, self.function.currentData(), may_set=True)

    def _show_reading(self, sent: "SentReading") -> None:
        from benchapp.meters.sent_reading import count_of, field_text

        if self._tried is None:
            return
        self.complain("")
        self.reading.setText(field_text(sent.reading, count_of(self._tried, self.function.currentData(), sent.reading)))

    def _stop(self) -> None:
        """Let the meter go; an answer that comes later is of no matter."""
        self._asking += 1
        self._tried = None
        self._live.stop()
        self.trial.setText(tr("&Try it"))
        self.reading.setText("")
        self.look.setEnabled(True)

    def _aside(
        self, work: "Callable[[], object]", then: "Callable[..., None]", refused: "Callable[[str], None] | None" = None
    ) -> None:
        """Do it off the window's thread; its answer counts while nothing else was asked."""
        self._asking += 1
        ticket = self._asking

        def arrive(value: object) -> None:
            if ticket == self._asking:
                then(value)

        def fail(sentence: str) -> None:
            if ticket == self._asking:
                (refused or self.complain)(sentence)

        self._context.tasks.aside(lambda _over: work(), then=arrive, refused=fail)

    # keep
    def go(self) -> None:
        """Keep the address in the meter's record."""
        record, address = self._record(), self.address.text().strip()
        if record is None:
            return
        try:
            with_address(record, address)
            identity = self._identity[1] if self._identity[0] == address else ""
            changes = keep_wire(self._context.bench, record.meter, address, identity=identity)
        except BenchError as problem:
            self.complain(problem.sentence)
            return
        self._kept(changes)

    def _kept(self, changes: "ChangeSet") -> None:
        self._stop()
        self.complain("")
        self.said.setText(changes.words)
        self._context.change_signals.said.emit(changes.words)


def with_address(record: "MeterRecord", written: str) -> "MeterRecord":
    """The record with that address, everything else of its wire as it is; raises BenchError."""
    from benchapp.files.models import made_of
    from benchapp.judgement.meters.wire import Wire, read_address

    address = read_address(written)
    dialect = "keyboard" if address.kind == "keyboard" else "SCPI"
    if record.wire is None:
        return record.model_copy(update={"wire": made_of(Wire, address=written, dialect=dialect)})
    changed = record.wire.model_copy(update={"address": address, "identity": ""})
    return record.model_copy(update={"wire": changed})
