"""The page of a photo step: pictures chosen, pasted or dropped, shown small, recorded with Enter and not before."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage

from benchapp.actions.entries.photos import record_photos
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.photo_chooser import PhotoChooser, Place
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.keys import key_text
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr


class PhotoPage(BenchPage):
    """Photos are chosen here and stay in the window until Enter records them; the workbook then keeps them."""

    name = "photo"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.head = label("photo-head", "head")
        self.chooser = PhotoChooser(context, self, lambda: self._place[0])
        self.list, self.choose, self.take_away = self.chooser.list, self.chooser.choose, self.chooser.take_away
        self.offer = self.chooser.offer
        self.record = button("photo-record", tr("Enter: record them"), "main")
        self.body.addWidget(self.head)
        self.body.addWidget(self.chooser, 100)
        self.body.addWidget(self.record)
        self.chooser.complained.connect(self.complained)
        self.chooser.changed.connect(self._say_how_many)
        self.list.recorded.connect(self.record_it)
        self.record.clicked.connect(lambda _checked=False: self.record_it())

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        self.chooser.show_place(self._place)

    def take_focus(self) -> None:
        self.list.setFocus()

    def drop_draft(self) -> None:
        super().drop_draft()
        self.chooser.chosen.pop(self._place, None)

    def unrecorded(self) -> str:
        chosen = [(place[0], len(photos)) for place, photos in self.chooser.chosen.items() if photos]
        return " ".join(
            tr("{count} photo(s) of {unit} (is|are) chosen and not recorded.", "", count).format(count=count, unit=mark)
            for mark, count in chosen
        )

    def forget_unrecorded(self) -> None:
        self.chooser.chosen.clear()

    def hints(self) -> Sequence[Hint]:
        return (hint("enter"), hint("choose photos"), hint("take away"), hint("paste photos", minor=True))

    @property
    def _place(self) -> Place:
        return (self.view.mark if self.view else "", self.address())

    def _say_how_many(self) -> None:
        wanted = model_field(self.unit.step, "at_least", 1)
        words = tr("{count} chosen, at least {wanted} wanted. None is recorded yet.")
        self.head.setText(words.format(count=len(self.chooser.photos), wanted=wanted))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        self.chooser.take_drag(event)

    def dropEvent(self, event: QDropEvent) -> None:
        self.chooser.take_drop(event)

    def add(self, sources: Sequence[Path | QImage]) -> None:
        """Read these and show them; what is no photo is told."""
        self.chooser.add(sources)

    def record_it(self) -> None:
        photos = self.chooser.photos
        if self.chooser.is_reading:
            self.complained.emit(tr("The photos are still being read. Wait a moment."))
        elif not photos and model_field(self.unit.step, "at_least", 1):
            words = tr("Choose photos first ({key}), then record them.")
            self.complained.emit(words.format(key=key_text("choose photos")))
        else:
            self.request(record_photos, self.address(), tuple(photo.jpeg for photo in photos))
