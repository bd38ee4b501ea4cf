"""The page of a photo step: pictures chosen, pasted or dropped, shown small, recorded with Enter and not before."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData, QSize, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication, QIcon, QImage, QKeyEvent, QPixmap, Qt
from PySide6.QtWidgets import QFileDialog, QListWidget, QListWidgetItem

from benchapp.actions.entries.photos import record_photos
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.photo_files import ChosenPhoto, PhotosRead, read_photos
from benchapp.desktop.bench.photo_offer import PhotoOffer
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.keys import KEYS, add_action, key_text, with_key
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

Place = tuple[str, str]
"""a unit's mark and the address of a step"""
_LINES, _CRAMPED_LINES = 5, 2
"""height of a picture on the page, in lines of text; where text is large the buttons keep their room"""
_NARROW = 30
"""width below which the buttons stand below each other, in heights of a line"""


class PhotoList(QListWidget):
    """Small pictures side by side; `recorded` on Enter."""

    recorded = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("photo-list")
        self.setAccessibleName(tr("Photos chosen"))
        self.setViewMode(QListWidget.ViewMode.IconMode)
        self.setMovement(QListWidget.Movement.Static)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        self._look = look
        self._grow()
        look.changed.connect(self._grow)

    def _grow(self) -> None:
        self.setFont(self._look.font(1.0))
        line = self.fontMetrics().height()
        lines = _CRAMPED_LINES if self._look.cramped else _LINES
        self.setIconSize(QSize(line * lines, line * lines))
        self.setGridSize(QSize(line * (lines + 2), line * (lines + 2)))
        self.setMinimumHeight(line * (lines + 3))

    def show_photos(self, photos: Sequence[ChosenPhoto], at_hand: int) -> None:
        """Show these, the one of that number at hand."""
        self.clear()
        for photo in photos:
            small, icon = QPixmap.fromImage(photo.thumbnail), QIcon()
            for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):  # a marked photo keeps its colours
                icon.addPixmap(small, mode)
            self.addItem(QListWidgetItem(icon, photo.name))
        self.setCurrentRow(min(at_hand, len(photos) - 1))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.recorded.emit()
        else:
            super().keyPressEvent(event)


