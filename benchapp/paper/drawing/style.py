"""How printed matter looks: type sizes, distances and inks, in one place. Lengths in points unless named otherwise."""

from dataclasses import dataclass
from typing import Final

from benchapp.paper.content import Tone

MM: Final = 72 / 25.4

Ink = tuple[float, float, float]  # red, green, blue from 0 to 1

BLACK: Final[Ink] = (0.0, 0.0, 0.0)
WHITE: Final[Ink] = (1.0, 1.0, 1.0)
GREY: Final[Ink] = (0.35, 0.35, 0.35)
PALE: Final[Ink] = (0.93, 0.93, 0.93)
HAIRLINE: Final = 0.4

# Each stays dark enough to read in black and white: at least 4.5 to 1 on white (WCAG 2.2, 1.4.3).
RED: Final[Ink] = (0.66, 0.05, 0.05)
GREEN: Final[Ink] = (0.0, 0.36, 0.20)
AMBER: Final[Ink] = (0.52, 0.30, 0.0)
VIOLET: Final[Ink] = (0.33, 0.16, 0.50)

LEADING: Final = 1.18  # distance of lines, in type sizes

TONE_INK: Final = {Tone.READY: GREEN, Tone.WAITING: AMBER, Tone.FORBIDDEN: RED, Tone.PARTS: VIOLET, Tone.KEPT: GREY}


@dataclass(frozen=True, slots=True)
class TextStyle:
    """How a paragraph or a cell is set. A misspelt name is refused; reportlab's own styles would accept it."""

    size: float
    bold: bool = False
    ink: Ink = BLACK


TEXT: Final = TextStyle(8.5)
TITLE: Final = TextStyle(16.0, bold=True)
HEADING: Final = TextStyle(10.5, bold=True)
NAME: Final = TextStyle(7.5, ink=GREY)
CELL: Final = TextStyle(8.0)
CELL_BOLD: Final = TextStyle(8.0, bold=True)
CELL_BAD: Final = TextStyle(8.0, bold=True, ink=RED)
CELL_FADED: Final = TextStyle(8.0, ink=GREY)
COLUMN_HEAD: Final = TextStyle(7.0, bold=True)
WHY: Final = TextStyle(7.0, ink=GREY)
HASH: Final = TextStyle(7.0)
RUNNING: Final = TextStyle(7.5, ink=GREY)

RECORD_MARGIN: Final = 15 * MM
RECORD_HEAD: Final = 35 * MM  # height of the mark, title, code and disposition on the first page
CELL_PAD: Final = 2.5
