"""Rows straight from the pages of a database file, where SQLite itself gives up: each page is read on its own.

Names and numbers are those of SQLite's "Database File Format". Pure: bytes come in, rows go out; nothing is trusted,
what cannot be read is left out.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass

LEAF, INTERIOR = 0x0D, 0x05
"""types of a page of a table (section 1.6)"""
USUAL_PAGE = 4096
"""bytes of a page where the file's head cannot be trusted (SQLite's default, and what workbooks have)"""
MOST_PAYLOAD = 1 << 28
"""bytes of a row beyond which its length is taken for rubbish (own choice)"""
Value = int | float | str | bytes | None
_LOG_HEAD, _FRAME_HEAD = 32, 24


@dataclass(frozen=True, slots=True, kw_only=True)
class PageRow:
    """One row: the page that it was found on, its row number, and its values in the order of the columns."""

    page: int
    rowid: int
    values: tuple[Value, ...]


class Pages:
    """The pages of a file, with those of its write-ahead log laid over them; numbers begin at 1."""

    def __init__(self, content: bytes, log: bytes = b"") -> None:
        self._content = content
        self.size = _page_size(content)
        self._usable = self.size  # the reserved bytes that a head can name are none in this program's files
        self._laid_over = logged_pages(log, self.size)
        self.count = max([len(content) // self.size, *self._laid_over])

    def page(self, number: int) -> bytes:
        """The bytes of a page; fewer than a whole one, or none, where the file was cut off."""
        over = self._laid_over.get(number)
        return over if over is not None else self._content[(number - 1) * self.size : number * self.size]

    def kind(self, number: int) -> int:
        """The type of a page, as its first byte says."""
        page, start = self.page(number), _start(number)
        return page[start] if len(page) > start else 0

    def leaves(self, root: int) -> Iterator[int]:
        """Numbers of the leaf pages below a page of a table, as far as the pages between can be read."""
        waiting, seen = [root], set[int]()
        while waiting:
            number = waiting.pop()
            if number in seen or not 1 <= number <= self.count:
                continue
            seen.add(number)
            if self.kind(number) == LEAF:
                yield number
            elif self.kind(number) == INTERIOR:
                waiting += reversed([*self._children(number)])

    def _children(self, number: int) -> Iterator[int]:
        page, start = self.page(number), _start(number)
        for offset in _cells(page, start, 12):
            yield int.from_bytes(page[offset : offset + 4], "big")
        yield int.from_bytes(page[start + 8 : start + 12], "big")

    def rows(self, number: int) -> Iterator[PageRow]:
        """The rows of a leaf page that can be read."""
        page = self.page(number)
        for offset in _cells(page, _start(number), 8):
            try:
                length, at = _varint(page, offset)
                rowid, at = _varint(page, at)
                values = _record(self._payload(page, at, length))
            except (IndexError, ValueError, struct.error):
                continue
            yield PageRow(page=number, rowid=rowid, values=values)

    def _payload(self, page: bytes, at: int, length: int) -> bytes:
        """The bytes of a row, those on overflow pages too (section 1.6); raises ValueError where some are missing."""
        if not 0 < length <= MOST_PAYLOAD:
            raise ValueError(length)
        most = self._usable - 35
        if length <= most:
            payload = page[at : at + length]
        else:
            least = (self._usable - 12) * 32 // 255 - 23
            here = least + (length - least) % (self._usable - 4)
            here = here if here <= most else least
            payload = page[at : at + here] + self._overflow(page[at + here : at + here + 4], length - here)
        if len(payload) != length:
            raise ValueError(length)
        return payload

    def _overflow(self, first: bytes, length: int) -> bytes:
        parts, number = [], int.from_bytes(first, "big")
        while length > 0:
            page = self.page(number) if 1 <= number <= self.count else b""
            if len(page) < self._usable:
                raise ValueError(number)
            parts.append(page[4 : min(self._usable, 4 + length)])
            length -= len(parts[-1])
            number = int.from_bytes(page[:4], "big")
        return b"".join(parts)


def logged_pages(log: bytes, size: int) -> dict[int, bytes]:
    """Pages of a write-ahead log up to its last commit that holds, by number ("WAL-mode File Format")."""
    if len(log) < _LOG_HEAD or log[:3] != b"\x37\x7f\x06" or log[3] not in (0x82, 0x83):
        return {}
    order = ">" if log[3] & 1 else "<"
    said = _two(log[24:32])
    if int.from_bytes(log[8:12], "big") != size or _sum(log[:24], (0, 0), order) != said:
        return {}
    kept: dict[int, bytes] = {}
    waiting: dict[int, bytes] = {}
    for at in range(_LOG_HEAD, len(log) - size - _FRAME_HEAD + 1, size + _FRAME_HEAD):
        head, page = log[at : at + _FRAME_HEAD], log[at + _FRAME_HEAD : at + _FRAME_HEAD + size]
        said = _sum(page, _sum(head[:8], said, order), order)
        if head[8:16] != log[16:24] or said != _two(head[16:24]):
            break
        waiting[int.from_bytes(head[:4], "big")] = page
        if head[4:8] != b"\0\0\0\0":
            kept |= waiting
            waiting = {}
    return kept


def _two(eight: bytes) -> tuple[int, int]:
    return int.from_bytes(eight[:4], "big"), int.from_bytes(eight[4:], "big")


def _sum(part: bytes, before: tuple[int, int], order: str) -> tuple[int, int]:
    """The log's checksum over words of 32 bits, two at a time."""
    one, two = before
    words = struct.unpack(f"{order}{len(part) // 4}I", part)
    for first, second in zip(words[::2], words[1::2], strict=True):
        one = (one + first + two) & 0xFFFFFFFF
        two = (two + second + one) & 0xFFFFFFFF
    return one, two


