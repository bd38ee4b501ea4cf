"""The parts of a tag that stand around its body: the head (mark, title, code), the band of the disposition."""

from benchapp.paper.content import TagContent, Tone
from benchapp.paper.drawing.fonts import Face, Faces
from benchapp.paper.drawing.placed import Box, Code, Item, Part, Sign, Text
from benchapp.paper.drawing.style import BLACK, LEADING, MM, TONE_INK, WHITE, Ink
from benchapp.paper.drawing.wrapping import largest_block, largest_size
from benchapp.paper.problems import PaperProblem
from benchapp.words import say

CODE_SIDE = 20.5 * MM
BLEED = 2.4 * MM  # how far the code's quiet zone may reach into the empty margin of the label
MARK_LARGEST, MARK_SMALLEST_LINE = 30.0, 13.0
MARK_SIZES = (13.0, 11.0, 9.0, 8.0)
TITLE_SIZES = (10.0, 9.0, 8.0)
LONG_TITLE_SIZES = (8.0, 7.0, 6.0)
HEAD_SHARE = 0.42  # of the label's height, for a mark or title that is too long to stand beside the code
BAND_SIZES = (26.0, 23.0, 20.0, 18.0, 16.0, 14.0, 13.0, 12.0, 11.0, 10.0, 9.0, 8.0, 7.0)
CAP = 0.73  # height of a capital, in type sizes (DejaVu Sans: 1493 of 2048 units)
DARK = frozenset({Tone.FORBIDDEN})


def lay_out_head(tag: TagContent, width: float, height: float, faces: Faces) -> Part:
    """Shelf mark and title on the left, the code on the right."""
    side = min(CODE_SIDE, 0.34 * width, 0.36 * height)
    left = width - side - 2.0
    items: list[Item] = [Code(width - side + BLEED, -BLEED, side, tag.code)] if tag.code else []
    tall = side - BLEED
    limit = max(tall, HEAD_SHARE * height)
    used = _place_mark(tag.shelf_mark, left, limit * 0.65, faces.bold, items)
    title = largest_block(tag.title, left, tall - used, faces.regular, TITLE_SIZES)
    title = title or largest_block(tag.title, left, limit - used, faces.regular, LONG_TITLE_SIZES)
    if title is None:
        raise PaperProblem(
            say(
                "The title of {shelf_mark} does not fit its tag: {short}. Shorten the title of the "
                "equipment, or print on a larger label.",
                shelf_mark=tag.shelf_mark,
                short=shortened(tag.title),
            )
        )
    size, lines = title
    place_lines(lines, size, 0.0, used, False, BLACK, items)
    return tuple(items), max(tall, used + len(lines) * size * LEADING)


def lay_out_band(tag: TagContent, width: float, height: float, faces: Faces) -> Part:
    """The disposition in words, as large as the band allows, with its sign; "do not" stands white on a dark ground."""
    dark = tag.tone in DARK
    ink = TONE_INK[tag.tone]
    pad = 3.0
    sign = min(height - 2 * pad, 0.2 * width)
    x = 2 * pad + sign + 2 * pad
    block = _band_block(tag.disposition_words, width - x - 2 * pad, height - 2.0, faces.bold)
    if block is None:
        raise PaperProblem(
            say(
                "The disposition of {shelf_mark} does not fit its tag: {short}. Shorten it, or print on "
                "a larger label.",
                shelf_mark=tag.shelf_mark,
                short=shortened(tag.disposition_words),
            )
        )
    size, lines = block
    items: list[Item] = [
        Box(0.0, 0.0, width, height, ink, dark, 1.4),
        Sign(2 * pad, (height - sign) / 2, sign, tag.tone, dark),
    ]
    top = (height - ((len(lines) - 1) * LEADING + CAP) * size) / 2 - (1 - CAP) * size
    place_lines(lines, size, x, top, True, WHITE if dark else ink, items)
    return tuple(items), height


def _band_block(words: str, width: float, height: float, face: Face) -> tuple[float, tuple[str, ...]] | None:
    """One line where several would not be much larger; words torn over lines are read more slowly."""
    block = largest_block(words, width, height, face, BAND_SIZES)
    most = min(BAND_SIZES[0], height / LEADING)
    line = largest_size(words, width, face, largest=most, smallest=BAND_SIZES[-1])
    if block and line and line * 1.3 >= block[0]:
        return line, (words,)
    return block


def _place_mark(mark: str, width: float, height: float, face: Face, items: list[Item]) -> float:
    """The shelf mark on one line as large as it goes, on several where it is very long. Returns the height it took."""
    size = largest_size(mark, width, face, largest=MARK_LARGEST, smallest=MARK_SMALLEST_LINE)
    block = (size, (mark,)) if size else largest_block(mark, width, height, face, MARK_SIZES)
    if block is None:
        raise PaperProblem(
            say(
                "The shelf mark {short} does not fit its tag. Shorten it, or print on a larger label.",
                short=shortened(mark),
            )
        )
    size, lines = block
    for number, text in enumerate(lines):
        items.append(Text(0.0, size * (CAP + number * LEADING), text, size, True))
    return size * (CAP + (len(lines) - 1) * LEADING + 0.25)


def place_lines(
    lines: tuple[str, ...], size: float, x: float, top: float, bold: bool, ink: Ink, items: list[Item]
) -> None:
    """Lines below each other, the first one's type square starting at `top`."""
    for number, text in enumerate(lines):
        items.append(Text(x, top + size * (1 + number * LEADING), text, size, bold, ink))


def shortened(text: str) -> str:
    """A text as a refusal quotes it."""
    return f"“{text}”" if len(text) <= 60 else f"“{text[:60]}…” ({len(text)} characters)"
