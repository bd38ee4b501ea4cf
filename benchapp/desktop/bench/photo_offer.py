"""A new picture in the photo folder, offered for the unit at hand: taken, or left, never by itself."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from benchapp.desktop.keys import KEYS, add_action, with_key
from benchapp.desktop.photo_folder import PhotoFolder
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr
from benchapp.visible import visible

LOOK_EVERY = 1000
"""milliseconds between two looks into the folder; a picture is whole when two saw it alike (own choice)"""
_NARROW = 45
"""width below which the buttons stand under the words, in heights of a line"""


class PhotoOffer(QWidget):
    """A line that asks, with a button for each answer, and the folder that is looked into."""

    taken = Signal(object)
    """the path of a picture that a person wants for the unit at hand"""

    def __init__(self, page: QWidget, look: Look, folder: PhotoFolder, mark: Callable[[], str]) -> None:
        super().__init__()
        self._folder, self._mark = folder, mark
        self.offered: Path | None = None
        self.words = label("photo-offer", "say")
        self.attach = button("photo-attach", with_key("attach photo", tr(KEYS["attach photo"].words)), "main")
        self.leave = button("photo-leave", with_key("leave photo", tr(KEYS["leave photo"].words)))
        self.choose = button("photo-folder", with_key("photo folder", tr(KEYS["photo folder"].words)))
        ways = QWidget()
        row = QHBoxLayout(ways)
        row.setContentsMargins(0, 0, 0, 0)
        for one in (self.attach, self.leave, self.choose):
            row.addWidget(one)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(Split(look, self.words, ways, shares=(1, 1), narrow=_NARROW))
        self._clock = QTimer(self)
        self._clock.setInterval(LOOK_EVERY)
        self._clock.timeout.connect(self.look)
        for one, key, work in (
            (self.attach, "attach photo", self._attach),
            (self.leave, "leave photo", self._leave),
            (self.choose, "photo folder", self._choose),
        ):
            one.clicked.connect(work)
            add_action(page, key, work)
        self._say()

    def showEvent(self, event: QShowEvent) -> None:
        self._clock.start()
        self._say()
        super().showEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        self._clock.stop()
        super().hideEvent(event)

    def look(self) -> None:
        """Look into the folder; what is offered already stays until it is answered."""
        if self.offered is None or not self.offered.is_file():
            self.offered = self._folder.look()
            self._say()

    def _say(self) -> None:
        if self.offered is not None:
            words = tr("{picture} is new. Attach it to {unit}?")
            self.words.setText(words.format(picture=visible(self.offered.name), unit=self._mark()))
        elif self._folder.path is not None:
            words = tr("New pictures in {folder} are offered here.")
            self.words.setText(words.format(folder=visible(self._folder.path.name)))
        else:
            self.words.setText(tr("A phone or camera that puts its pictures into a folder: name the folder once."))
        for one in (self.attach, self.leave):
            one.setVisible(self.offered is not None)
        self.choose.setVisible(self.offered is None)

    def _attach(self) -> None:
        if self.offered is not None:
            picture = self.offered
            self._leave()
            self.taken.emit(picture)

    def _leave(self) -> None:
        if self.offered is not None:
            self._folder.pass_over(self.offered)
            self.offered = None
            self._say()

    def _choose(self) -> None:
        begin = str(self._folder.path or "")
        chosen = QFileDialog.getExistingDirectory(self, tr("The folder that the phone or camera fills"), begin)
        if chosen:
            self.offered = None
            self._folder.choose(Path(chosen))
            self._say()