class PhotoPage(BenchPage):
    """Photos are chosen here and stay in the window until Enter records them; the workbook then keeps them."""

    name = "photo"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.head = label("photo-head", "head")
        self.list = PhotoList(context.look)
        self.choose = button("photo-choose", with_key("choose photos", tr(KEYS["choose photos"].words)))
        self.take_away = button("photo-take-away", with_key("take away", tr(KEYS["take away"].words)))
        self.record = button("photo-record", tr("Enter: record them"), "main")
        self.body.addWidget(self.head)
        self.offer = PhotoOffer(self, context.look, context.photo_folder, lambda: self._place[0])
        self.offer.taken.connect(lambda picture: self.add([picture]))
        self.body.addWidget(self.offer)
        self.body.addWidget(self.list, 100)
        self.body.addWidget(Split(context.look, self.choose, self.take_away, shares=(1, 1), narrow=_NARROW))
        self.body.addWidget(self.record)
        self.setAcceptDrops(True)
        self._chosen: dict[Place, list[ChosenPhoto]] = {}
        self._under_way = 0
        self._folder = ""
        self.list.recorded.connect(self.record_it)
        self.record.clicked.connect(lambda _checked=False: self.record_it())
        self.choose.clicked.connect(lambda _checked=False: self._browse())
        self.take_away.clicked.connect(lambda _checked=False: self._take_away())
        add_action(self, "choose photos", self._browse)
        add_action(self, "paste photos", lambda: self._take(QGuiApplication.clipboard().mimeData()))
        add_action(self, "take away", self._take_away)

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        self._show(0)

    def take_focus(self) -> None:
        self.list.setFocus()

    def drop_draft(self) -> None:
        super().drop_draft()
        self._chosen.pop(self._place, None)

    def unrecorded(self) -> str:
        chosen = [(mark, len(photos)) for (mark, _address), photos in self._chosen.items() if photos]
        return " ".join(
            tr("{count} photo(s) of {unit} (is|are) chosen and not recorded.", "", count).format(count=count, unit=mark)
            for mark, count in chosen
        )

    def forget_unrecorded(self) -> None:
        self._chosen.clear()

    def hints(self) -> Sequence[Hint]:
        return (hint("enter"), hint("choose photos"), hint("take away"), hint("paste photos", minor=True))

    @property
    def _place(self) -> Place:
        return (self.view.mark if self.view else "", self.address())

    @property
    def _photos(self) -> list[ChosenPhoto]:
        return self._chosen.setdefault(self._place, [])

    def _show(self, at_hand: int) -> None:
        wanted = model_field(self.unit.step, "at_least", 1)
        words = tr("{count} chosen, at least {wanted} wanted. None is recorded yet.")
        self.head.setText(words.format(count=len(self._photos), wanted=wanted))
        self.list.show_photos(self._photos, at_hand)
        self.take_away.setEnabled(bool(self._photos))

    # choosing
    def _browse(self) -> None:
        kinds = tr("Pictures") + " (*.jpg *.jpeg *.png *.webp *.JPG *.JPEG *.PNG *.WEBP)"
        paths, _kind = QFileDialog.getOpenFileNames(self, tr("Choose photos"), self._folder, kinds)
        if paths:
            self._folder = str(Path(paths[0]).parent)
            self.add([Path(path) for path in paths])

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls() or event.mimeData().hasImage():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self._take(event.mimeData())

    def _take(self, brought: QMimeData) -> None:
        """Take what was pasted or dropped: files, or a picture itself."""
        paths = [Path(url.toLocalFile()) for url in brought.urls() if url.isLocalFile()]
        image = QImage(brought.imageData()) if brought.hasImage() and not paths else QImage()
        if paths or not image.isNull():
            self.add(paths or [image])
        else:
            self.complained.emit(tr("There is no picture to paste. Copy one first, or choose a file."))

    def add(self, sources: Sequence[Path | QImage]) -> None:
        """Read these aside and show them; what is no photo is told."""
        from benchapp.sequences.kinds.photo import MOST_PHOTOS

        if len(self._photos) + len(sources) > MOST_PHOTOS:
            words = tr("That would be {count} photos, at most {most} go to one step. Choose fewer.")
            self.complained.emit(words.format(count=len(self._photos) + len(sources), most=MOST_PHOTOS))
            return
        self.complained.emit("")
        self._under_way += 1
        place = self._place
        self.context.tasks.read(
            lambda: read_photos(sources), then=partial(self._add_read, place), refused=lambda _words: self._came_back()
        )

    def _came_back(self) -> None:
        self._under_way -= 1

    def _add_read(self, place: Place, read: PhotosRead) -> None:
        self._came_back()
        there = self._chosen.setdefault(place, [])
        complaints = list(read.complaints)
        for photo in read.photos:
            if any(photo.jpeg == other.jpeg for other in there):
                complaints.append(tr("{name} is there already.").format(name=photo.name))
            else:
                there.append(photo)
        if place == self._place and self.view is not None:
            self._show(len(there) - 1)
            self.complained.emit(" ".join(complaints))

    def _take_away(self) -> None:
        at_hand = self.list.currentRow()
        if at_hand < 0:
            self.complained.emit(tr("No photo is marked."))
            return
        del self._photos[at_hand]
        self._show(at_hand)
        self.list.setFocus()

    # recording
    def record_it(self) -> None:
        if self._under_way:
            self.complained.emit(tr("The photos are still being read. Wait a moment."))
        elif not self._photos and model_field(self.unit.step, "at_least", 1):
            words = tr("Choose photos first ({key}), then record them.")
            self.complained.emit(words.format(key=key_text("choose photos")))
        else:
            self.request(record_photos, self.address(), tuple(photo.jpeg for photo in self._photos))
