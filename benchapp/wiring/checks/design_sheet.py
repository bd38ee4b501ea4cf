"""A design written from a template and from what its plate says; what is not known yet is left out, and said.

Where the inside, the class or a figure of the plate is not known, the design is one that nobody knows: it is tested
dead, and no mains comes to it.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from string import Template as Dollars

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.model.templates import NOT_KNOWN, Template, shared_parts, shipped_templates
from benchapp.wiring.model.values import read_positive
from benchapp.wiring.model.written import read_supply_volts
from benchapp.words import say

FIGURES: Mapping[str, tuple[Kind, str]] = {
    "power": (Kind.power, "W"),
    "output volts": (Kind.voltage, "V"),
    "output current": (Kind.current, "A"),
    "impedance": (Kind.resistance, "ohm"),
    "fuse": (Kind.current, "A"),
    "cord length": (Kind.length, "m"),
    "cord area": (Kind.area, "mm²"),
}
"""what can be typed of a design, its kind and the unit that a bare number has"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """What follows from where the workshop is: its mains, its plugs (the earthed one first), whether they are fused."""

    volts: float
    frequency: float
    plugs: tuple[str, ...]
    fused: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignSheet:
    """What is known of a design, as it was typed; an empty text is not known yet."""

    equipment: str
    title: str
    template: str
    inside_known: bool = False
    """whether its inside is as the template has it"""
    equipment_class: str = ""
    volts: str = ""
    plug: str = ""
    figures: Mapping[str, str] | None = None
    """by the names of `FIGURES`"""


EXAMPLES: Mapping[str, str] = {
    "power": "60 W",
    "output volts": "12 V",
    "output current": "1 A",
    "impedance": "8 ohm",
    "fuse": "3 A",
    "cord length": "1.8 m",
    "cord area": "0.75 mm²",
}
"""of each figure, as a field shows it"""


def example_of(template: str) -> DesignSheet:
    """Such a thing with all that a plate says, to be drawn before anybody has read one."""
    found = shipped_templates()[template]
    return DesignSheet(
        equipment=template,
        title=found.title,
        template=template,
        inside_known=True,
        equipment_class=found.template_class,
        volts="230 V",
        figures=EXAMPLES,
    )


def not_known_yet(sheet: DesignSheet) -> tuple[str, ...]:
    """What keeps the design one that nobody knows, in words; nothing where all of it is known."""
    template, figures = shipped_templates()[sheet.template], sheet.figures or {}
    wanting: list[str] = [one for one in template.asks if not figures.get(one, "").strip()]
    if template.mains_fed and not sheet.volts.strip():
        wanting.insert(0, "supply volts")
    if template.mains_fed and sheet.equipment_class != template.template_class:
        known = bool(sheet.equipment_class) and template.template != NOT_KNOWN
        wanting.insert(0, f"an inside of class {sheet.equipment_class}" if known else "class")
    if template.template == NOT_KNOWN or not sheet.inside_known:
        wanting.insert(0, "inside")
    return tuple(wanting)


def design_text(sheet: DesignSheet, place: Place) -> str:
    """The text of the equipment file; whether it holds is for its model to say.

    Raises ValueError with a sentence for a figure that cannot be read, or for what no such design can lack.
    """
    template = shipped_templates()[sheet.template]
    wanting = not_known_yet(sheet)
    if wanting and not template.mains_fed:
        raise ValueError(say("Say what stands on it first: {wanting}.", wanting=", ".join(wanting)))
    used = shipped_templates()[NOT_KNOWN] if wanting else template
    head = [
        f"# {template.title}; described by this workshop at intake",
        f"equipment: {sheet.equipment}",
        f"title: {json.dumps(sheet.title.strip(), ensure_ascii=False)}",
    ]
    body = _filled(used.text, _names(sheet, place, used))
    notes = [f"notes: not known yet are {', '.join(wanting)}"] if wanting else []
    return "\n".join([*head, body.rstrip(), *notes]) + "\n"


def _filled(text: str, names: Mapping[str, str]) -> str:
    """The text with its names filled in; a line whose name stands for nothing goes, one of many lines is indented."""
    lines: list[str] = []
    for line in text.splitlines():
        bare = line.strip()
        if bare.startswith("$") and bare[1:] in names:
            indent = line[: len(line) - len(line.lstrip())]
            lines += [f"{indent}{one}" for one in names[bare[1:]].splitlines() if one.strip()]
        else:
            lines.append(Dollars(line).substitute(names))
    return "\n".join(lines)


def _names(sheet: DesignSheet, place: Place, used: Template) -> dict[str, str]:
    """What each name after a dollar stands for."""
    shared, figures = shared_parts(), _figures(sheet)
    earthed = sheet.equipment_class != "II"
    plug = sheet.plug or "rewirable"
    rating = f"rating: {show(figures['fuse'], Kind.current)}" if "fuse" in figures else ""
    cord = _filled(shared.fused_cord if place.fused else shared.cord, {"rating": rating})
    volts = read_supply_volts(_with_unit(sheet.volts, "V")) if sheet.volts.strip() else None
    highest = volts.highest if volts is not None else place.volts
    names = {
        "class": sheet.equipment_class or "unknown",
        "volts": volts.words if volts is not None else f"{place.volts:g} V",
        "frequency": f"{place.frequency:g} Hz",
        "plug": plug,
        "plug_connector": place.plugs[0] if earthed or plug == "rewirable" else place.plugs[-1],
        "cord": cord,
        "cord_made": _cord_made(figures, earthed=earthed),
        "earth": shared.earth if earthed else "",
    }
    for name in used.asks:
        names[name.replace(" ", "_")] = show(figures[name], FIGURES[name][0])
    if "output volts" in used.asks:
        ends = (figures["output volts"] * end for end in (shared.unloaded.lowest, shared.unloaded.highest))
        names["unloaded"] = "between {} and {}".format(*(show(end, Kind.voltage) for end in ends))
    return names | _resistances(used, figures, highest)


def _resistances(used: Template, figures: Mapping[str, float], volts: float) -> dict[str, str]:
    """Each resistance that the plate tells, with its tolerance."""
    given: dict[str, float] = {}
    if "power" in used.asks:
        given["plate"] = volts**2 / figures["power"]
    if "output current" in used.asks:
        given["output"] = figures["output volts"] / figures["output current"]
    if "impedance" in used.asks:
        given["impedance"] = figures["impedance"]
    return {
        name: f"{show(given[one.of] * one.share, Kind.resistance)} ± {one.tolerance * 100:g} %"
        for name, one in shared_parts().shares.items()
        if one.of in given
    }


def _figures(sheet: DesignSheet) -> dict[str, float]:
    """The figures that are known, in SI."""
    return {
        name: read_positive(_with_unit(typed, FIGURES[name][1]), FIGURES[name][0])
        for name, typed in (sheet.figures or {}).items()
        if typed.strip()
    }


def _with_unit(typed: str, unit: str) -> str:
    """A bare number is in the unit that stands beside its field."""
    words = typed.strip()
    return f"{words} {unit}" if words.replace(".", "", 1).isdecimal() else words


def _cord_made(figures: Mapping[str, float], *, earthed: bool) -> str:
    if not {"cord length", "cord area"} <= figures.keys():
        return ""
    cores = 3 if earthed else 2
    area = figures["cord area"] * 1e6
    return f"cord: {{length: {figures['cord length']:g} m, area: {area:g} mm², cores: {cores}}}"
