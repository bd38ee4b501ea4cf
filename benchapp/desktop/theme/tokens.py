"""Which colours the screens use, by what they mean, light and dark, both with strong contrast too; Qt-free.

The colours are ours and stand in resources/theme. tests/desktop/theme/test_tokens.py computes the contrast of each pair
that meets on screen as WCAG 2.2 does, and holds the sets to level AA, those of strong contrast to level AAA.
"""

import tomllib
from dataclasses import dataclass

from benchapp.files.shipped import shipped_folder


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


def _set_named(name: str) -> Tokens:
    return Tokens(**tomllib.loads((shipped_folder("resources") / "theme" / f"{name}.toml").read_text(encoding="utf-8")))


LIGHT = _set_named("light")

DARK = _set_named("dark")

LIGHT_CONTRAST = _set_named("light-contrast")

DARK_CONTRAST = _set_named("dark-contrast")
