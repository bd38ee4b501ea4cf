"""Real pictures, tiny, made here from the format's own specification (ISO/IEC 15948), no two of the same bytes."""

import struct
import zlib


def tiny_photo(number=0, *, width=1, height=1):
    """A PNG of one colour, another for each number below 256."""
    row = b"\0" + bytes((number, 128, 255 - number)) * width
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(row * height)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in chunks)


def claiming(width, height):
    """A PNG of one pixel whose header, with its right checksum, claims more: what a decompression bomb looks like."""
    whole = tiny_photo()
    header = struct.pack(">II", width, height) + whole[24:29]
    return whole[:8] + _chunk(b"IHDR", header) + whole[33:]


def _chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
