"""Taking in a lot: name, what it is, route, how many, the first shelf mark, initials.

A complaint stays on the page.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QIntValidator
from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QLabel, QLineEdit, QWidget

from benchapp.actions.entries.intake import mains_said_here, shelf_marks, take_in_lot
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.lots.lot_hazards import LotHazards
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr
from benchapp.errors import BenchError
from benchapp.lots.listed_units import CONDITION, GIVEN_BY, RIGHT, WHERE_FROM

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.sequences.planning.catalogue import Catalogue

MOST_LINES = 6
"""files named one by one before the rest is counted (own choice)"""


class NewLotDialog(AskingDialog):
    """Asks for a lot and has it taken in; stays open until it is on disk."""

    taken_in = Signal(str)
    """the name of the new lot"""
    list_asked = Signal()

    def __init__(self, context: AppContext, parent: QWidget) -> None:
        super().__init__(parent, "new-lot", tr("New lot"), QDialogButtonBox.StandardButton.Ok)
        self._context = context
        self._catalogue: Catalogue | None = None
        self._taken: frozenset[str] = frozenset()
        self.name, self.first, self.initials, self.note = QLineEdit(), QLineEdit(), QLineEdit(), QLineEdit()
        self.where_from, self.given_by, self.right, self.condition = QLineEdit(), QLineEdit(), QLineEdit(), QLineEdit()
        self.equipment, self.route = QComboBox(), QComboBox()
        hold_narrow(self.equipment)
        hold_narrow(self.route)
        self.count = QLineEdit("1")
        self.count.setValidator(QIntValidator(1, 9999, self))
        self.first.setPlaceholderText(tr("for example TB-001"))
        self.initials.setText(context.person.initials)
        self.marks = label("new-lot-marks", "quiet")
        self.left_out, self.own_texts = label("new-lot-left-out", "quiet"), label("new-lot-own-texts", "quiet")
        self.mains = label("new-lot-mains", "complaint")
        self.hazards_head = label("new-lot-hazards-head", "head")
        self.hazards = LotHazards(context.look)
        self.left_out.hide()
        self.mains.hide()
        self.own_texts.hide()
        self.hazards.hide()
        self._fill()
        self.equipment.currentIndexChanged.connect(self._offer_routes)
        self.first.textChanged.connect(self._show_marks)
        self.count.textChanged.connect(self._show_marks)
        for field in (self.name, self.count, self.first, self.initials):
            field.textEdited.connect(lambda _text: self.complain(""))

    def _fill(self) -> None:
        form = wrapping_form()
        add_rows(
            form,
            (self.name, "new-lot-name", tr("Name of the lot")),
            (self.equipment, "new-lot-equipment", tr("What it is")),
            (self.route, "new-lot-route", tr("Route")),
        )
        form.addRow("", self.mains)
        add_rows(
            form, (self.count, "new-lot-count", tr("How many")), (self.first, "new-lot-first", tr("First shelf mark"))
        )
        form.addRow("", self.marks)
        add_rows(
            form,
            (self.where_from, "new-lot-where-from", tr("Where from")),
            (self.given_by, "new-lot-given-by", tr("Who gave it")),
            (self.right, "new-lot-right", tr("Their right to give it")),
            (self.condition, "new-lot-condition", tr("Condition, of all of it")),
        )
        add_rows(
            form, (self.initials, "new-lot-initials", tr("Your initials")), (self.note, "new-lot-note", tr("Note"))
        )
        self.take_in = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.take_in.setText(tr("Take in the lot"))
        self.take_in.setObjectName("new-lot-take-in")
        self.from_list = self.buttons.addButton(tr("From a list …"), QDialogButtonBox.ButtonRole.ActionRole)
        self.from_list.setObjectName("new-lot-from-list")
        self.from_list.setAutoDefault(False)
        self.from_list.clicked.connect(self._ask_list)
        words = tr("From intake on every unit is in quarantine: not tested, do not plug in.")
        warning = label("new-lot-warning", "quiet", words)
        self.lay_out(form, self.hazards_head, self.hazards, warning, self.own_texts, self.left_out, wide=36)

    def _ask_list(self) -> None:
        self.reject()
        self.list_asked.emit()

    def begin(self) -> None:
        """Read what can be taken in, off the window's thread."""
        self.take_in.setEnabled(False)
        self.marks.setText(tr("Reading the equipment files …"))
        bench = self._context.bench
        self._taken = bench.workbook.marks()
        self._context.tasks.read(bench.reread_files, then=self._offer, refused=self.complain)
        self.name.setFocus()

    def _offer(self, catalogue: "Catalogue") -> None:
        self._catalogue = catalogue
        self._show_marks()
        self._show_own_texts(catalogue)
        self._show_left_out()
        self.fit()
        self.take_in.setEnabled(True)
        for equipment_id, equipment in sorted(catalogue.equipment.items(), key=lambda item: item[1].title):
            self.equipment.addItem(f"{equipment.title} ({equipment_id})", equipment_id)

    def _show_own_texts(self, catalogue: "Catalogue") -> None:
        """Name the safety texts and figures that are the workshop's own, and not those that are shipped."""
        from benchapp.sequences.planning.own_texts import own_texts

        self._list(self.own_texts, tr("This workshop's own: {words}"), [one.words for one in own_texts(catalogue)])

    def _show_left_out(self) -> None:
        """Say what is wrong with files beside the workbook: what they describe is not offered."""
        wrong = [str(complaint) for complaint in self._context.bench.left_out]
        self._list(self.left_out, tr("Left out until it is mended: {words}"), wrong)

    def _list(self, shown: QLabel, line: str, items: Sequence[str]) -> None:
        lines = [line.format(words=item) for item in items[:MOST_LINES]]
        if len(items) > MOST_LINES:
            lines.append(tr("… and {many} more").format(many=len(items) - MOST_LINES))
        shown.setText("\n".join(lines))
        shown.setVisible(bool(lines))

    def _offer_routes(self, _number: int = 0) -> None:
        self.route.clear()
        assert self._catalogue is not None
        self._show_mains()
        self._ask_hazards()
        for route_id in self._catalogue.routes_for(str(self.equipment.currentData())):
            self.route.addItem(self._catalogue.routes[route_id].title, route_id)

    def _ask_hazards(self) -> None:
        """Ask at once, by the design and its age, what every unit of the lot is seen to have."""
        from benchapp.sequences.planning.hazards import hazards_asked

        assert self._catalogue is not None
        design = self._catalogue.equipment.get(str(self.equipment.currentData()))
        asked = hazards_asked(design, design.facts(), self._catalogue.hazards) if design is not None else ()
        self.hazards.offer(asked)
        words = tr(
            "Before it is handled, look for these. On a row: 1 each unit is looked at, 2 all of the lot have it."
        )
        self.hazards_head.setText(words if asked else "")
        self.hazards_head.setVisible(bool(asked))
        self.fit()

    def _show_mains(self) -> None:
        """Say at once where this place's mains does not fit the design."""
        assert self._catalogue is not None
        said = mains_said_here(self._context.bench, self._catalogue, str(self.equipment.currentData()))
        self.mains.setText("\n".join(said))
        self.mains.setVisible(bool(said))

    def _show_marks(self, _changed: object = None) -> None:
        """Show which shelf marks the units would get."""
        if not self.first.text().strip():
            self.marks.clear()
            return
        try:
            marks = self._shelf_marks()
        except BenchError as problem:
            self.marks.setText(problem.sentence)
            return
        self.marks.setText(
            marks[0] if len(marks) == 1 else tr("{first} to {last}").format(first=marks[0], last=marks[-1])
        )

    def _shelf_marks(self) -> tuple[str, ...]:
        return shelf_marks(self.first.text().strip(), int(self.count.text() or 0), taken=self._taken)

    def go(self) -> None:
        self._context.person.set_initials(self.initials.text())
        missing = self._missing()
        if missing:
            self.complain(missing)
            return
        try:
            self._taken = self._context.bench.workbook.marks()
            marks = self._shelf_marks()
        except BenchError as problem:
            self.complain(problem.sentence)
            return
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            take_in_lot,
            name=self.name.text().strip(),
            equipment=self.equipment.currentData(),
            route=self.route.currentData(),
            marks=marks,
            by=self._context.person.initials,
            note=self.note.text().strip(),
            hazards=self.hazards.in_all,
            known=self._known(),
            then=self._done,
            refused=self.complain,
        )

    def _known(self) -> dict[str, str]:
        """What holds for every unit of the lot; what was left empty is not known."""
        fields = {WHERE_FROM: self.where_from, GIVEN_BY: self.given_by, RIGHT: self.right, CONDITION: self.condition}
        return {what: field.text() for what, field in fields.items()}

    def _missing(self) -> str:
        for field, words in (
            (self.name, tr("Give the lot a name.")),
            (self.count, tr("Say how many units there are.")),
            (self.first, tr("Type the first shelf mark, such as TB-001: the others count up from it.")),
            (self.initials, tr("Type your initials: they stand under what you record.")),
        ):
            if not field.text().strip():
                field.setFocus()
                return words
        if self.route.currentData() is None:
            return tr("There is no route for this equipment yet. A trainer has to write one first.")
        return ""

    def complain(self, sentence: str) -> None:
        self.take_in.setEnabled(self._catalogue is not None)
        super().complain(sentence)

    def _done(self, _changes: "ChangeSet") -> None:
        name = self.name.text().strip()
        self.taken_in.emit(name)
        self.accept()
