"""Photos chosen from files, the clipboard, a drag or the watched folder, shown small, and not recorded yet."""

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData, QSize, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication, QIcon, QImage, QKeyEvent, QPixmap, Qt
from PySide6.QtWidgets import QFileDialog, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.photo_files import ChosenPhoto, PhotosRead, read_photos
from benchapp.desktop.bench.photo_offer import PhotoOffer
from benchapp.desktop.keys import KEYS, add_action, with_key
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import button
from benchapp.desktop.words import tr

_LINES, _CRAMPED_LINES = 5, 2
"""height of a picture, in lines of text; where text is large the buttons keep their room"""
Place = tuple[str, str]
"""a unit's mark and the address of a step; no step where they are of the unit itself"""
_NARROW = 30
"""width below which the buttons stand below each other, in heights of a line"""


class PhotoList(QListWidget):
    """Small pictures side by side; `recorded` on Enter."""

    recorded = Signal()

    def __init__(self, look: Look, name: str, title: str) -> None:
        super().__init__()
        self.setObjectName(name)
        self.setAccessibleName(title)
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

    def show_pictures(self, pictures: Sequence[tuple[str, QImage]], at_hand: int) -> None:
        """Show these, each with its words, the one of that number at hand."""
        self.clear()
        for words, picture in pictures:
            small, icon = QPixmap.fromImage(picture), QIcon()
            for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):  # a marked photo keeps its colours
                icon.addPixmap(small, mode)
            self.addItem(QListWidgetItem(icon, words))
        self.setCurrentRow(min(at_hand, len(pictures) - 1))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.recorded.emit()
        else:
            super().keyPressEvent(event)


class PhotoChooser(QWidget):
    """The photos of the place at hand; those of other places are kept until they are recorded or dropped."""

    complained = Signal(object)
    changed = Signal()
    """other photos are shown than before"""

    def __init__(self, context: AppContext, owner: QWidget, mark: Callable[[], str]) -> None:
        super().__init__()
        self._context = context
        self.list = PhotoList(context.look, "photo-list", tr("Photos chosen"))
        self.choose = button("photo-choose", with_key("choose photos", tr(KEYS["choose photos"].words)))
        self.take_away = button("photo-take-away", with_key("take away", tr(KEYS["take away"].words)))
        self.offer = PhotoOffer(owner, context.look, context.photo_folder, mark)
        self.offer.taken.connect(lambda picture: self.add([picture]))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.offer)
        layout.addWidget(self.list, 100)
        layout.addWidget(Split(context.look, self.choose, self.take_away, shares=(1, 1), narrow=_NARROW))
        self.chosen: dict[Place, list[ChosenPhoto]] = {}
        """by place: what is chosen and not recorded"""
        self._place: Place = ("", "")
        self._under_way = 0
        self._folder = ""
        self.choose.clicked.connect(lambda _checked=False: self._browse())
        self.take_away.clicked.connect(lambda _checked=False: self._take_away())
        owner.setAcceptDrops(True)
        add_action(owner, "choose photos", self._browse)
        add_action(owner, "paste photos", lambda: self._take(QGuiApplication.clipboard().mimeData()))
        add_action(owner, "take away", self._take_away)

    @property
    def photos(self) -> list[ChosenPhoto]:
        """What is chosen for the place at hand."""
        return self.chosen.setdefault(self._place, [])

    @property
    def is_reading(self) -> bool:
        """Whether pictures are still being read."""
        return self._under_way > 0

    def show_place(self, place: Place) -> None:
        """Show what was chosen for that place."""
        self._place = place
        self._show(0)

    def _show(self, at_hand: int) -> None:
        self.list.show_pictures([(one.name, one.thumbnail) for one in self.photos], at_hand)
        self.take_away.setEnabled(bool(self.photos))
        self.changed.emit()

    def _browse(self) -> None:
        kinds = tr("Pictures") + " (*.jpg *.jpeg *.png *.webp *.JPG *.JPEG *.PNG *.WEBP)"
        paths, _kind = QFileDialog.getOpenFileNames(self, tr("Choose photos"), self._folder, kinds)
        if paths:
            self._folder = str(Path(paths[0]).parent)
            self.add([Path(path) for path in paths])

    def take_drag(self, event: QDragEnterEvent) -> None:
        """Something is dragged over the owner: files and pictures may be dropped."""
        if event.mimeData().hasUrls() or event.mimeData().hasImage():
            event.acceptProposedAction()

    def take_drop(self, event: QDropEvent) -> None:
        """It was dropped there."""
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
        from benchapp.sequences.planning.photo_names import MOST_PHOTOS

        if len(self.photos) + len(sources) > MOST_PHOTOS:
            words = tr("That would be {count} photos, at most {most} are recorded together. Choose fewer.")
            self.complained.emit(words.format(count=len(self.photos) + len(sources), most=MOST_PHOTOS))
            return
        self.complained.emit("")
        self._under_way += 1
        self._context.tasks.read(
            lambda: read_photos(sources), then=partial(self._add_read, self._place), refused=self._came_back
        )

    def _came_back(self, _words: str = "") -> None:
        self._under_way -= 1

    def _add_read(self, place: Place, read: PhotosRead) -> None:
        self._came_back()
        there = self.chosen.setdefault(place, [])
        complaints = list(read.complaints)
        for photo in read.photos:
            if any(photo.jpeg == other.jpeg for other in there):
                complaints.append(tr("{name} is there already.").format(name=photo.name))
            else:
                there.append(photo)
        if place == self._place:
            self._show(len(there) - 1)
            self.complained.emit(" ".join(complaints))

    def _take_away(self) -> None:
        at_hand = self.list.currentRow()
        if at_hand < 0:
            self.complained.emit(tr("No photo is marked."))
            return
        del self.photos[at_hand]
        self._show(at_hand)
        self.list.setFocus()
