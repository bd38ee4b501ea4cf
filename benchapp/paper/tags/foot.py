"""The foot of a tag: fuse, date, initials, the start of the record's hash and the price, each under its name."""

from dataclasses import dataclass

from benchapp.paper.content import TagContent, Tone
from benchapp.paper.drawing.fonts import Face, Faces
from benchapp.paper.drawing.placed import Item, Part, Rule, Text
from benchapp.paper.drawing.style import GREY, LEADING
from benchapp.paper.drawing.wrapping import wrap
from benchapp.words import say, shown

SIZES = (9.0, 8.0, 7.0)
NAME_SIZE, PRICE_SCALE, FIELD_GAP = 5.5, 1.4, 8.0
RULE_TO_WRITE_ON = 50.0


@dataclass(frozen=True, slots=True)
class _Field:
    name: str
    value: str
    scale: float
    width: float


def lay_out_foot(tag: TagContent, width: float, faces: Faces) -> Part:
    """The fields in one row, or on a narrow label in as many rows as they need; empty ones are left out.

    A tag for sale without a price keeps a rule to write one on.
    """
    for size in SIZES:
        rows = _rows(_fields(tag, size, width, faces.bold), width)
        if len(rows) == 1:
            break
    if not rows:
        return (), 0.0
    items: list[Item] = [Rule(0.0, 0.0, width, GREY)]
    y = 2.0
    for row in rows:
        y = _place_row(row, size, width, y, faces.bold, items)
    return tuple(items), y


def _fields(tag: TagContent, size: float, width: float, face: Face) -> list[_Field]:
    texts = (
        (say("Fuse fitted"), tag.fuse, 1.0),
        (say("Date"), tag.date, 1.0),
        (say("By"), tag.initials, 1.0),
        (say("Record"), tag.record_hash[:8], 1.0),
        (say("Price"), tag.price, PRICE_SCALE),
    )
    fields: list[_Field] = []
    for said, value, scale in texts:
        name = shown(said)
        if value:
            natural = max(face.width(name) * NAME_SIZE, face.width(value) * size * scale)
            fields.append(_Field(name, value, scale, min(natural, width)))
        elif said == "Price" and tag.tone is Tone.READY:
            fields.append(_Field(name, value, scale, RULE_TO_WRITE_ON))
    return fields


def _rows(fields: list[_Field], width: float) -> list[list[_Field]]:
    rows: list[list[_Field]] = []
    used = width
    for field in fields:
        if used + FIELD_GAP + field.width > width:
            rows.append([])
            used = -FIELD_GAP
        rows[-1].append(field)
        used += FIELD_GAP + field.width
    return rows


def _place_row(row: list[_Field], size: float, width: float, y: float, face: Face, items: list[Item]) -> float:
    """Spread a row over the width; returns the y below it."""
    gap = (width - sum(field.width for field in row)) / max(len(row) - 1, 1)
    top = y + NAME_SIZE * LEADING
    below = top
    x = 0.0
    for field in row:
        items.append(Text(x, y + NAME_SIZE, field.name, NAME_SIZE, False, GREY))
        own = size * field.scale
        lines = wrap(field.value, field.width / own * 1.000001, face) if field.value else ()
        for number, text in enumerate(lines):
            items.append(Text(x, top + own * (1 + number * LEADING), text, own, True))
        if not lines:
            items.append(Rule(x, top + own, field.width))
        below = max(below, top + max(len(lines), 1) * own * LEADING)
        x += field.width + gap
    return below
