"""Units of one design that come in together: what they are, how many, their marks, what is known of all of them."""

from collections.abc import Collection
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QIntValidator
from PySide6.QtWidgets import QComboBox, QLineEdit, QVBoxLayout, QWidget

from benchapp.actions.entries.designs import mains_said_here
from benchapp.actions.entries.intake import shelf_marks
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.lots.lot_hazards import LotHazards
from benchapp.desktop.lots.units_table import Arrival
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr
from benchapp.errors import BenchError
from benchapp.lots.listed_units import CLASS, CONDITION, DONE_WITH_MEDIA, MEDIA, MEDIA_DONE, PLUG

if TYPE_CHECKING:
    from benchapp.sequences.planning.catalogue import Catalogue

CLASS_OFFERED = (("", "not known"), ("I", "class I, earthed"), ("II", "class II, two squares"), ("III", "class III"))


class GroupForm(QWidget):
    """One group at a time; what was typed of it becomes `Arrival`s."""

    edited = Signal()
    resized = Signal()
    """rows were shown or hidden"""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self._context = context
        self.catalogue: Catalogue | None = None
        self.equipment, self.route = QComboBox(), QComboBox()
        self.count, self.first = QLineEdit("1"), QLineEdit()
        self.count.setValidator(QIntValidator(1, 9999, self))
        self.first.setPlaceholderText(tr("for example TB-001"))
        self.class_of, self.media_done = QComboBox(), QComboBox()
        self.plug, self.condition, self.media = QLineEdit(), QLineEdit(), QLineEdit()
        self.plug.setPlaceholderText(tr("rewirable, moulded, another, none"))
        self.media.setPlaceholderText(tr("a tape, a disc, papers; empty: none"))
        for value, words in CLASS_OFFERED:
            self.class_of.addItem(tr(words), value)
        for value in ("", *DONE_WITH_MEDIA):
            self.media_done.addItem(tr(value) if value else tr("choose"), value)
        for box in (self.equipment, self.route, self.class_of, self.media_done):
            hold_narrow(box)
        self.marks, self.mains = label("new-lot-marks", "quiet"), label("new-lot-mains", "complaint")
        self.hazards_head = label("new-lot-hazards-head", "head")
        self.hazards = LotHazards(context.look)
        self.mains.hide()
        self.hazards.hide()
        self._lay_out()
        self.equipment.currentIndexChanged.connect(self._offer_routes)
        self.media.textChanged.connect(lambda _text: self._fit())
        for field in (self.first, self.count):
            field.textChanged.connect(self._show_marks)
            field.textEdited.connect(lambda _text: self.edited.emit())
        self.taken: Collection[str] = ()
        """marks that are spoken for"""

    def _lay_out(self) -> None:
        self._form = wrapping_form()
        add_rows(
            self._form,
            (self.equipment, "new-lot-equipment", tr("What it is")),
            (self.route, "new-lot-route", tr("Route")),
        )
        self._form.addRow("", self.mains)
        add_rows(
            self._form,
            (self.count, "new-lot-count", tr("How many")),
            (self.first, "new-lot-first", tr("First shelf mark")),
        )
        self._form.addRow("", self.marks)
        add_rows(
            self._form,
            (self.class_of, "new-lot-class", tr("Its class, where it is known")),
            (self.plug, "new-lot-plug", tr("Its plug")),
            (self.condition, "new-lot-condition", tr("Condition, of all of it")),
            (self.media, "new-lot-media", tr("Media left inside")),
            (self.media_done, "new-lot-media-done", tr("What became of them")),
        )
        body = QVBoxLayout(self)
        body.setContentsMargins(0, 0, 0, 0)
        body.addLayout(self._form)
        body.addWidget(self.hazards_head)
        body.addWidget(self.hazards)
        self._fit()

    def offer(self, catalogue: "Catalogue") -> None:
        """The designs there are, by their titles; one that nobody knows is called so."""
        self.catalogue = catalogue
        self.equipment.clear()
        self._show_marks()
        for one, design in sorted(catalogue.equipment.items(), key=lambda item: item[1].title):
            title = design.title if design.design_known else tr("Not known yet: {title}").format(title=design.title)
            self.equipment.addItem(f"{title} ({one})", one)

    def choose(self, equipment: str) -> None:
        """Have that design at hand."""
        self.equipment.setCurrentIndex(self.equipment.findData(equipment))

    def _offer_routes(self, _number: int = 0) -> None:
        self.route.clear()
        assert self.catalogue is not None
        said = mains_said_here(self._context.bench, self.catalogue, str(self.equipment.currentData()))
        self.mains.setText("\n".join(said))
        self.mains.setVisible(bool(said))
        self._ask_hazards()
        for route_id in self.catalogue.routes_for(str(self.equipment.currentData())):
            self.route.addItem(self.catalogue.routes[route_id].title, route_id)
        self._fit()

    def _ask_hazards(self) -> None:
        """Ask at once, by the design and its age, what every unit of the group is seen to have."""
        from benchapp.sequences.planning.hazards import hazards_asked

        assert self.catalogue is not None
        design = self.catalogue.equipment.get(str(self.equipment.currentData()))
        asked = hazards_asked(design, design.facts(), self.catalogue.hazards) if design is not None else ()
        self.hazards.offer(asked)
        words = tr("Before it is handled, look for these. On a row: 1 each unit is looked at, 2 all of them have it.")
        self.hazards_head.setText(words if asked else "")
        self.hazards_head.setVisible(bool(asked))

    @property
    def _unknown(self) -> bool:
        design = self.catalogue.equipment.get(str(self.equipment.currentData())) if self.catalogue else None
        return design is not None and not design.design_known

    def _fit(self) -> None:
        """Ask for class and plug where the design does not say them, for what became of media where there are any."""
        for field, is_asked in (
            (self.class_of, self._unknown),
            (self.plug, self._unknown),
            (self.media_done, bool(self.media.text().strip())),
        ):
            self._form.setRowVisible(field, is_asked)
        self.resized.emit()

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
        return shelf_marks(self.first.text().strip(), int(self.count.text() or 0), taken=self.taken)

    @property
    def is_begun(self) -> bool:
        """Whether units are being typed: they have a mark."""
        return bool(self.first.text().strip())

    def missing(self) -> str:
        """What has to be typed first, with the keyboard there; empty where nothing has."""
        for field, words in (
            (self.count, tr("Say how many units there are.")),
            (self.first, tr("Type the first shelf mark, such as TB-001: the others count up from it.")),
        ):
            if not field.text().strip():
                field.setFocus()
                return words
        if self.route.currentData() is None:
            return tr("There is no route for this equipment yet. A trainer has to write one first.")
        return ""

    def arrivals(self) -> tuple[Arrival, ...]:
        """The units as they stand typed; raises BenchError for marks that cannot be counted."""
        known = {CONDITION: self.condition.text(), MEDIA: self.media.text()}
        if self.media.text().strip():
            known[MEDIA_DONE] = str(self.media_done.currentData())
        if self._unknown:
            known |= {CLASS: str(self.class_of.currentData()), PLUG: self.plug.text()}
        assert self.catalogue is not None
        equipment = str(self.equipment.currentData())
        return tuple(
            Arrival(
                mark=mark,
                equipment=equipment,
                route=str(self.route.currentData()),
                title=self.catalogue.equipment[equipment].title,
                known=known,
                hazards=self.hazards.in_all,
            )
            for mark in self._shelf_marks()
        )

    def clear(self) -> None:
        """Ready for other units: the design stays at hand, the marks are empty."""
        self.first.clear()
        self.count.setText("1")
        for field in (self.plug, self.condition, self.media):
            field.clear()
        self.class_of.setCurrentIndex(0)
        self.media_done.setCurrentIndex(0)
        self._ask_hazards()
        self.equipment.setFocus()
