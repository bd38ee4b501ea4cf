"""A photo of the workshop's own beside a drawing: a file in the folder `pictures` that stands beside the workbook.

Its name is the address of the step, a dot, and the checkpoint where it shows one: `plug-rewire.plug-inside.screws.jpg`.
"""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF, QImage, QImageReader, QPainter

from benchapp.desktop.pictures.drawings import fitted
from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr
from benchapp.files.picture_size import is_too_large, size_of

FOLDER = "pictures"
ENDINGS = (".jpg", ".jpeg", ".png", ".webp")


@dataclass(frozen=True, kw_only=True)
class OwnPhotoPicture(Picture):
    """A drawing, where there is one, and the workshop's photo of the same thing."""

    drawn: Picture | None
    file: str
    changed: int
    """when the file was last changed: another photo under the same name is another picture"""

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        photo = QRectF(box)
        if self.drawn is not None and box.width() > box.height():
            photo.setLeft(box.center().x() + 6)
            self.drawn.paint(painter, box.adjusted(0, 0, -box.width() / 2 - 6, 0), look)
        elif self.drawn is not None:
            photo.setTop(box.top() + box.height() * 0.58)
            self.drawn.paint(painter, box.adjusted(0, 0, 0, -box.height() * 0.44), look)
        foot = QFontMetricsF(look.font()).height() * 1.3
        image = read_at_most(Path(self.file), photo)
        room = photo.adjusted(0, 0, 0, -foot)
        if image is None:
            write(painter, look, room, tr("This photo cannot be shown."), colour="quiet")
        else:
            painter.drawImage(fitted(room, image.width(), image.height()), image)
        caption = QRectF(photo.left(), photo.bottom() - foot, photo.width(), foot)
        write(painter, look, caption, tr("this workshop's own photo"), colour="quiet")


def read_at_most(path: Path, box: QRectF) -> QImage | None:
    """The photo no larger than the box needs; None where it cannot be read, or is far too large to be one."""
    size = size_of(path)
    if size is None or is_too_large(size):
        return None
    reader = QImageReader(str(path))
    reader.setDecideFormatFromContent(True)
    reader.setAutoTransform(True)
    area = fitted(box, *size)
    if area.width() < size[0]:
        reader.setScaledSize(area.size().toSize() * 2)
    image = reader.read()
    return None if image.isNull() else image


def with_own_photo(drawn: Picture | None, beside: Path, address: str, row: str) -> Picture | None:
    """The picture with the workshop's photo of that checkpoint or step beside it, where there is one."""
    folder = beside / FOLDER
    if not folder.is_dir():
        return drawn
    name = address.replace("/", ".")
    for stem in ([f"{name}.{row}"] if row else []) + [name]:
        for ending in ENDINGS:
            file = folder / f"{stem}{ending}"
            if file.is_file():
                words = tr("Beside it this workshop's own photo.")
                said = f"{drawn.words} {words}" if drawn is not None else tr("This workshop's own photo.")
                return OwnPhotoPicture(words=said, drawn=drawn, file=str(file), changed=file.stat().st_mtime_ns)
    return drawn