def _page_size(content: bytes) -> int:
    """The size that the file's head says, where it fits the number of pages there and the length of the file."""
    said = int.from_bytes(content[16:18], "big")
    said = 65536 if said == 1 else said
    pages = int.from_bytes(content[28:32], "big")
    return said if said >= 512 and said * pages == len(content) else USUAL_PAGE


def _start(number: int) -> int:
    """Where the page's own head begins: on the first page behind the head of the file."""
    return 100 if number == 1 else 0


def _cells(page: bytes, start: int, head: int) -> Iterator[int]:
    """Offsets of the cells of a page, as far as they lie within it."""
    count = int.from_bytes(page[start + 3 : start + 5], "big")
    for place in range(start + head, min(start + head + 2 * count, len(page) - 1), 2):
        offset = int.from_bytes(page[place : place + 2], "big")
        if start + head < offset < len(page):
            yield offset


def _varint(content: bytes, at: int) -> tuple[int, int]:
    """A number of variable length and the offset behind it (section 1.6); raises IndexError at the end."""
    number = 0
    for place in range(8):
        byte = content[at + place]
        number = number << 7 | byte & 0x7F
        if byte < 0x80:
            return number, at + place + 1
    number = number << 8 | content[at + 8]
    return (number - (1 << 64) if number >= 1 << 63 else number), at + 9


def _record(payload: bytes) -> tuple[Value, ...]:
    """The values of a row (section 2.1); raises IndexError, ValueError or struct.error for rubbish."""
    head, at = _varint(payload, 0)
    if not at <= head <= len(payload):
        raise ValueError(head)
    kinds = []
    while at < head:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    values = []
    for kind in kinds:
        length = _length(kind)
        if head + length > len(payload):
            raise ValueError(kind)
        values.append(_value(kind, payload[head : head + length]))
        head += length
    return tuple(values)


def _length(kind: int) -> int:
    if kind >= 12:
        return (kind - 12) // 2
    if kind < 0 or kind in (10, 11):
        raise ValueError(kind)
    return (0, 1, 2, 3, 4, 6, 8, 8, 0, 0)[kind]


def _value(kind: int, part: bytes) -> Value:
    if kind == 0:
        return None
    if kind == 7:
        return float(struct.unpack(">d", part)[0])
    if kind in (8, 9):
        return kind - 8
    if kind < 7:
        return int.from_bytes(part, "big", signed=True)
    return part.decode("utf-8", errors="replace") if kind % 2 else part
