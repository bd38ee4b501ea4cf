"""The photos of a record sheet: small, side by side, each with its entry and step under it."""

from collections.abc import Sequence
from io import BytesIO

from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, Image, Table

from benchapp.paper.content import RecordPhoto
from benchapp.paper.drawing.fonts import Faces
from benchapp.paper.drawing.style import CELL, CELL_PAD, MM, WHY
from benchapp.paper.sheets.flowables import Lines

ACROSS = 3
TALLEST = 60 * MM
MOST_PIXELS = 40_000_000
"""of a photo that is drawn (own choice: three bytes each are held while it is)"""
_BEGINNINGS = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF")
"""first bytes of what is drawn: other formats are kept from the readers, some of which start programs"""
NOT_DRAWN = "This photo cannot be drawn: the workbook lacks it, or its picture is damaged or too large."


def photos_table(photos: Sequence[RecordPhoto], width: float, fonts: Faces) -> Table:
    """Three photos in a row with what they are of; where one cannot be drawn, a sentence says so."""
    column = width / ACROSS
    cells: list[list[Flowable]] = [
        [_picture(photo.image, column - 2 * CELL_PAD, fonts), Lines(photo.words, WHY, fonts)] for photo in photos
    ]
    cells += [[] for _ in range(-len(cells) % ACROSS)]
    rows = [cells[first : first + ACROSS] for first in range(0, len(cells), ACROSS)]
    pads = [(f"{side}PADDING", (0, 0), (-1, -1), CELL_PAD) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")]
    return Table(rows, [column] * ACROSS, style=[("VALIGN", (0, 0), (-1, -1), "TOP"), *pads])


def _picture(image: bytes, width: float, fonts: Faces) -> Flowable:
    """The picture, as large as fits; the bytes may come from a stranger's workbook, so it is read whole first."""
    if not image.startswith(_BEGINNINGS):
        return Lines(NOT_DRAWN, CELL, fonts)
    try:
        read = ImageReader(BytesIO(image))
        wide, high = read.getSize()
        if wide * high > MOST_PIXELS:
            return Lines(NOT_DRAWN, CELL, fonts)
        read.getRGBData()  # type: ignore[no-untyped-call]
    except Exception:  # whatever the reader of that format raises on rubbish
        return Lines(NOT_DRAWN, CELL, fonts)
    scale = min(width / wide, TALLEST / high)
    return Image(BytesIO(image), wide * scale, high * scale, hAlign="LEFT")
