"""Words that sequence files and the engine share: supplies, roles, facts."""

from collections.abc import Mapping
from enum import StrEnum


class Supply(StrEnum):
    """What feeds the unit while a step is done."""

    none = "none"
    limited = "limited"
    full = "full"


class ReadingSource(StrEnum):
    """Where the digits of a reading come from."""

    keys = "typed"
    wire = "by wire"
    """a person pressed a key when the meter stood still"""
    steady = "by wire, when steady"
    """taken by itself, once for a touch"""
    keyboard = "typed by the meter"
    transcribed = "transcribed"
    """kept in a tester, and imported later"""


class Role(StrEnum):
    """What a step can show that the interlock rests on."""

    visual = "visual"
    plug = "plug"
    polarity = "polarity"
    earth = "earth continuity"
    primary = "primary continuity"
    insulation = "insulation"
    selector = "selector"
    internal_fuse = "internal fuse"
    leads = "leads proved"
    limited_power = "limited power"
    plug_out = "plug out"
    discharged = "discharged"
    voltage_low = "voltage low"
    mains = "mains"
    dry = "dry"


WAY_BACK = (Role.plug_out, Role.discharged, Role.voltage_low)
"""The way back from a live or insulation step to one done by hand or with an ohmmeter, in order."""


FactValue = str | float | bool
"""A fact of a unit: a word, a number in SI units, or yes and no."""
Facts = Mapping[str, FactValue]
TRUTHS = {"yes": True, "true": True, "no": False, "false": False}
"""Words for yes and no, in small letters."""


class Opening(StrEnum):
    """What a repair may have opened."""

    cord = "cord"
    plug = "plug"
    enclosure = "enclosure"
