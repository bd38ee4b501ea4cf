"""A meter of the workshop's own, as its data sheet states it: what it is, each line of range and accuracy.

Enter in a line adds the line; Enter elsewhere keeps the meter.
"""

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QFormLayout, QHBoxLayout, QLineEdit, QListWidget, QWidget

from benchapp.actions.entries.meter_files import a_year_after, add_meter, next_meter_id
from benchapp.desktop.dates import typed_day
from benchapp.desktop.person import initials_first
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, plain_row, wrapping_form
from benchapp.desktop.words import tr
from benchapp.errors import BenchError
from benchapp.judgement.meters.functions import ALTERNATING, Function, Responds

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext
    from benchapp.judgement.meters.data_sheet import MeterSheet, SheetLine
    from benchapp.sequences.planning.catalogue import Catalogue

KINDS = ("hand meter", "insulation and earth tester", "plug-in mains meter")
EXAMPLES = {
    "resistance": ("600 ohm", "60 Mohm", "0.1 ohm"),
    "continuity": ("600 ohm", "", "0.1 ohm"),
    "earth continuity": ("20 ohm", "", "0.01 ohm"),
    "insulation": ("20 Mohm", "200 Mohm", "0.01 Mohm"),
    "DC voltage": ("600 mV", "1000 V", "0.1 mV"),
    "AC voltage": ("600 mV", "1000 V", "0.1 mV"),
    "mains voltage": ("300 V", "", "0.1 V"),
}
"""of a line, by what it reads: ranges from and to, last digit"""
MOST_SHOWN = 5
"""lines of the list in sight"""


