"""What stands on a finished page, as plain values that any painter can put on paper: outlines, words, pictures.

Lengths in points; x from the left, y from the TOP of the page downwards (a text's y is its baseline).
"""

from dataclasses import dataclass

from benchapp.paper.drawing.style import Ink

Move = tuple[str, tuple[float, ...]]
"""one piece of an outline: "move" or "line" to x, y; "curve" with two control points to x, y (cubic); "close" """


@dataclass(frozen=True, slots=True)
class Outline:
    """A path, filled or stroked or both; None where it is not. `even_odd` says which inside is filled."""

    moves: tuple[Move, ...]
    fill: Ink | None
    stroke: Ink | None
    line: float
    even_odd: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """Words of one font, upright, each letter as far from the one before as the font itself says."""

    text: str
    x: float
    y: float
    size: float
    font: str
    """the name of the font's file in resources/fonts, without its ending"""
    ink: Ink


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo, as PNG, in a box."""

    x: float
    y: float
    width: float
    height: float
    png: bytes


Mark = Outline | Words | Picture


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """A page of `width` x `height` points and its marks, first those below."""

    width: float
    height: float
    marks: tuple[Mark, ...]
