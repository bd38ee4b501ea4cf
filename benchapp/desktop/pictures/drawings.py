"""The drawings of resources/pictures, filled with the colours of the look and of a region's cores, ready to paint."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import asdict
from functools import cache, lru_cache
from string import Template
from typing import Any

from PySide6.QtCore import QByteArray, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtSvg import QSvgRenderer

from benchapp.desktop.theme.tokens import DARK, LIGHT
from benchapp.files.shipped import shipped_folder

CORES = ("live", "neutral", "earth")
Colours = tuple[tuple[str, str], ...]
"""The word for the colour of each core, as (core, word)."""
PLAIN: Colours = (("live", "grey"), ("neutral", "grey"), ("earth", "grey"))


@cache
def read_table(name: str) -> Mapping[str, Any]:
    """One TOML file of the folder."""
    return tomllib.loads((shipped_folder("resources") / "pictures" / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def has_drawing(name: str) -> bool:
    """Whether there is a drawing of that name."""
    return (shipped_folder("resources") / "pictures" / f"{name}.svg").is_file()


def named_colours(words: str) -> tuple[str, ...]:
    """The colours that a region's words name, in their order, at most two: "green and yellow" are two."""
    known = read_table("colours")["cores"]
    names = "|".join(sorted(known, key=len, reverse=True))
    found = re.findall(rf"\b(?:{names})\b", words)
    return tuple(known[name] for name in (found if " and " in words else found[:1])[:2])


@lru_cache(maxsize=64)
def drawing(name: str, colours: Colours = PLAIN, *, dark: bool = False) -> QSvgRenderer:
    """The drawing of that name in these colours, ready to paint."""
    text = (shipped_folder("resources") / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
    filled = {**asdict(DARK if dark else LIGHT), **read_table("colours")["things"]}
    for core, words in colours:
        base, *stripe = named_colours(words) or (filled["line"],)
        filled |= {core: base, f"{core}_stripe": stripe[0] if stripe else "none"}
    return QSvgRenderer(QByteArray(Template(text).substitute(filled).encode()))


def fitted(box: QRectF, width: float, height: float) -> QRectF:
    """The largest rectangle of that shape in the middle of the box."""
    scale = min(box.width() / max(width, 1.0), box.height() / max(height, 1.0))
    size = (width * scale, height * scale)
    return QRectF(box.center().x() - size[0] / 2, box.center().y() - size[1] / 2, *size)


def paint_whole(painter: QPainter, made: QSvgRenderer, box: QRectF) -> QRectF:
    """Paint a drawing as large as it fits; returns where it stands."""
    whole = made.viewBoxF()
    area = fitted(box, whole.width(), whole.height())
    made.render(painter, area)
    return area


def place_of(made: QSvgRenderer, part: str, area: QRectF) -> QRectF:
    """Where a named part stands in a drawing that is painted into `area`."""
    whole = made.viewBoxF()
    bounds = made.transformForElement(part).mapRect(made.boundsOnElement(part))
    across, down = area.width() / whole.width(), area.height() / whole.height()
    return QRectF(
        area.left() + (bounds.left() - whole.left()) * across,
        area.top() + (bounds.top() - whole.top()) * down,
        bounds.width() * across,
        bounds.height() * down,
    )


def paint_part(painter: QPainter, made: QSvgRenderer, part: str, box: QRectF) -> QRectF:
    """Paint one named part as large as it fits; returns where it stands."""
    bounds = made.boundsOnElement(part)
    area = fitted(box, bounds.width(), bounds.height())
    made.render(painter, part, area)
    return area
