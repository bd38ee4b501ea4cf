"""Pictures for the record: read from files or taken as they come, scaled down, made JPEG. For any thread."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice, Qt
from PySide6.QtGui import QImage, QImageReader, QPainter

from benchapp.desktop.words import tr
from benchapp.files.picture_size import MOST_PIXELS, is_too_large, megapixels, size_of
from benchapp.visible import visible

LONG_SIDE = 1600
"""pixels of a photo's longer side (own choice: a rating plate that fills the picture can still be read)"""
THUMBNAIL = 320
"""pixels of the longer side of what is shown on the page (own choice)"""
QUALITY = 85
"""of the JPEG, 0 to 100 (common practice, no source)"""
MOST_MEMORY = 4 * MOST_PIXELS // (1 << 20) + 1
"""MiB that reading one picture may take, by Qt's own limit: the bound on pixels again, where a header should lie"""
FORMATS = {"jpeg", "png", "webp"}
"""what is read, as Qt calls it"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenPhoto:
    """A photo that was chosen and is not recorded: what to call it, its JPEG, and itself small."""

    name: str
    jpeg: bytes
    thumbnail: QImage


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotosRead:
    """What came of reading: the photos, and a sentence for each that is none."""

    photos: tuple[ChosenPhoto, ...]
    complaints: tuple[str, ...]


def read_photos(sources: Iterable[Path | QImage]) -> PhotosRead:
    """Read files, or pictures that were pasted."""
    photos: list[ChosenPhoto] = []
    complaints: list[str] = []
    for source in sources:
        image = source if isinstance(source, QImage) else _read_file(source)
        if isinstance(image, QImage):
            name = tr("pasted") if isinstance(source, QImage) else visible(source.name)
            photos.append(_chosen(name, image))
        else:
            complaints.append(image)
    return PhotosRead(photos=tuple(photos), complaints=tuple(complaints))


def _read_file(path: Path) -> QImage | str:
    """The picture, turned as the camera noted, or a sentence on why there is none."""
    name = visible(path.name)
    if not path.is_file():
        return tr("There is no file {name}. Choose another.").format(name=name)
    if complaint := _too_large(path, name):
        return complaint
    QImageReader.setAllocationLimit(MOST_MEMORY)
    reader = QImageReader(str(path))
    reader.setDecideFormatFromContent(True)
    reader.setAutoTransform(True)
    if reader.format().toStdString() not in FORMATS:
        return tr("{name} is no JPEG, PNG or WebP picture. Choose another, or save it as one of these.").format(
            name=name
        )
    size = reader.size()
    if max(size.width(), size.height()) > LONG_SIDE:
        reader.setScaledSize(size.scaled(LONG_SIDE, LONG_SIDE, Qt.AspectRatioMode.KeepAspectRatio))
    image = reader.read()
    if image.isNull():
        return tr("{name} is damaged or too large to be read. Choose another, or take it again.").format(name=name)
    return image


def _too_large(path: Path, name: str) -> str:
    """A sentence on a picture of too many pixels, before any is decoded; empty where it may be read."""
    size = size_of(path)
    if size is None or not is_too_large(size):
        return ""
    words = tr(
        "{name} has {found} megapixels; at most {most} are read. Choose a smaller one, or make it smaller first."
    )
    return words.format(name=name, found=megapixels(size), most=MOST_PIXELS // 1_000_000)


def _chosen(name: str, image: QImage) -> ChosenPhoto:
    flat = _on_white(_at_most(image, LONG_SIDE))
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    flat.save(buffer, "JPEG", QUALITY)  # type: ignore[call-overload]  # PySide6's stub knows the format as bytes only
    return ChosenPhoto(name=name, jpeg=bytes(buffer.data().data()), thumbnail=_at_most(flat, THUMBNAIL))


def small_picture(image: bytes) -> QImage:
    """A picture that is on record, small; a null one where it cannot be read, or is far too large to be a photo."""
    buffer = QBuffer()
    buffer.setData(image)
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    QImageReader.setAllocationLimit(MOST_MEMORY)
    reader = QImageReader(buffer)
    size = reader.size()
    if reader.format().toStdString() not in FORMATS or is_too_large((size.width(), size.height())):
        return QImage()
    if max(size.width(), size.height()) > THUMBNAIL:
        reader.setScaledSize(size.scaled(THUMBNAIL, THUMBNAIL, Qt.AspectRatioMode.KeepAspectRatio))
    return reader.read()


def _at_most(image: QImage, side: int) -> QImage:
    if max(image.width(), image.height()) <= side:
        return image
    ways = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
    return image.scaled(side, side, *ways)


def _on_white(image: QImage) -> QImage:
    """The pixels alone, on white where they can be seen through: no note of the camera comes along, no place either."""
    flat = QImage(image.size(), QImage.Format.Format_RGB32)
    flat.fill(Qt.GlobalColor.white)
    painter = QPainter(flat)
    painter.drawImage(0, 0, image)
    painter.end()
    return flat
