"""Taking in a lot by hand, or more units into one: group after group, each of one design; a complaint stays.

Enter takes in what stands in the table and what is being typed. Alt+A puts a group into the table, where each unit may
be changed by itself, and goes on with others. What is typed goes the way of a list: the same checks, the same action.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QLineEdit, QVBoxLayout, QWidget

from benchapp.actions.entries.intake import take_in_units
from benchapp.actions.exchange.lot_files import designs_offered
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.lots.group_form import GroupForm
from benchapp.desktop.lots.units_table import HEAD, Arrival, UnitsTable
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import add_rows, button, label, wrapping_form
from benchapp.desktop.words import tr
from benchapp.errors import BenchError
from benchapp.lots.listed_units import GIVEN_BY, RIGHT, WHERE_FROM, ListedUnit, read_units

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.sequences.planning.catalogue import Catalogue

_NARROW = 34
"""width below which buttons stand below each other, in heights of a line"""
MOST_LINES = 6
"""files named one by one before the rest is counted (own choice)"""


class NewLotDialog(AskingDialog):
    """Asks for a lot and has it taken in; stays open until it is on disk. `into` names a lot that is there."""

    taken_in = Signal(str)
    """the name of the lot"""
    print_asked = Signal(list)
    """the marks of units whose stickers are to be printed"""
    photos_asked = Signal(list)
    """the marks of units of which photos are to be taken in"""
    list_asked = Signal()

    def __init__(self, context: AppContext, parent: QWidget, into: str = "") -> None:
        title = tr("More units for {lot}").format(lot=into) if into else tr("New lot")
        super().__init__(parent, "new-lot", title, QDialogButtonBox.StandardButton.Ok)
        self._context, self._into = context, into
        self._catalogue: Catalogue | None = None
        self._then: SignalInstance | None = None
        """what is asked for once they are taken in"""
        self.name, self.initials, self.note = QLineEdit(into), QLineEdit(context.person.initials), QLineEdit()
        self.name.setReadOnly(bool(into))
        self.where_from, self.given_by, self.right = QLineEdit(), QLineEdit(), QLineEdit()
        self.group = GroupForm(context)
        self.equipment, self.route, self.hazards = self.group.equipment, self.group.route, self.group.hazards
        self.count, self.first, self.marks = self.group.count, self.group.first, self.group.marks
        self.units = UnitsTable()
        self.add = self.key_button("new-lot-add", "add units", self._add)
        self.take_out = self.key_button("new-lot-take-out", "row out", self._take_out)
        self.take_out.hide()
        self.look_at = self.key_button("new-lot-look", "this design", self._look_at)
        self.describe = self.key_button("new-lot-describe", "new design", self._describe)
        self.left_out, self.own_texts = label("new-lot-left-out", "quiet"), label("new-lot-own-texts", "quiet")
        self.left_out.hide()
        self.own_texts.hide()
        self._name_buttons()
        self._fill()
        self.group.edited.connect(lambda: self.complain(""))
        self.group.resized.connect(self._fit_soon)
        for field in (self.name, self.initials):
            field.textEdited.connect(lambda _text: self.complain(""))

    def _name_buttons(self) -> None:
        self.take_in = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.take_in.setText(tr("Take in the lot"))
        self.take_in.setObjectName("new-lot-take-in")
        self.and_print = self.key_button("new-lot-and-print", "and print", lambda: self._go_and(self.print_asked))
        self.and_photos = self.key_button("new-lot-and-photos", "and photos", lambda: self._go_and(self.photos_asked))
        self.from_list = button("new-lot-from-list", tr("From a list …"))
        self.from_list.setAutoDefault(False)
        self.from_list.clicked.connect(lambda _checked=False: self._ask_list())

    def _fill(self) -> None:
        lot = wrapping_form()
        add_rows(lot, (self.name, "new-lot-name", tr("Name of the lot")))
        rest = wrapping_form()
        add_rows(
            rest,
            (self.where_from, "new-lot-where-from", tr("Where from")),
            (self.given_by, "new-lot-given-by", tr("Who gave it")),
            (self.right, "new-lot-right", tr("Their right to give it")),
            (self.initials, "new-lot-initials", tr("Your initials")),
            (self.note, "new-lot-note", tr("Note")),
        )
        keys, look = QVBoxLayout(), self._context.look
        for left, right in ((self.look_at, self.describe), (self.add, self.from_list)):
            keys.addWidget(Split(look, left, right, shares=(1, 1), narrow=_NARROW))
        keys.addWidget(self.take_out, alignment=Qt.AlignmentFlag.AlignLeft)
        also = QVBoxLayout()
        for one in (self.and_print, self.and_photos):
            if self._context.look.cramped:  # four buttons beside each other would be wider than the screen
                also.addWidget(one, alignment=Qt.AlignmentFlag.AlignLeft)
            else:
                self.buttons.addButton(one, QDialogButtonBox.ButtonRole.ActionRole)
        words = tr("From intake on every unit is in quarantine: not tested, do not plug in.")
        warning = label("new-lot-warning", "quiet", words)
        self.lay_out(lot, self.units, self.group, keys, rest, also, warning, self.own_texts, self.left_out, wide=38)

    def _ask_list(self) -> None:
        self.reject()
        self.list_asked.emit()

    def begin(self) -> None:
        """Read what can be taken in, off the window's thread."""
        self._let_in(ready=False)
        self.marks.setText(tr("Reading the equipment files …"))
        bench = self._context.bench
        self.group.taken = bench.workbook.marks()
        self._context.tasks.read(bench.reread_files, then=self._offer, refused=self.complain)
        (self.equipment if self._into else self.name).setFocus()

    def _look_at(self) -> None:
        """The design at hand, drawn, with the readings that its route plans."""
        from benchapp.desktop.lots.design_look import DesignLookDialog

        equipment, route = self.equipment.currentData(), self.route.currentData()
        if equipment is None or route is None:
            return
        dialog = DesignLookDialog(self._context, self, [(str(equipment), str(route), "")])
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()
        dialog.begin()

    def _describe(self) -> None:
        """Describe a design of the workshop's own, and choose it for the units that are being typed."""
        from benchapp.desktop.lots.design_dialog import DesignDialog

        dialog = DesignDialog(self._context, self)
        dialog.made.connect(self._choose_made)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()
        dialog.begin()

    def _choose_made(self, equipment: str) -> None:
        self._catalogue = self._context.bench.catalogue
        self.group.offer(self._catalogue)
        self.group.choose(equipment)
        self.complain("")
        self.fit()

    def _let_in(self, *, ready: bool) -> None:
        for one in (self.take_in, self.and_print, self.and_photos, self.add):
            one.setEnabled(ready)

    def _offer(self, catalogue: "Catalogue") -> None:
        self._catalogue = catalogue
        self.group.offer(catalogue)
        self._show_own_texts(catalogue)
        self._show_left_out()
        self.fit()
        self._let_in(ready=True)

    def _fit_soon(self) -> None:
        if self.layout() is not None:
            self.fit()

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

    # group after group
    def _add(self) -> None:
        """Put what is typed into the table, and go on with others."""
        arrivals = self._typed()
        if arrivals is None:
            return
        self.units.add(arrivals)
        self.group.taken = frozenset(self._context.bench.workbook.marks()) | self.units.marks()
        self.group.clear()
        self._show_table()

    def _take_out(self) -> None:
        self.units.take_out()
        self.group.taken = frozenset(self._context.bench.workbook.marks()) | self.units.marks()
        self._show_table()

    def _show_table(self) -> None:
        self.complain("")
        self.take_out.setVisible(self.units.rowCount() > 0)
        self.fit()

    def _typed(self) -> tuple[Arrival, ...] | None:
        """The group that is being typed; None with a complaint where it cannot be."""
        if words := self.group.missing():
            self.complain(words)
            return None
        try:
            return self.group.arrivals()
        except BenchError as problem:
            self.complain(problem.sentence)
            return None

    # taking in
    def _go_and(self, asked: SignalInstance) -> None:
        self._then = asked
        self.go()

    def go(self) -> None:
        self._context.person.set_initials(self.initials.text())
        arrivals = self._arrivals()
        units = self._units(arrivals) if arrivals else None
        if not units:
            self._then = None
            return
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            take_in_units,
            name=self.name.text().strip(),
            units=units,
            by=self._context.person.initials,
            note=self.note.text().strip(),
            more=bool(self._into),
            then=self._done,
            refused=self._refused,
        )

    def _arrivals(self) -> tuple[Arrival, ...] | None:
        """What stands in the table and what is being typed; None with a complaint."""
        if not self.name.text().strip():
            self.name.setFocus()
            self.complain(tr("Give the lot a name."))
            return None
        there = self.units.arrivals()
        if there and not self.group.is_begun:
            typed: tuple[Arrival, ...] | None = ()
        else:
            self.group.taken = frozenset(self._context.bench.workbook.marks()) | self.units.marks()
            typed = self._typed()
        if typed is not None and not self.initials.text().strip():
            self.initials.setFocus()
            self.complain(tr("Type your initials: they stand under what you record."))
            return None
        return None if typed is None else (*there, *typed)

    def _units(self, arrivals: Sequence[Arrival]) -> tuple[ListedUnit, ...]:
        """The units, as a list of them would be read; none, with a complaint, where one is wrong."""
        bench = self._context.bench
        of_all = {WHERE_FROM: self.where_from.text(), GIVEN_BY: self.given_by.text(), RIGHT: self.right.text()}
        rows = [one.row(of_all) for one in arrivals]
        units, wrong = read_units(HEAD, rows, designs_offered(bench), bench.workbook.marks())
        if wrong:
            first = wrong[0]
            mark = arrivals[first.line - 2].mark or tr("Row {number}").format(number=first.line - 1)
            self.complain(tr("{unit}: {why}").format(unit=mark, why=" ".join(first.why)))
            return ()
        hazards = {one.mark: one.hazards for one in arrivals}
        return tuple(replace(unit, hazards=hazards[unit.mark]) for unit in units)

    def complain(self, sentence: str) -> None:
        super().complain(sentence)
        self._let_in(ready=self._catalogue is not None)

    def _refused(self, sentence: str) -> None:
        self._then = None
        self.complain(sentence)

    def _done(self, changes: "ChangeSet") -> None:
        self.taken_in.emit(self.name.text().strip())
        self.accept()
        self._context.change_signals.said.emit(changes.words)
        if self._then is not None:
            self._then.emit(sorted(changes.units))
