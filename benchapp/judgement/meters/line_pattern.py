"""The described pattern of a line that a meter sends: named pieces in braces, the rest as it stands.

No regular expression is written by hand: `{value}`, `{unit}`, `{function}` and `{skip}` are the only pieces, and blanks
stand for any number of them, so that no line takes long to read.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from benchapp.files.locations import Mistake

VALUE = "value"
LONGEST = 200
"""characters of a line, and of its pattern (own choice)"""
_PIECES = {
    VALUE: r"(?P<value>[+-]? ?[A-Za-z0-9.,-]{1,16}?(?:[eE][+-]?[0-9]{1,3})?)",
    "unit": r"(?P<unit>[^\s\d.,;:]{1,12})",
    "function": r"(?P<function>[^\s,;:]{1,20})",
    "skip": r"\S{1,60}",
}
_SPLIT = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True, slots=True)
class Piece:
    """A named piece, or the text between two (then `name` is empty)."""

    name: str
    text: str = ""


def pieces_of(pattern: str) -> tuple[Piece, ...]:
    """The pieces in their order; raises Mistake for one that there is not, or one that comes twice."""
    if len(pattern) > LONGEST:
        raise Mistake("the line is too long", expected=f"at most {LONGEST} characters", key=("line",))
    found: list[Piece] = []
    for number, part in enumerate(_SPLIT.split(pattern)):
        if number % 2 == 0:
            found += [Piece(name="", text=part)] if part else []
            continue
        if part not in _PIECES:
            raise Mistake(
                f"there is no piece {{{part[:20]}}}", expected=", ".join(f"{{{one}}}" for one in _PIECES), key=("line",)
            )
        if part != "skip" and any(piece.name == part for piece in found):
            raise Mistake(f"{{{part}}} stands twice in the line", expected="each once", key=("line",))
        found.append(Piece(name=part))
    return tuple(found)


@lru_cache(maxsize=32)
def _compiled(pattern: str) -> re.Pattern[str]:
    parts = [_PIECES[piece.name] if piece.name else _literal(piece.text) for piece in pieces_of(pattern)]
    return re.compile(rf"\s*{''.join(parts)}\s*")


def _literal(text: str) -> str:
    return r"\s*".join(re.escape(part) for part in re.split(r"\s+", text))


def read_line(pattern: str, line: str) -> dict[str, str] | None:
    """The named pieces of a line; None where it does not fit the pattern."""
    found = _compiled(pattern).fullmatch(line) if len(line) <= LONGEST else None
    if found is None:
        return None
    return {name: text.strip() for name, text in found.groupdict().items() if text is not None}
