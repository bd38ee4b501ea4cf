"""How printed matter looks: type sizes, distances and inks, in one place. Lengths in points unless named otherwise."""

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

TONE_INK: Final = {
    Tone.READY: GREEN,
    Tone.WAITING: AMBER,
    Tone.FORBIDDEN: RED,
    Tone.PARTS: VIOLET,
    Tone.KEPT: GREY,
}
