"""Which colours the screens use, by what they mean, in a light and a dark set; Qt-free.

The colours are ours. Contrast is computed as in WCAG 2.2 (definitions of relative luminance and contrast ratio);
`PAIRS` lists every pair that meets on screen with the least ratio it needs: 4.5 for text (success criterion 1.4.3),
3 for signs, edges of controls and the focus ring (1.4.11). A test holds both sets to it.
"""

from dataclasses import dataclass

TEXT = 4.5
SHAPE = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tokens:
    """One set of colours, each `#rrggbb`."""

    ground: str  # behind everything
    sheet: str  # behind what is read and typed: fields, tables, the instruction
    raised: str  # buttons, heads of tables
    ink: str
    quiet: str  # second text: hints, sources, units
    line: str  # edges of controls
    rule: str  # thin parting lines; decoration only
    focus: str
    chosen: str  # behind the row or button at hand
    on_chosen: str
    good: str
    doubt: str
    bad: str
    good_wash: str  # the pass zone of the gauge, behind ink
    doubt_wash: str
    bad_wash: str
    off: str  # the key that says: off at the wall
    on_off: str
    probe_red: str
    on_probe_red: str
    probe_black: str
    on_probe_black: str
    housing: str  # body of a connector's face
    metal: str  # a pin that is not lit


LIGHT = Tokens(
    ground="#ece9e2",
    sheet="#fdfcf9",
    raised="#dfdbd1",
    ink="#1c1d20",
    quiet="#50534f",
    line="#73736c",
    rule="#c9c5ba",
    focus="#1d4f91",
    chosen="#1f3f66",
    on_chosen="#ffffff",
    good="#0c6048",
    doubt="#805000",
    bad="#a3201c",
    good_wash="#cfe6da",
    doubt_wash="#f3dfb6",
    bad_wash="#f2d3cd",
    off="#8f1512",
    on_off="#ffffff",
    probe_red="#b3261e",
    on_probe_red="#ffffff",
    probe_black="#141414",
    on_probe_black="#ffffff",
    housing="#d8d3c6",
    metal="#706a5c",
)

DARK = Tokens(
    ground="#17191c",
    sheet="#202327",
    raised="#31353b",
    ink="#f1eee7",
    quiet="#b9b8b1",
    line="#8f9197",
    rule="#41454b",
    focus="#8fc0ff",
    chosen="#b9d5f5",
    on_chosen="#10151c",
    good="#77d6ad",
    doubt="#f0ba5e",
    bad="#ff9d92",
    good_wash="#1d4636",
    doubt_wash="#54401a",
    bad_wash="#57271f",
    off="#ffb3a8",
    on_off="#2b0503",
    probe_red="#ff8a7d",
    on_probe_red="#2b0503",
    probe_black="#000000",
    on_probe_black="#ffffff",
    housing="#383c42",
    metal="#a8a294",
)

PAIRS: tuple[tuple[str, str, float], ...] = (
    ("ink", "ground", TEXT),
    ("ink", "sheet", TEXT),
    ("ink", "raised", TEXT),
    ("ink", "good_wash", TEXT),
    ("ink", "doubt_wash", TEXT),
    ("ink", "bad_wash", TEXT),
    ("ink", "housing", TEXT),
    ("quiet", "ground", TEXT),
    ("quiet", "sheet", TEXT),
    ("quiet", "raised", TEXT),
    ("on_chosen", "chosen", TEXT),
    ("on_off", "off", TEXT),
    ("on_probe_red", "probe_red", TEXT),
    ("on_probe_black", "probe_black", TEXT),
    ("good", "ground", TEXT),
    ("good", "sheet", TEXT),
    ("doubt", "ground", TEXT),
    ("doubt", "sheet", TEXT),
    ("bad", "ground", TEXT),
    ("bad", "sheet", TEXT),
    ("line", "ground", SHAPE),
    ("line", "sheet", SHAPE),
    ("line", "raised", SHAPE),
    ("focus", "ground", SHAPE),
    ("focus", "sheet", SHAPE),
    ("focus", "raised", SHAPE),
    ("chosen", "ground", SHAPE),
    ("chosen", "sheet", SHAPE),
    ("off", "ground", SHAPE),
    ("metal", "housing", SHAPE),
    ("probe_red", "housing", SHAPE),
)


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two `#rrggbb` colours, 1 to 21 (WCAG 2.2)."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    """The relative luminance of an sRGB colour, 0 to 1 (WCAG 2.2)."""
    red, green, blue = (_linear(int(colour[start : start + 2], 16) / 255) for start in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
