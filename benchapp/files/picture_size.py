"""How many pixels a picture states, read from its first bytes alone: nothing is decoded, whatever it states.

Sources: ITU-T T.81, B.2 (JPEG frame header); ISO/IEC 15948, 11.2.2 (PNG IHDR); RFC 9649, 2.5 to 2.7, and
RFC 6386, 9.1 (WebP).
"""

from io import SEEK_CUR
from pathlib import Path
from typing import BinaryIO

Size = tuple[int, int]
"""width and height in pixels"""
MOST_PIXELS = 64_000_000
"""pixels of a picture that is read: four bytes each are 256 MB (own choice; a phone's 50 megapixels go)"""
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
"""JPEG markers that begin a frame: SOF0 to SOF15 without DHT, JPG and DAC (T.81, table B.1)"""
_BARE = frozenset(range(0xD0, 0xD9)) | {0x01}
"""JPEG markers that no length follows: RST0 to RST7, SOI, TEM (T.81, B.1.1.3)"""
_MOST_SEGMENTS = 1000
"""segments before the frame after which a file is taken for no picture (own choice)"""


def picture_size(file: BinaryIO) -> Size | None:
    """The size that a JPEG, PNG or WebP states, from a file at its beginning; None where it states none."""
    head = file.read(30)
    if head.startswith(b"\xff\xd8"):
        file.seek(2)
        return _known(_jpeg(file))
    if head.startswith(b"\x89PNG\r\n\x1a\n") and head[12:16] == b"IHDR":
        return _known((_big(head[16:20]), _big(head[20:24])))
    if head.startswith(b"RIFF") and head[8:12] == b"WEBP" and len(head) == 30:
        return _known(_webp(head))
    return None


def size_of(path: Path) -> Size | None:
    """The size that the file's own header states; None where it states none or cannot be read."""
    try:
        with path.open("rb") as file:
            return picture_size(file)
    except OSError:
        return None


def is_too_large(size: Size) -> bool:
    """Whether a picture of that size is not read at all."""
    return size[0] * size[1] > MOST_PIXELS


def megapixels(size: Size) -> str:
    """Its millions of pixels, in digits, with one after the point where it is no whole number."""
    return f"{size[0] * size[1] / 1e6:,.1f}".removesuffix(".0").replace(",", " ")


def _known(size: Size | None) -> Size | None:
    return size if size and all(size) else None


def _big(octets: bytes) -> int:
    return int.from_bytes(octets, "big")


def _little(octets: bytes) -> int:
    return int.from_bytes(octets, "little")


def _jpeg(file: BinaryIO) -> Size | None:
    """From after the first marker: segment by segment to the frame."""
    for _segment in range(_MOST_SEGMENTS):
        marker = _marker(file)
        if marker in _BARE:
            continue
        length = _big(file.read(2))
        if length < 2:
            return None
        if marker in _FRAMES:
            frame = file.read(5)
            return (_big(frame[3:5]), _big(frame[1:3])) if len(frame) == 5 else None
        file.seek(length - 2, SEEK_CUR)
    return None


def _marker(file: BinaryIO) -> int:
    """The next marker's second byte, fill bytes left out (T.81, B.1.1.2); 0 where there is none."""
    if file.read(1) != b"\xff":
        return 0
    for _fill in range(_MOST_SEGMENTS):
        octet = file.read(1)
        if octet != b"\xff":
            return octet[0] if octet else 0
    return 0


def _webp(head: bytes) -> Size | None:
    kind = head[12:16]
    if kind == b"VP8 ":
        return (_little(head[26:28]) & 0x3FFF, _little(head[28:30]) & 0x3FFF)
    if kind == b"VP8L":
        bits = _little(head[21:25])
        return ((bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1)
    if kind == b"VP8X":
        return (_little(head[24:27]) + 1, _little(head[27:30]) + 1)
    return None
