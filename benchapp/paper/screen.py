"""A printed page as a picture, for the preview on screen and for looking at what was printed (pypdfium2)."""

import struct
import zlib

import pypdfium2

from benchapp.paper.problems import PaperProblem

POINTS_PER_INCH = 72


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return len(document)
    finally:
        document.close()


def page_image(pdf: bytes, page: int = 0, dpi: float = 150) -> bytes:
    """A page (0 is the first) as PNG bytes at `dpi` dots per inch. Raises PaperProblem for a page that is not there."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        if not 0 <= page < len(document):
            raise PaperProblem(f"There is no page {page + 1}: the document has {len(document)}.")
        bitmap = document[page].render(scale=dpi / POINTS_PER_INCH, rev_byteorder=True, prefer_bgrx=False)
        pixels = bytes(bitmap.buffer)
        return _png(bitmap.width, bitmap.height, bitmap.stride, bitmap.n_channels, pixels)
    finally:
        document.close()


def _png(width: int, height: int, stride: int, channels: int, pixels: bytes) -> bytes:
    """PNG (ISO/IEC 15948) of 8-bit rows, unfiltered: written here so that the program needs no imaging library."""
    colour_type = {1: 0, 3: 2, 4: 6}[channels]
    rows = b"".join(b"\0" + pixels[y * stride : y * stride + width * channels] for y in range(height))
    header = struct.pack(">IIBBBBB", width, height, 8, colour_type, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(rows, 3)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in chunks)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
