"""The middle of a tag: key readings with their bands, what was tested, what was not, and the cautions.

Rows of the table and paragraphs are wrapped at a trial size; the caller picks the largest size that fits.
"""

from dataclasses import dataclass

from benchapp.paper.content import TagContent
from benchapp.paper.drawing.fonts import Faces
from benchapp.paper.drawing.placed import Item, Text
from benchapp.paper.drawing.style import BLACK, GREY, LEADING
from benchapp.paper.drawing.wrapping import set_paragraph, wrap
from benchapp.words import say, shown

VALUE_SHARE, BAND_SHARE = 0.30, 0.38  # the most of the width that a table's value and band may take
COLUMN_GAP = 1.2  # in type sizes
BLOCK_GAP = 0.25  # in lines
_ROUNDING = 1e-9  # so that a cell as wide as its column is not wrapped for a last binary digit


@dataclass(frozen=True, slots=True)
class Body:
    """The placed items, from y = 0 downwards, and their height."""

    items: tuple[Item, ...]
    height: float


def lay_out_body(tag: TagContent, width: float, size: float, faces: Faces, *, readings: int) -> Body:
    """Set the body at one type size, with the first `readings` readings; the rest are counted in a line."""
    items: list[Item] = []
    line = size * LEADING
    y = _place_table(tag, width, size, faces, readings, items)
    for lead, words in _paragraphs(tag, left_out=len(tag.readings) - readings):
        y += BLOCK_GAP * line if items else 0.0
        y = _place_paragraph(lead, words, width, size, y, faces, items)
    return Body(tuple(items), y)


def _paragraphs(tag: TagContent, *, left_out: int) -> list[tuple[str, str]]:
    """(bold lead, words) of each paragraph in the order of the tag."""
    found: list[tuple[str, str]] = []
    if left_out:
        readings = "reading" if left_out == 1 else "readings"
        found.append(
            ("", say("… and {left_out} more {readings} on the record sheet.", left_out=left_out, readings=readings))
        )
    if tag.tested:
        found.append((say("Tested on {date}:", date=tag.date) if tag.date else say("Tested:"), ", ".join(tag.tested)))
    if tag.repaired:
        found.append((say("Repaired:"), ", ".join(tag.repaired)))
    if tag.not_tested:
        found.append((say("NOT tested:"), ", ".join(tag.not_tested)))
    found += [(say("FAILED"), failed) for failed in tag.failed]
    found += [("⚠", caution) for caution in tag.cautions]
    return [(shown(lead), shown(words)) for lead, words in found]


def _place_paragraph(
    lead: str, words: str, width: float, size: float, y: float, faces: Faces, items: list[Item]
) -> float:
    pieces = set_paragraph(lead, words, width / size, faces.bold, faces.regular, hanging=lead == "⚠")
    for piece in pieces:
        baseline = y + size * (1 + piece.line * LEADING)
        ink = BLACK if lead else GREY
        items.append(Text(piece.x * size, baseline, piece.text, size, piece.is_lead, ink))
    return y + (pieces[-1].line + 1) * size * LEADING


def _place_table(tag: TagContent, width: float, size: float, faces: Faces, readings: int, items: list[Item]) -> float:
    """Rows of what, value (bold), band; each cell wraps in its column. Returns the height."""
    rows = tag.readings[:readings]
    if not rows:
        return 0.0
    room = width / size - 2 * COLUMN_GAP
    value_width = min(max(faces.bold.width(r.value) for r in rows), room * VALUE_SHARE) + _ROUNDING
    band_width = min(max(faces.regular.width(r.band) for r in rows), room * BAND_SHARE) + _ROUNDING
    what_width = min(max(faces.regular.width(r.what) for r in rows), room - value_width - band_width) + _ROUNDING
    starts = (0.0, what_width + COLUMN_GAP, what_width + value_width + 2 * COLUMN_GAP)
    y = 0.0
    for row in rows:
        cells = (
            wrap(row.what, what_width, faces.regular),
            wrap(row.value, value_width, faces.bold),
            wrap(row.band, band_width, faces.regular) if row.band else (),
        )
        for start, lines, bold in zip(starts, cells, (False, True, False), strict=True):
            for number, text in enumerate(lines):
                items.append(Text(start * size, y + size * (1 + number * LEADING), text, size, bold))
        y += max(len(lines) for lines in cells) * size * LEADING
    return y
