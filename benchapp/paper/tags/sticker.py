"""Where everything on a sticker stands: the shelf mark, large, what it is and when it came beside the code; below them,
across the whole label, that nobody has tested anything.

A sticker is stuck on at intake and says which unit this is, nothing else. Type shrinks before anything gives way; then
what it is and the name of its lot are cut, with an ellipsis. The mark, the day and the last words never give way: what
does not fit is a PaperProblem. On a narrow label the code stands below the words.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from benchapp.paper.content import StickerContent
from benchapp.paper.drawing.codes import QUIET_ZONE, code_matrix
from benchapp.paper.drawing.fonts import Faces
from benchapp.paper.drawing.placed import Code, Item, LabelLayout, Rule, Text
from benchapp.paper.drawing.style import BLACK, LEADING, MM
from benchapp.paper.drawing.wrapping import first_lines, largest_size, wrap
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.frame import CAP, place_lines, shortened
from benchapp.words import say

NOT_TESTED = "Shelf mark only: no test says this is safe"
SIDES, ENDS = 2 * MM, 1.5 * MM
"""empty margins left and right, above and below"""
GAP = 0.8 * MM
NARROW = 40 * MM
"""below this the code has no room beside the words"""
MARK_LARGEST = 30.0
MARK_SMALLEST = 15.75
"""3.0 mm from the foot of a small x to its head (DejaVu Sans: 1120 of 2048 units)"""
SIZES = (10.0, 9.0, 8.25, 7.5)
"""the smallest is 1.4 mm by the same measure"""
MODULE = 0.375 * MM
"""the least side of a module: three dots of a label printer of 8 dots a millimetre (common practice, no source)"""
LARGEST_CODE = 20.5 * MM
BLEED = 1.2 * MM
"""how far the code's quiet zone may reach into the empty margin of the label"""
UNDER_MARK = 0.15
"""free below the mark, in type sizes"""


@dataclass(frozen=True, slots=True)
class _Columns:
    """The room of one label inside its margins, and how it is divided."""

    width: float
    height: float | None
    code: float
    """side of the code with its quiet zone"""
    stacked: bool
    """the code stands below the words"""

    @property
    def words(self) -> float:
        """How wide a line of words may be."""
        return self.width if self.stacked else self.width - self.code + BLEED


@dataclass(frozen=True, slots=True)
class _Head:
    """The shelf mark: its size and lines, and whether it runs above the code in place of beside it."""

    size: float
    lines: tuple[str, ...]
    across: bool

    @property
    def height(self) -> float:
        return self.size * (CAP + (len(self.lines) - 1) * LEADING + UNDER_MARK)


def lay_out_sticker(sticker: StickerContent, width: float, height: float | None, faces: Faces) -> LabelLayout:
    """Place a sticker on a label of `width` x `height` points; with no height, on one as long as it needs.

    Raises PaperProblem when the label is too small for what must stand on it.
    """
    sticker = _printable(sticker, faces)
    columns = _columns(sticker, width - 2 * SIDES, None if height is None else height - 2 * ENDS)
    for head in _heads(sticker.shelf_mark, columns, faces):
        for size in SIZES:
            items, used = _place(sticker, head, size, columns, faces, _lines(sticker, size, columns, faces))
            if columns.height is None or used <= columns.height:
                return LabelLayout(width, height or used + 2 * ENDS, ((SIDES, ENDS, items),))
    items = _cut(sticker, head, columns, faces)
    return LabelLayout(width, height or 0.0, ((SIDES, ENDS, items),))


def _columns(sticker: StickerContent, width: float, height: float | None) -> _Columns:
    stacked = width + 2 * SIDES < NARROW
    least = (len(code_matrix(sticker.code)) + 2 * QUIET_ZONE) * MODULE
    room = 0.6 * width if stacked else min(0.34 * width, 0.6 * (height or width))
    return _Columns(width=width, height=height, code=max(least, min(LARGEST_CODE, room)), stacked=stacked)