class MeterDialog(AskingDialog):
    """Asks for one meter after the other; each is a file in the workshop's own folder when it is kept."""

    def __init__(self, context: "AppContext", parent: QWidget) -> None:
        super().__init__(parent, "meter", tr("A meter of this workshop"), QDialogButtonBox.StandardButton.Save)
        self._context = context
        self._lines: list[SheetLine] = []
        self.title_of, self.ident, self.serial, self.category = (QLineEdit() for _ in range(4))
        self.calibrated, self.due = QLineEdit(), QLineEdit()
        self.kind, self.responds, self.function = QComboBox(), QComboBox(), QComboBox()
        self.smallest, self.largest, self.resolution, self.accuracy, self.test, self.frequencies = (
            QLineEdit() for _ in range(6)
        )
        for box in (self.kind, self.responds, self.function):
            hold_narrow(box)
        self._examples()
        self.add = self.key_button("meter-add", "add line", self._add)
        self.take_out = self.key_button("meter-take-out", "line out", self._take_out)
        self.shown = QListWidget()
        self.shown.setObjectName("meter-lines")
        self.shown.setAccessibleName(tr("What it reads"))
        self.known = label("meter-known", "quiet")
        self.keep = self.buttons.button(QDialogButtonBox.StandardButton.Save)
        self.keep.setText(tr("Keep this meter"))
        self.keep.setObjectName("meter-keep")
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setText(tr("Close"))
        self._lay_out()
        self.function.currentIndexChanged.connect(lambda _number: self._fit_line())

    def _examples(self) -> None:
        for field, words in (
            (self.title_of, tr("Hand meter, true RMS, 6000 counts")),
            (self.category, tr("CAT III 600 V, as printed at its sockets")),
            (self.calibrated, tr("2026-04-14; a new one: the day it was bought")),
            (self.due, tr("empty: a year later")),
            (self.accuracy, "0.5 % + 3 counts"),
            (self.frequencies, tr("45 Hz to 400 Hz; empty: mains alone")),
        ):
            field.setPlaceholderText(words)
        for kind in KINDS:
            self.kind.addItem(tr(kind), kind)
        for function in Function:
            self.function.addItem(tr(function.value), function)
        for responds in Responds:
            self.responds.addItem(tr(responds.value), responds)

    def _lay_out(self) -> None:
        form, self._line = wrapping_form(), wrapping_form()
        _rows(form, ((self.title_of, "meter-title", tr("What it is")),))
        _rows(form, ((self.kind, "meter-kind", tr("Kind")), (self.ident, "meter-id", tr("its label says"))))
        _rows(
            form,
            ((self.serial, "meter-serial", tr("Serial number")), (self.category, "meter-category", tr("category"))),
            ((self.calibrated, "meter-calibrated", tr("Calibrated on")), (self.due, "meter-due", tr("next due"))),
            ((self.responds, "meter-responds", tr("AC readings are")),),
        )
        _rows(
            self._line,
            ((self.function, "meter-function", tr("It reads")),),
            ((self.smallest, "meter-smallest", tr("Ranges from")), (self.largest, "meter-largest", tr("to"))),
            (
                (self.resolution, "meter-resolution", tr("Last digit of the first")),
                (self.accuracy, "meter-accuracy", tr("accuracy ±")),
            ),
            ((self.frequencies, "meter-frequencies", tr("At frequencies")),),
            ((self.test, "meter-test", tr("Tests with")),),
        )
        words = tr("Each line of its data sheet: Enter adds it. Ranges between grow tenfold.")
        head = label("meter-head", "head", words)
        self.shown.setWordWrap(True)
        self.shown.setMaximumHeight(self.fontMetrics().height() * (MOST_SHOWN + 1))
        keys = QHBoxLayout()
        keys.addWidget(self.add)
        keys.addWidget(self.take_out)
        self.lay_out(form, head, self._line, keys, self.shown, self.known, wide=40)

    def begin(self) -> None:
        """Read which meters there are, off the window's thread; what is typed meanwhile stays."""
        self._fit_line()
        self.title_of.setFocus(Qt.FocusReason.OtherFocusReason)
        self._context.tasks.read(lambda: self._context.bench.catalogue, then=self._tell, refused=self.complain)

    def _empty(self) -> None:
        """A fresh form."""
        for field in (self.title_of, self.serial, self.category, self.calibrated, self.due):
            field.clear()
        self._lines.clear()
        self.shown.clear()

    def _tell(self, catalogue: "Catalogue") -> None:
        """Say which meters there are, and give the next one its label."""
        self.ident.setText(next_meter_id(self._context.bench))
        listed = ", ".join(f"{meter.title} ({one})" for one, meter in catalogue.meters.items())
        self.known.setText(tr("Meters so far: {listed}").format(listed=listed) if listed else tr("No meter so far."))

    def _fit_line(self) -> None:
        """Show of the line what the function at hand has."""
        from benchapp.judgement.meters.data_sheet import WITH_CURRENT

        function = Function(self.function.currentData())  # Qt keeps the bare text
        self._line.setRowVisible(self.frequencies, function in ALTERNATING)
        self._line.setRowVisible(self.test, function is Function.insulation or function in WITH_CURRENT)
        self.test.setPlaceholderText("250 V, 500 V" if function is Function.insulation else "200 mA")
        smallest, largest, digit = EXAMPLES.get(function, ("", "", ""))
        self.smallest.setPlaceholderText(smallest)
        self.largest.setPlaceholderText(largest or tr("empty: one range"))
        self.resolution.setPlaceholderText(digit)

    # lines
    def _of_line(self) -> tuple[QLineEdit, ...]:
        return self.smallest, self.largest, self.resolution, self.accuracy, self.frequencies, self.test

    def _begun(self) -> bool:
        """Whether a line is being typed."""
        return any(field.text().strip() for field in self._of_line())

    def _add(self) -> bool:
        """Take the line over, where it can be read; whether it could."""
        from benchapp.judgement.meters.data_sheet import SheetLine, ranges_of

        line = SheetLine(
            function=Function(self.function.currentData()),
            smallest=self.smallest.text(),
            largest=self.largest.text(),
            resolution=self.resolution.text(),
            accuracy=self.accuracy.text(),
            frequencies=self.frequencies.text() if self._line.isRowVisible(self.frequencies) else "",
            test=self.test.text() if self._line.isRowVisible(self.test) else "",
        )
        try:
            ranges = ranges_of(line)
        except BenchError as problem:
            self.complain(problem.sentence)
            return False
        self.complain("")
        self._lines.append(line)
        self.shown.addItem(f"{line}   ({', '.join(one.to for one in ranges)})")
        for field in self._of_line():
            field.clear()
        self.function.setFocus(Qt.FocusReason.OtherFocusReason)
        return True

    def _take_out(self) -> None:
        row = self.shown.currentRow()
        if row >= 0:
            del self._lines[row]
            self.shown.takeItem(row)

    # keeping
    def go(self) -> None:
        """Add the line that is being typed; else keep the meter."""
        typing = self.focusWidget() in (*self._of_line(), self.function)
        if self._begun() and (not self._add() or typing):
            return
        if not self._context.person.initials:
            self.complain(initials_first())
            return
        try:
            sheet = self._sheet()
        except BenchError as problem:
            self.complain(problem.sentence)
            return
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            add_meter,
            sheet,
            by=self._context.person.initials,
            then=self._kept,
            refused=self.complain,
        )

    def _sheet(self) -> "MeterSheet":
        """The meter as the form has it; raises BenchError for what is missing or no date."""
        from benchapp.judgement.meters.data_sheet import MeterSheet

        if not self.title_of.text().strip():
            self.title_of.setFocus()
            raise BenchError(tr("Say what the meter is, in a few words: they stand on every page that asks for it."))
        calibrated = _day(self.calibrated)
        return MeterSheet(
            meter=self.ident.text().strip(),
            title=self.title_of.text().strip(),
            kind=self.kind.currentData(),
            serial=self.serial.text().strip(),
            categories=tuple(one.strip() for one in self.category.text().split(",") if one.strip()),
            calibrated=calibrated,
            due=_day(self.due) if self.due.text().strip() else a_year_after(calibrated),
            responds=Responds(self.responds.currentData()),
            lines=tuple(self._lines),
        )

    def _kept(self, changes: "ChangeSet") -> None:
        self.complain("")
        self._empty()
        self._tell(self._context.bench.catalogue)
        self.known.setText(f"{changes.words} {self.known.text()}")
        self._context.change_signals.said.emit(changes.words)
        self.title_of.setFocus(Qt.FocusReason.OtherFocusReason)
        self.fit()


def _rows(form: QFormLayout, *rows: tuple[tuple[QWidget, str, str], ...]) -> None:
    """Rows of one or two fields, each with its object name and the words before it."""
    for (first, name, words), *more in rows:
        if not more:
            add_rows(form, (first, name, words))
            continue
        row = QWidget()
        beside = QHBoxLayout(row)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.addWidget(first, 3 if isinstance(first, QComboBox) else 2)
        for other, other_name, between in more:
            beside.addWidget(label(f"{other_name}-head", words=between, wrap=False))
            beside.addWidget(other, 2)
            other.setObjectName(other_name)
            other.setAccessibleName(between)
        first.setObjectName(name)
        first.setAccessibleName(words)
        form.addRow(words, row)
        plain_row(form, row)


def _day(field: QLineEdit) -> date:
    """The day that was typed; raises BenchError, with the keyboard in the field."""
    day = typed_day(field.text())
    if day is None:
        field.setFocus()
        words = tr("“{typed}” is no day: write it as 2026-04-14 or 14 April 2026. Without one no reading counts.")
        raise BenchError(words.format(typed=field.text().strip()))
    return day
