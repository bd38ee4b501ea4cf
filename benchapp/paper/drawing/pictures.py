"""A printed page as a picture, for the preview on screen and for looking at what was printed (pypdfium2)."""

import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

import pypdfium2

from benchapp.paper.content import PaperKind
from benchapp.paper.drawing.document import creator_of
from benchapp.paper.problems import PaperProblem
from benchapp.words import say

if TYPE_CHECKING:
    from numpy import uint8
    from numpy.typing import NDArray

POINTS_PER_INCH = 72
_ONE_AT_A_TIME = Lock()


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has."""
    with opened(pdf) as document:
        return len(document)


def page_sizes(pdf: bytes) -> tuple[tuple[float, float], ...]:
    """Width and height of each page, in points."""
    with opened(pdf) as document:
        return tuple(page.get_size() for page in document)


def page_image(pdf: bytes, page: int = 0, dpi: float = 150) -> bytes:
    """A page (0 is the first) as PNG bytes at `dpi` dots per inch. Raises PaperProblem for a page that is not there."""
    with opened(pdf) as document:
        if not 0 <= page < len(document):
            raise PaperProblem(
                say("There is no page {value}: the document has {count}.", value=page + 1, count=len(document))
            )
        bitmap = document[page].render(scale=dpi / POINTS_PER_INCH, rev_byteorder=True, prefer_bgrx=False)
        return _png(bitmap.width, bitmap.height, bitmap.stride, bitmap.n_channels, bytes(bitmap.buffer))


def is_document(path: Path, kind: PaperKind) -> bool:
    """Whether a file is a PDF of that kind that this program made; what cannot be read is none."""
    try:
        with opened(path) as document:
            return str(document.get_metadata_value("Creator")) == creator_of(kind)
    except (OSError, pypdfium2.PdfiumError):
        return False


@contextmanager
def opened(pdf: bytes | Path) -> Iterator[pypdfium2.PdfDocument]:
    """A document to read. Only one thread at a time may use the renderer; previews are made off the window's thread."""
    with _ONE_AT_A_TIME:
        document = pypdfium2.PdfDocument(pdf)
        try:
            yield document
        finally:
            document.close()


def png_of(pixels: "NDArray[uint8]") -> bytes:
    """Rows of grey, blue-green-red or blue-green-red-alpha pixels, as the renderer gives them, as PNG."""
    height, width = pixels.shape[:2]
    channels = pixels.shape[2] if pixels.ndim == 3 else 1
    in_order = pixels[:, :, [2, 1, 0, 3][:channels]] if channels > 1 else pixels
    return _png(width, height, width * channels, channels, in_order.tobytes())


def _png(width: int, height: int, stride: int, channels: int, pixels: bytes) -> bytes:
    """PNG (ISO/IEC 15948) of 8-bit rows, unfiltered: written here so that the program needs no imaging library."""
    colour_type = {1: 0, 3: 2, 4: 6}[channels]
    rows = b"".join(b"\0" + pixels[y * stride : y * stride + width * channels] for y in range(height))
    header = struct.pack(">IIBBBBB", width, height, 8, colour_type, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(rows, 3)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in chunks)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
