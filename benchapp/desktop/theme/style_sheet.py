"""How the controls look: Qt's style sheet from resources/theme, filled with the tokens and the text size; Qt-free text.

Sizes are in points or pixels times the text size, so everything grows with it. Labels say what they are with the
property `kind`.
"""

import re
from dataclasses import asdict
from functools import cache
from string import Template

from benchapp.desktop.theme.tokens import Tokens
from benchapp.files.shipped import shipped_folder

_SIZE = re.compile(r"\$\(([\d.]+)( - 1)?\)(pt|px)")


def style_sheet(tokens: Tokens, points: float, *, arrow: str, tick: str, cramped: bool = False) -> str:
    """The style sheet of the whole application for running text of `points`.

    `arrow` is the picture that says that a list opens here, `tick` the one of a checked box; where text is large and
    room short, instructions grow less.
    """
    say = 1.2 if cramped else 1.45
    named = {
        **asdict(tokens),
        "arrow": arrow,
        "tick": tick,
        "say": f"{points * say:.1f}",
        "off_text": f"{points * min(say, 1.3):.1f}",
        "off_padding": "4" if cramped else f"{points * 0.65:.0f}",
        "button_height": f"{max(24, points * 2):.0f}",
    }

    def size(found: re.Match[str]) -> str:
        length = points * float(found[1]) - (1 if found[2] else 0)
        return f"{length:.1f}pt" if found[3] == "pt" else f"{length:.0f}px"

    return Template(_SIZE.sub(size, _written())).substitute(named)


@cache
def _written() -> str:
    return (shipped_folder("resources") / "theme" / "controls.qss").read_text(encoding="utf-8")
