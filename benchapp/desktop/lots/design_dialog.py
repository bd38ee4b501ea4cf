"""A design of the workshop's own, described at intake from a template: what it is, and what stands on its plate.

What is not known yet stays empty. The circuit is drawn, so that who has looked inside can say whether it is as drawn.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QLineEdit, QWidget

from benchapp.actions.entries.design_files import add_design, drawn_design, next_design_id
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.circuit_pictures import drawn_circuit
from benchapp.desktop.person import initials_first
from benchapp.desktop.pictures.circuit_view import CircuitView
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.wiring.checks.design_sheet import DesignSheet
    from benchapp.wiring.model.circuit import Circuit

LINES, CRAMPED_LINES = 11, 7
"""height of the drawn circuit, in lines of text; where it is large the questions keep their room"""
CLASSES = (("", "not known yet"), ("I", "class I, earthed"), ("II", "class II, two squares"))
PLUGS = (("", "not known yet"), ("rewirable", "rewirable"), ("moulded", "moulded"))
INSIDE = ((False, "not known yet"), (True, "yes, somebody has looked"))
FIGURES = (
    ("power", "Power, W or VA"),
    ("output volts", "Output volts"),
    ("output current", "Output amperes"),
    ("impedance", "Impedance, ohm"),
    ("fuse", "Fuse in the plug, A"),
    ("cord length", "Length of its cord, m"),
    ("cord area", "Area of one core, mm²"),
)
OF_MAINS = frozenset({"fuse", "cord length", "cord area"})


class DesignDialog(AskingDialog):
    """Asks what is known of one design; Enter writes its file and closes."""

    made = Signal(str)
    """the id of the design"""

    def __init__(self, context: AppContext, parent: QWidget) -> None:
        super().__init__(parent, "design", tr("Another kind of item"), QDialogButtonBox.StandardButton.Save)
        self._context = context
        self._id = ""
        self.kind, self.class_of, self.plug, self.inside = (QComboBox() for _ in range(4))
        self.title_of, self.volts = QLineEdit(), QLineEdit()
        self.figures = {name: QLineEdit() for name, _words in FIGURES}
        self.told, self.wanting = label("design-told", "quiet"), label("design-wanting", "quiet")
        self.circuit = CircuitView(context.look, "design-circuit")
        self.circuit.setMinimumHeight(self.fontMetrics().height() * (CRAMPED_LINES if context.look.cramped else LINES))
        self._fill()
        self._lay_out()
        self.kind.currentIndexChanged.connect(lambda _number: self._show_kind())
        for box in (self.class_of, self.inside):
            box.currentIndexChanged.connect(lambda _number: self._say_wanting())
        for field in (self.volts, *self.figures.values()):
            field.textEdited.connect(lambda _text: self._say_wanting())

    def _fill(self) -> None:
        from benchapp.wiring.checks.design_sheet import EXAMPLES
        from benchapp.wiring.model.templates import shipped_templates

        for template in shipped_templates().values():
            self.kind.addItem(tr(template.title), template.template)
        for box, rows in ((self.class_of, CLASSES), (self.plug, PLUGS), (self.inside, INSIDE)):
            for value, words in rows:
                box.addItem(tr(words), value)
        for box in (self.kind, self.class_of, self.plug, self.inside):
            hold_narrow(box)
        empty = tr("{example}; empty: not known yet")
        self.volts.setPlaceholderText(empty.format(example="230 V"))
        for name, field in self.figures.items():
            field.setPlaceholderText(empty.format(example=EXAMPLES[name]))
        self.title_of.setPlaceholderText(tr("what stands on tags and pages"))

    def _lay_out(self) -> None:
        which, self._form = wrapping_form(), wrapping_form()
        add_rows(which, (self.kind, "design-kind", tr("Which kind of item")))
        add_rows(
            self._form,
            (self.inside, "design-inside", tr("Is its inside as drawn?")),
            (self.title_of, "design-title-of", tr("What it is")),
            (self.class_of, "design-class", tr("Its class")),
            (self.volts, "design-volts", tr("Supply volts")),
            (self.plug, "design-plug", tr("Its plug")),
        )
        for name, words in FIGURES:
            add_rows(self._form, (self.figures[name], f"design-{name.replace(' ', '-')}", tr(words)))
        self.keep = self.buttons.button(QDialogButtonBox.StandardButton.Save)
        self.keep.setText(tr("Keep this design"))
        self.keep.setObjectName("design-keep")
        self.lay_out(which, self.told, self.circuit, self.wanting, self._form, wide=38)

    def begin(self) -> None:
        """Show the first kind of item."""
        self._show_kind()
        self.kind.setFocus()

    def _show_kind(self) -> None:
        """What is asked of this kind, and its circuit."""
        from benchapp.wiring.model.templates import shipped_templates

        template = shipped_templates()[self._kind()]
        self.told.setText(tr(template.say))
        for field in (self.class_of, self.volts, self.plug, self.inside):
            self._form.setRowVisible(field, template.mains_fed)
        for name, field in self.figures.items():
            asked = name in template.asks or (name in OF_MAINS and template.mains_fed)
            self._form.setRowVisible(field, asked)
        self.class_of.setCurrentIndex(max(0, self.class_of.findData(template.template_class)))
        self.inside.setCurrentIndex(0)
        self._say_wanting()
        self._draw()

    def _kind(self) -> str:
        return str(self.kind.currentData())

    def _draw(self) -> None:
        from benchapp.wiring.checks.design_sheet import example_of

        bench, kind = self._context.bench, self._kind()

        def draw() -> "tuple[str, Circuit]":
            return kind, drawn_design(bench, example_of(kind))[1]

        self._context.tasks.read(draw, then=self._show_circuit, refused=self.complain)

    def _show_circuit(self, drawn: "tuple[str, Circuit]") -> None:
        kind, circuit = drawn
        if kind == self._kind():
            self.circuit.show_picture(drawn_circuit(circuit, self.kind.currentText()))
            self.fit()

    def _sheet(self) -> "DesignSheet":
        from benchapp.wiring.checks.design_sheet import DesignSheet
        from benchapp.wiring.model.templates import shipped_templates

        mains = shipped_templates()[self._kind()].mains_fed
        shown = {name: field.text() for name, field in self.figures.items() if self._form.isRowVisible(field)}
        return DesignSheet(
            equipment=self._id,
            title=self.title_of.text(),
            template=self._kind(),
            inside_known=bool(self.inside.currentData()) or not mains,
            equipment_class=str(self.class_of.currentData()) if mains else "none",
            volts=self.volts.text(),
            plug=str(self.plug.currentData()),
            figures=shown,
        )

    def _say_wanting(self) -> None:
        """What keeps it from mains until it is known."""
        from benchapp.wiring.checks.design_sheet import not_known_yet

        wanting = ", ".join(tr(one) for one in not_known_yet(self._sheet()))
        words = tr("Not known yet: {what}. Until it is, units of it are tested dead, and no mains comes to them.")
        known = tr("All that its route asks for is known.")
        self.wanting.setText(words.format(what=wanting) if wanting else known)

    def go(self) -> None:
        if not self._context.person.initials:
            self.complain(initials_first())
            return
        bench = self._context.bench
        self._id = next_design_id(bench, self.title_of.text())
        self.complain("")
        self.wait()
        self._context.tasks.do(
            bench, add_design, self._sheet(), by=self._context.person.initials, then=self._kept, refused=self.complain
        )

    def _kept(self, changes: "ChangeSet") -> None:
        self._context.change_signals.said.emit(changes.words)
        self.made.emit(self._id)
        self.accept()
