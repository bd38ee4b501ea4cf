"""How a text is cut into lines that fit a width: the arithmetic of setting type, with nothing drawn.

Widths are in units of the type size, so one measurement serves every size that is tried.
"""

import unicodedata
from dataclasses import dataclass

from benchapp.paper.drawing.fonts import Face
from benchapp.paper.drawing.style import LEADING

_BREAK_AFTER = "-/_.,:;)"
_LONGEST_UNIT = 4  # characters: "MΩ", "mm²", "kWh", "V·A"


def wrap(text: str, width: float, face: Face, *, first_indent: float = 0.0) -> tuple[str, ...]:
    """Lines of at most `width` (at size 1). A word longer than a line breaks, after a mark in it where it can.

    `first_indent` is room already taken on the first line. No line ever exceeds the width, save a single character
    wider than the whole line. A number and its unit stay together.
    """
    if face.width(text) <= width - first_indent:
        return (text,)
    lines: list[str] = []
    line, used, room = "", 0.0, width - first_indent
    space = face.width(" ")
    for word in _held_together(text, width, face):
        size = face.width(word)
        if used + (space if line else 0.0) + size <= room:
            line, used = (f"{line} {word}", used + space + size) if line else (word, size)
            continue
        if breaks_anywhere(word):
            start = f"{line} " if line else ""
            head = _break_word(word, room - (used + space if line else 0.0), face)[0]
            if face.width(start + head) <= room:
                line, word = start + head, word[len(head) :]
        if line or (not lines and first_indent):
            lines.append(line)
            line, used, room = "", 0.0, width
        *broken, word = _break_word(word, room, face)
        lines += broken
        line, used = word, face.width(word)
    return (*lines, line) if line or not lines else tuple(lines)


@dataclass(frozen=True, slots=True)
class Piece:
    """Part of a set paragraph: the line it stands on (0 is the first), where it starts, and its text."""

    line: int
    x: float
    text: str
    is_lead: bool


def set_paragraph(
    lead: str, words: str, width: float, lead_face: Face, face: Face, *, hanging: bool = False
) -> tuple[Piece, ...]:
    """A paragraph that begins with a lead in another face, at size 1; `hanging` keeps later lines clear of the lead."""
    if not lead:
        return tuple(Piece(n, 0.0, line, False) for n, line in enumerate(wrap(words, width, face)))
    leads = wrap(lead, width, lead_face)
    pieces = [Piece(n, 0.0, line, True) for n, line in enumerate(leads)]
    indent = lead_face.width(leads[-1]) + lead_face.width(" ")
    left = indent if hanging and len(leads) == 1 else 0.0
    for number, line in enumerate(wrap(words, width - left, face, first_indent=indent - left)):
        if line:
            pieces.append(Piece(len(leads) - 1 + number, left if number else indent, line, False))
    return tuple(pieces)


def largest_size(text: str, width: float, face: Face, *, largest: float, smallest: float) -> float | None:
    """The type size between the two at which the text fits on one line; None where even the smallest fails."""
    natural = face.width(text)
    size = largest if natural * largest <= width else int(width / natural * 4) / 4
    return size if size >= smallest else None


def largest_block(
    text: str, width: float, height: float, face: Face, sizes: tuple[float, ...]
) -> tuple[float, tuple[str, ...]] | None:
    """The first of the sizes (largest first) whose lines fit the height, with those lines; None where none does.

    Words break only at the last size: a smaller type reads better than a torn word.
    """
    widest = max((face.width(word) for word in text.split(" ")), default=0.0)
    for size in sizes:
        if widest * size > width and size != sizes[-1]:
            continue
        lines = wrap(text, width / size, face)
        if len(lines) * size * LEADING <= height:
            return size, lines
    return None


def one_line(words: str, width: float, face: Face) -> str:
    """As much as fits on one line of `width` (at size 1), with an ellipsis where words are left out."""
    if face.width(words) <= width:
        return words
    room = width - face.width(" …")
    for end, letter in enumerate(words):
        room -= face.width(letter)
        if room < 0:
            return f"{words[:end]} …"
    return f"{words} …"


def first_lines(text: str, most: int, width: float, face: Face) -> tuple[str, ...]:
    """The lines of a text, at most so many of them; the last one ends in an ellipsis where words are left out."""
    lines = wrap(text, width, face)
    if len(lines) <= most:
        return lines
    return (*lines[: most - 1], one_line(" ".join(lines[most - 1 :]), width, face))


def breaks_anywhere(word: str) -> bool:
    """Whether a word is written in signs between which lines may break: Chinese, Japanese or Korean ones."""
    return unicodedata.east_asian_width(word[0]) in ("W", "F")


def _held_together(text: str, width: float, face: Face) -> list[str]:
    """The words of a text, a number and the unit after it as one word where a line has room for both."""
    words: list[str] = []
    for word in text.split(" "):
        if words and words[-1][-1:].isdigit() and 0 < len(word) <= _LONGEST_UNIT and not word[0].isdigit():
            pair = f"{words[-1]} {word}"
            if face.width(pair) <= width:
                words[-1] = pair
                continue
        if word:
            words.append(word)
    return words


def _break_word(word: str, width: float, face: Face) -> list[str]:
    """The word in pieces that fit. Letters are measured one by one: a long word costs as much as its letters."""
    pieces: list[str] = []
    start = 0
    while True:
        end, used = start + 1, face.width(word[start : start + 1])
        while end < len(word) and (used := used + face.width(word[end])) <= width:
            end += 1
        if end >= len(word):
            return [*pieces, word[start:]]
        half = start + (end - start) // 2
        end = max((at + 1 for at in range(half, end) if word[at] in _BREAK_AFTER), default=end)
        pieces.append(word[start:end])
        start = end
