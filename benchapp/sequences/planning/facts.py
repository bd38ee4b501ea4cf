"""Facts of a unit, from the words that they were given in.

Numbers are kept in SI, yes and no as such. A number alone is taken in the unit that a rating plate or a rule shows.
"""

from benchapp.errors import BenchError
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.sequences.language.vocabulary import TRUTHS, FactValue
from benchapp.words import say

MEASURED = {
    "cord length": (Kind.length, "m"),
    "cord area": (Kind.area, "mm²"),
    "power": (Kind.power, "W"),
    "plug fuse rating": (Kind.current, "A"),
    "limiter lamp": (Kind.power, "W"),
    "limiter volts": (Kind.voltage, "V"),
}
ROOM_TEMPERATURE = "room temperature"
"""the fact that says how warm the meter is, in °C"""
WINDING_TEMPERATURE = "winding temperature"
"""the fact that says how warm the windings are, in °C"""
TEMPERATURES = frozenset({ROOM_TEMPERATURE, WINDING_TEMPERATURE})
"""in °C; below zero too"""
ABSOLUTE_ZERO, HOTTEST = -273.15, 1000.0
WHOLE = frozenset({"cord cores"})
YES_NO = frozenset(
    {
        "live chassis",
        "bare metal",
        "surge suppressor",
        "mains fed",
        "design known",
        "voltage selector",
        "internal fuse",
        "holds charge",
        "plug fuse",
        "detachable lead",
        "heating",
        "hand-held",
    }
)


class FactProblem(BenchError):
    """A fact that cannot be what was said."""


def fact_value(name: str, said: FactValue) -> FactValue:
    """The fact as the rules use it; raises FactProblem or EntryProblem for what it cannot be."""
    if not isinstance(said, str):
        return said
    if name in MEASURED:
        kind, unit = MEASURED[name]
        value = read_reading(said, kind=kind, unit=unit).si
        if value is None or value <= 0:
            raise FactProblem(say("“{said}” is no {name}: it is above zero.", said=said, name=name))
        return value
    if name in TEMPERATURES:
        warmth = read_reading(said, kind=Kind.temperature, unit="°C").si
        if warmth is None or not ABSOLUTE_ZERO < warmth < HOTTEST:
            raise FactProblem(f"“{said}” is no {name}.")
        return warmth
    if name in WHOLE:
        digits = said.strip()
        if not digits.isdecimal() or len(digits) > 9:
            raise FactProblem(say("“{said}” is no number of {name}.", said=said, name=name))
        return int(digits)
    if name in YES_NO:
        truth = TRUTHS.get(said.strip().casefold())
        if truth is None:
            raise FactProblem(say("“{said}” is no answer to “{name}”: yes or no.", said=said, name=name))
        return truth
    return said.strip()


def fact_or_unknown(name: str, said: FactValue) -> FactValue:
    """The same for a fact on record: what cannot be read stands as it was said."""
    try:
        return fact_value(name, said)
    except BenchError:
        return said
