"""A design in sight before a unit of it is on the bench: its circuit drawn, and the readings that its route plans."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QWidget

from benchapp.actions.workbench.design_looks import look_at_design, look_at_unit_design
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.circuit_pictures import drawn_circuit
from benchapp.desktop.bench.plain_words import band_words
from benchapp.desktop.pictures.circuit_view import CircuitView
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.choices import ChoiceList, Row
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.design_looks import DesignLook, PlannedReading

LINES, CRAMPED_LINES = 14, 7
"""height of circuit and of readings, in lines of text; where it is large both are to be in sight"""
_NARROW = 50
"""width below which the readings stand under the circuit, in heights of a line"""
Shown = tuple[str, str, str]
"""a design by its id, its route, and the mark of a unit whose run pinned both; empty: as they stand now"""


class DesignLookDialog(AskingDialog):
    """Arrows go from reading to reading; the two points of the one at hand are lit in the circuit."""

    def __init__(self, context: AppContext, parent: QWidget, designs: Sequence[Shown]) -> None:
        super().__init__(parent, "design-look", tr("The design"), QDialogButtonBox.StandardButton.Ok)
        self._context, self._designs = context, tuple(designs)
        self._look: DesignLook | None = None
        self._readings: list[PlannedReading | None] = []
        self.design = QComboBox()
        hold_narrow(self.design)
        self.said = label("design-look-said", "quiet")
        self.circuit = CircuitView(context.look, "design-look-circuit")
        self.rows = ChoiceList(context.look, "design-look-readings", tr("Planned readings"))
        for part in (self.circuit, self.rows):
            lines = CRAMPED_LINES if context.look.cramped else LINES
            part.setMinimumHeight(self.fontMetrics().height() * lines)
        which = wrapping_form()
        add_rows(which, (self.design, "design-look-design", tr("Design")))
        self.buttons.removeButton(self.buttons.button(QDialogButtonBox.StandardButton.Cancel))
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText(tr("Close"))
        halves = Split(context.look, self.circuit, self.rows, shares=(1, 1), narrow=_NARROW)
        self.lay_out(which, self.said, halves, wide=64)
        for equipment, _route, _mark in self._designs:
            known = context.bench.catalogue.equipment.get(equipment)
            self.design.addItem(f"{known.title} ({equipment})" if known is not None else equipment)
        self.design.currentIndexChanged.connect(lambda _number: self._read())
        self.rows.row_changed.connect(self._light)
        self.rows.chosen.connect(lambda _row: self.go())

    def begin(self) -> None:
        """Read the first design, off the window's thread."""
        self.rows.setFocus()
        self._read()

    def _read(self) -> None:
        number, bench = self.design.currentIndex(), self._context.bench
        if number < 0:
            return
        equipment, route, mark = self._designs[number]

        def read() -> "tuple[int, DesignLook]":
            return number, look_at_unit_design(bench, mark) if mark else look_at_design(bench, equipment, route)

        self._context.tasks.read(read, then=self._show, refused=self.complain)

    def _show(self, read: "tuple[int, DesignLook]") -> None:
        number, look = read
        if number != self.design.currentIndex():
            return
        self._look, self._readings = look, []
        rows: list[Row] = []
        stage = ""
        for reading in look.readings:
            if reading.stage != stage:
                stage = reading.stage
                rows.append(Row(words=stage, head=True))
                self._readings.append(None)
            rows.append(Row(words=reading.name, detail=planned_words(reading)))
            self._readings.append(reading)
        self.rows.set_rows(rows)
        count = len(look.readings)
        words = tr("{count} reading(s) planned: {route}.", "", count)
        self.said.setText(words.format(count=count, route=look.route))
        self._light()

    def _light(self) -> None:
        """The circuit, with the points of the reading at hand lit."""
        if self._look is None:
            return
        row = self.rows.row_at_hand()
        reading = self._readings[row] if 0 <= row < len(self._readings) else None
        points = reading.terminals if reading is not None else ()
        alternating = reading is not None and reading.live
        self.circuit.show_picture(
            drawn_circuit(self._look.circuit, self._look.title, points=points, alternating=alternating)
        )

    def go(self) -> None:
        self.accept()


def planned_words(reading: "PlannedReading") -> str:
    """What a sound unit may read there, in a few words."""
    if reading.band is not None:
        return band_words(reading.band) or tr("recorded, whatever it reads")
    return tr("follows from what is read before it") if reading.judged else tr("recorded, whatever it reads")
