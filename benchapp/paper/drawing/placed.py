"""What a layout consists of once every decision is taken: texts, boxes, rules, signs and codes at their places.

Lengths in points; x from the left, y from the TOP of the label downwards (a text's y is its baseline).
"""

from dataclasses import dataclass

from benchapp.paper.content import Tone
from benchapp.paper.drawing.style import BLACK, Ink


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text, starting at x on the baseline y."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    ink: Ink = BLACK


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, filled or outlined."""

    x: float
    y: float
    width: float
    height: float
    ink: Ink
    filled: bool
    line: float = 1.0


@dataclass(frozen=True, slots=True)
class Rule:
    """A thin horizontal line."""

    x: float
    y: float
    width: float
    ink: Ink = BLACK
    line: float = 0.5


@dataclass(frozen=True, slots=True)
class Sign:
    """The sign of a disposition in a square of `size`, its upper left corner at x, y; `on_dark` draws it in white."""

    x: float
    y: float
    size: float
    tone: Tone
    on_dark: bool


@dataclass(frozen=True, slots=True)
class Code:
    """A QR code in a square of `size` with its quiet zone, its upper left corner at x, y."""

    x: float
    y: float
    size: float
    text: str


Item = Text | Box | Rule | Sign | Code
Part = tuple[tuple[Item, ...], float]  # items from y = 0 downwards, and their height


@dataclass(frozen=True, slots=True)
class LabelLayout:
    """The parts of one label, each with the place of its origin from the label's upper left corner, in points."""

    width: float
    height: float
    parts: tuple[tuple[float, float, tuple[Item, ...]], ...]
