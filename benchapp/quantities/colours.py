"""The values that the colour bands on a resistor say.

IEC 60062:2016 with amendment 1:2019. Older charts give orange 3 % and yellow 4 % as tolerances, and grey 0.05 %: a band
that has meant two things gives both readings, the present one first. Temperature coefficients of a sixth band and the
grey tolerance of 0.01 % are from memory.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from benchapp.files.spelling import nearest
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Quantity
from benchapp.quantities.units import TABLE
from benchapp.words import say

_DIGITS = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white")
_POWERS = {colour: power for power, colour in enumerate(_DIGITS)} | {"gold": -1, "silver": -2, "pink": -3}
_TOLERANCES = {
    "brown": "1", "red": "2", "orange": "0.05", "yellow": "0.02", "green": "0.5", "blue": "0.25", "violet": "0.1",
    "grey": "0.01", "gold": "5", "silver": "10", "none": "20",
}  # fmt: skip
_OLDER_TOLERANCES = {"orange": "3", "yellow": "4", "grey": "0.05"}
_COEFFICIENTS = {
    "black": 250, "brown": 100, "red": 50, "orange": 15, "yellow": 25, "green": 20, "blue": 10, "violet": 5, "grey": 1,
}  # fmt: skip
_OTHER_NAMES = {"gray": "grey", "purple": "violet", "no band": "none", "": "none"}
COLOURS = frozenset({*_POWERS, "none", "gray", "purple"})
"""Names of bands as they are written."""


Meaning = TypeVar("Meaning")


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourReading:
    """One way to read the bands: resistance in ohm, tolerance in %, temperature coefficient in 10⁻⁶ per kelvin."""

    resistance: Quantity
    tolerance: Quantity
    temperature_coefficient: int | None
    note: str


def read_colours(bands: Sequence[str]) -> tuple[ColourReading, ...]:
    """All readings of three to six bands, the present meaning first; raises EntryProblem when there is none."""
    names = [_name(band) for band in bands]
    if len(names) == 4 and names[3] == "none":
        names = names[:3]
    if not 3 <= len(names) <= 6:
        raise EntryProblem(say("A resistor has three to six bands, not {count}.", count=len(names)))
    significant = 2 if len(names) <= 4 else 3
    number = "".join(str(_digit(name, place)) for place, name in enumerate(names[:significant], start=1))
    power = _looked_up(_POWERS, names[significant], "multiplier")
    ohms = Quantity(value=Decimal(number).scaleb(power), unit=TABLE[Kind.resistance]["ohm"])
    coefficient = _looked_up(_COEFFICIENTS, names[5], "temperature coefficient") if len(names) == 6 else None
    tolerance = names[significant + 1] if len(names) > 3 else "none"
    return tuple(
        ColourReading(resistance=ohms, tolerance=_per_cent(share), temperature_coefficient=coefficient, note=note)
        for share, note in _meanings(tolerance)
    )


def _meanings(colour: str) -> list[tuple[str, str]]:
    present = _looked_up(_TOLERANCES, colour, "tolerance")
    older = _OLDER_TOLERANCES.get(colour)
    if older is None:
        return [(present, "")]
    return [
        (present, f"{colour} means {present} % since IEC 60062:2016; older parts use it for {older} %"),
        (older, f"{colour} on an older part means {older} %"),
    ]


def _per_cent(share: str) -> Quantity:
    return Quantity(value=Decimal(share), unit=TABLE[Kind.ratio]["%"])


def _name(band: str) -> str:
    word = band.strip().casefold()
    word = _OTHER_NAMES.get(word, word)
    if word not in _POWERS and word != "none":
        near = nearest(word, [*_POWERS, "none"])
        hint = f"Did you mean {near}?" if near else f"There are {', '.join(_POWERS)}."
        raise EntryProblem(say('"{band}" is no colour of the code. {hint}', band=band[:40], hint=hint))
    return word


def _digit(colour: str, place: int) -> int:
    if colour not in _DIGITS:
        turn = " Turn the part round and start from the other end." if place == 1 else ""
        raise EntryProblem(
            say("Band {place} cannot be {colour}: it stands for no digit.{turn}", place=place, colour=colour, turn=turn)
        )
    return _DIGITS.index(colour)


def _looked_up(table: dict[str, Meaning], colour: str, what: str) -> Meaning:
    if colour not in table:
        raise EntryProblem(
            say("A band that gives the {what} cannot be {colour}. Start from the other end.", what=what, colour=colour)
        )
    return table[colour]
