"""The units of a lot, some of them ticked: they go into another lot, or are of another design. Each says why."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QHBoxLayout, QLineEdit, QListWidget, QListWidgetItem, QWidget

from benchapp.actions.entries.lots import move_units
from benchapp.actions.entries.runs import retype_units
from benchapp.actions.workbench.titles import titled
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.person import initials_first
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from collections.abc import Callable

    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.sequences.planning.catalogue import Catalogue

MOVE, RETYPE = "move", "retype"
ROWS_SHOWN = 8


class LotUnitsDialog(AskingDialog):
    """Space ticks a unit; Enter records what is chosen for the ticked ones, and the dialog stays for others."""

    more_asked = Signal(str)
    """more units are to come into that lot"""
    photos_asked = Signal(str)
    """the mark of the unit whose photos are asked for"""
    print_asked = Signal(list)
    """the marks of units whose tags or stickers are to be printed"""

    def __init__(self, context: AppContext, parent: QWidget, lot: str) -> None:
        title = tr("Units of {lot}").format(lot=lot)
        super().__init__(parent, "lot-units", title, QDialogButtonBox.StandardButton.Save)
        self._context, self._lot = context, lot
        self._catalogue: Catalogue | None = None
        self.rows = QListWidget()
        self.rows.setObjectName("lot-units-rows")
        self.rows.setAccessibleName(tr("Units of the lot: Space ticks one"))
        self.what, self.to, self.equipment, self.route = (QComboBox() for _ in range(4))
        self.why = QLineEdit()
        self.to.setEditable(True)
        for box in (self.what, self.to, self.equipment, self.route):
            hold_narrow(box)
        self.what.addItem(tr("go into another lot"), MOVE)
        self.what.addItem(tr("are of another design"), RETYPE)
        self.every = self.key_button("lot-units-every", "tick all", self._tick_every)
        self.more = self.key_button("lot-units-more", "more units", self._ask_more)
        self.tags = self.key_button("lot-units-print", "tags of ticked", self._ask_print)
        self.photos = self.key_button("lot-units-photos", "photos of row", self._ask_photos)
        self.said = label("lot-units-said", "quiet")
        self._form = wrapping_form()
        self._lay_out()
        self.what.currentIndexChanged.connect(lambda _number: self._fit_form())
        self.equipment.currentIndexChanged.connect(lambda _number: self._offer_routes())
        self._fill()

    def _lay_out(self) -> None:
        self.rows.setMinimumHeight(self.fontMetrics().height() * ROWS_SHOWN)
        add_rows(
            self._form,
            (self.what, "lot-units-what", tr("Those ticked")),
            (self.to, "lot-units-to", tr("Into the lot, new or there")),
            (self.equipment, "lot-units-equipment", tr("What they are")),
            (self.route, "lot-units-route", tr("Route")),
            (self.why, "lot-units-why", tr("Why: it stands on the record of each")),
        )
        save = self.buttons.button(QDialogButtonBox.StandardButton.Save)
        save.setText(tr("Record it"))
        save.setObjectName("lot-units-record")
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setText(tr("Close"))
        keys = QHBoxLayout()
        for one in (self.every, self.more, self.photos, self.tags):
            keys.addWidget(one)
        self.lay_out(self.rows, keys, self._form, self.said, wide=40)

    def begin(self) -> None:
        """Read the designs there are, off the window's thread."""
        self._fit_form()
        self.rows.setFocus(Qt.FocusReason.OtherFocusReason)
        self._context.tasks.read(lambda: self._context.bench.catalogue, then=self._offer, refused=self.complain)

    def _offer(self, catalogue: "Catalogue") -> None:
        self._catalogue = catalogue
        for one, design in sorted(catalogue.equipment.items(), key=lambda item: item[1].title):
            self.equipment.addItem(f"{design.title} ({one})", one)

    def _offer_routes(self) -> None:
        self.route.clear()
        assert self._catalogue is not None
        for route in self._catalogue.routes_for(str(self.equipment.currentData())):
            self.route.addItem(self._catalogue.routes[route].title, route)

    def _fill(self) -> None:
        """The units as they are now, none ticked, and the other lots."""
        bench = self._context.bench
        self.rows.clear()
        for unit in titled(bench, bench.units(self._lot)):
            item = QListWidgetItem(f"{unit.mark}   {unit.title} · {tr(unit.stands)}")
            item.setData(Qt.ItemDataRole.UserRole, unit.mark)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Unchecked)
            self.rows.addItem(item)
        self.rows.setCurrentRow(0)
        self.to.clear()
        self.to.addItems([lot.name for lot in bench.lots() if lot.name != self._lot])
        self.to.setCurrentText("")
        self.why.clear()

    def _fit_form(self) -> None:
        moves = self.what.currentData() == MOVE
        self._form.setRowVisible(self.to, moves)
        for box in (self.equipment, self.route):
            self._form.setRowVisible(box, not moves)
        self.fit()

    def ticked(self) -> list[str]:
        """The marks of the ticked units."""
        items = (self.rows.item(row) for row in range(self.rows.count()))
        return [
            str(item.data(Qt.ItemDataRole.UserRole)) for item in items if item.checkState() is Qt.CheckState.Checked
        ]

    def _tick_every(self) -> None:
        state = Qt.CheckState.Unchecked if len(self.ticked()) == self.rows.count() else Qt.CheckState.Checked
        for row in range(self.rows.count()):
            self.rows.item(row).setCheckState(state)

    def _ask_more(self) -> None:
        self.reject()
        self.more_asked.emit(self._lot)

    def _ask_photos(self) -> None:
        marked = self.rows.currentItem()
        if marked is not None:
            self.reject()
            self.photos_asked.emit(str(marked.data(Qt.ItemDataRole.UserRole)))

    def _ask_print(self) -> None:
        if marks := self.ticked():
            self.reject()
            self.print_asked.emit(marks)
        else:
            self.complain(tr("Tick the units whose tags or stickers are printed: Space on a row."))

    def go(self) -> None:
        if not self._context.person.initials:
            self.complain(initials_first())
            return
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            self._action(),
            self.ticked(),
            by=self._context.person.initials,
            why=self.why.text(),
            then=self._done,
            refused=self.complain,
        )

    def _action(self) -> "Callable[..., ChangeSet]":
        """What is done with those ticked."""
        if self.what.currentData() == MOVE:
            return partial(move_units, to=self.to.currentText())
        return partial(retype_units, equipment=str(self.equipment.currentData()), route=str(self.route.currentData()))

    def _done(self, changes: "ChangeSet") -> None:
        self.complain("")
        self._fill()
        self.said.setText(changes.words)
        self._context.change_signals.said.emit(changes.words)
        self.rows.setFocus(Qt.FocusReason.OtherFocusReason)
        self.fit()
