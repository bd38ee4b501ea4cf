"""Photos of units, as they came in or later: of no step, so that no unit has to be opened at the bench for them."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QLineEdit, QWidget

from benchapp.actions.entries.photos import attach_photos, photos_of
from benchapp.actions.workbench.titles import titled
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.photo_chooser import PhotoChooser, PhotoList
from benchapp.desktop.bench.photo_files import small_picture
from benchapp.desktop.person import initials_first
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet


class UnitPhotosDialog(AskingDialog):
    """Enter records what is chosen for the unit at hand; the dialog stays, for more of it and for the next one."""

    def __init__(self, context: AppContext, parent: QWidget, marks: Sequence[str], at_hand: str = "") -> None:
        super().__init__(parent, "unit-photos", tr("Photos of units"), QDialogButtonBox.StandardButton.Save)
        self._context = context
        self.unit, self.note = QComboBox(), QLineEdit()
        hold_narrow(self.unit)
        self.on_record = label("unit-photos-on-record", "quiet")
        self.kept = PhotoList(context.look, "unit-photos-kept", tr("Photos on record"))
        self.chooser = PhotoChooser(context, self, self.mark)
        self.next = self.key_button("unit-photos-next", "next photos", self._go_on)
        self.said = label("unit-photos-said", "quiet")
        self._lay_out()
        wanted = set(marks)
        units = [one for one in context.bench.units() if one.mark in wanted]
        for one in titled(context.bench, units):
            self.unit.addItem(f"{one.mark}   {one.title}", one.mark)
        self.unit.setCurrentIndex(max(0, self.unit.findData(at_hand)))
        self.unit.currentIndexChanged.connect(lambda _number: self._show())
        self.chooser.complained.connect(self.complain)
        self.chooser.list.recorded.connect(self.go)
        self._show()

    def _lay_out(self) -> None:
        which, note = wrapping_form(), wrapping_form()
        add_rows(which, (self.unit, "unit-photos-unit", tr("Unit")))
        add_rows(note, (self.note, "unit-photos-note", tr("What they show")))
        save = self.buttons.button(QDialogButtonBox.StandardButton.Save)
        save.setText(tr("Record them"))
        save.setObjectName("unit-photos-record")
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setText(tr("Close"))
        self.buttons.addButton(self.next, QDialogButtonBox.ButtonRole.ActionRole)
        self.kept.hide()
        self.lay_out(which, self.on_record, self.kept, self.chooser, note, self.said, wide=40)

    def mark(self) -> str:
        """The unit at hand; empty where there is none."""
        return str(self.unit.currentData() or "")

    def _show(self) -> None:
        """The unit at hand: what is on its record, and what was chosen for it."""
        self.chooser.show_place((self.mark(), ""))
        self.next.setEnabled(self.unit.currentIndex() < self.unit.count() - 1)
        self.note.clear()
        self._read_kept()
        self.chooser.list.setFocus()

    def _read_kept(self) -> None:
        bench, mark = self._context.bench, self.mark()

        def read() -> tuple[str, list[tuple[str, QImage]]]:
            kept = photos_of(bench, mark) if mark else ()
            return mark, [(one.note or tr("as it came"), small_picture(one.image)) for one in kept]

        self._context.tasks.read(read, then=self._show_kept, refused=self.complain)

    def _show_kept(self, read: tuple[str, list[tuple[str, QImage]]]) -> None:
        mark, pictures = read
        if mark != self.mark():
            return
        words = tr("{count} photo(s) on the record of {unit}.", "", len(pictures))
        self.on_record.setText(words.format(count=len(pictures), unit=mark))
        self.kept.show_pictures(pictures, 0)
        self.kept.setVisible(bool(pictures))
        self.fit()

    def _go_on(self) -> None:
        self.unit.setCurrentIndex(min(self.unit.currentIndex() + 1, self.unit.count() - 1))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        self.chooser.take_drag(event)

    def dropEvent(self, event: QDropEvent) -> None:
        self.chooser.take_drop(event)

    def go(self) -> None:
        if not self._context.person.initials:
            self.complain(initials_first())
            return
        if self.chooser.is_reading:
            self.complain(tr("The photos are still being read. Wait a moment."))
            return
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            attach_photos,
            self.mark(),
            tuple(photo.jpeg for photo in self.chooser.photos),
            by=self._context.person.initials,
            note=self.note.text(),
            then=self._done,
            refused=self.complain,
        )

    def _done(self, changes: "ChangeSet") -> None:
        self.complain("")
        self.chooser.chosen.clear()
        self._show()
        self.said.setText(changes.words)
        self._context.change_signals.said.emit(changes.words)