def _heads(mark: str, columns: _Columns, faces: Faces) -> Iterator[_Head]:
    """The shelf mark as it may stand, the largest first: on one line beside the code, above it, on several lines."""
    size = largest_size(mark, columns.words, faces.bold, largest=MARK_LARGEST, smallest=MARK_SMALLEST)
    if size:
        for share in (1.0, 0.85, 0.7):
            if size * share > MARK_SMALLEST:
                yield _Head(size * share, (mark,), across=False)
        yield _Head(MARK_SMALLEST, (mark,), across=False)
        return
    size = largest_size(mark, columns.width, faces.bold, largest=MARK_LARGEST, smallest=MARK_SMALLEST)
    if size:
        yield _Head(size, (mark,), across=True)
    yield _Head(MARK_SMALLEST, wrap(mark, columns.width / MARK_SMALLEST, faces.bold), across=True)


def _lines(sticker: StickerContent, size: float, columns: _Columns, faces: Faces) -> tuple[str, ...]:
    """What it is, and when and with which lot it came, whole."""
    width = columns.words / size
    return (*wrap(sticker.title, width, faces.regular), *wrap(_came(sticker, faces), width, faces.regular))


def _cut(sticker: StickerContent, head: _Head, columns: _Columns, faces: Faces) -> tuple[Item, ...]:
    """The same in the smallest type, as far as the label goes."""
    size, face = SIZES[-1], faces.regular
    width, came = columns.words / size, _came(sticker, faces)
    for arrivals in range(len(wrap(came, width, face)), 0, -1):
        second = first_lines(came, arrivals, width, face)
        for titles in range(len(wrap(sticker.title, width, face)), 0, -1):
            lines = (*first_lines(sticker.title, titles, width, face), *second)
            items, used = _place(sticker, head, size, columns, faces, lines)
            if used <= (columns.height or used) and sticker.taken_in in " ".join(second):
                return items
    raise PaperProblem(
        say(
            "The sticker of {short} does not fit its label: its shelf mark has to stay large enough to be read, and "
            "its code large enough to be scanned. Shorten the mark, or print on a larger label.",
            short=shortened(sticker.shelf_mark),
        )
    )


def _place(
    sticker: StickerContent, head: _Head, size: float, columns: _Columns, faces: Faces, lines: tuple[str, ...]
) -> tuple[tuple[Item, ...], float]:
    """Everything at its place, and the height that it takes."""
    items: list[Item] = []
    for number, text in enumerate(head.lines):
        items.append(Text(0.0, head.size * (CAP + number * LEADING), text, head.size, bold=True))
    place_lines(lines, size, 0.0, head.height, False, BLACK, items)
    foot = head.height + len(lines) * size * LEADING
    if columns.stacked:
        items.append(Code(-BLEED, foot, columns.code, sticker.code))
        foot += columns.code
    else:
        top = head.height if head.across else -BLEED
        items.append(Code(columns.width - columns.code + BLEED, top, columns.code, sticker.code))
        foot = max(foot, top + columns.code)
    said = faces.bold.printable(say(NOT_TESTED))
    size = largest_size(said, columns.width, faces.bold, largest=size, smallest=SIZES[-1]) or size
    words = wrap(said, columns.width / size, faces.bold)
    below = len(words) * size * LEADING
    used = foot + GAP + below
    foot = max(used, columns.height or 0.0) - below
    items.append(Rule(0.0, foot, columns.width))
    place_lines(words, size, 0.0, foot, True, BLACK, items)
    return tuple(items), used


def _came(sticker: StickerContent, faces: Faces) -> str:
    return faces.regular.printable(say("Taken in {day}, lot {lot}", day=sticker.taken_in, lot=sticker.lot))


def _printable(sticker: StickerContent, faces: Faces) -> StickerContent:
    """The same sticker with every text as the fonts can print it; the code stays as it is scanned."""
    regular, bold = faces.regular.printable, faces.bold.printable
    return replace(
        sticker,
        shelf_mark=bold(sticker.shelf_mark),
        title=regular(sticker.title),
        lot=regular(sticker.lot),
        taken_in=regular(sticker.taken_in),
    )
