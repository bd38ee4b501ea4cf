"""The letter-and-digit code on a resistor or capacitor, read and written.

IEC 60062:2016 with amendment 1:2019. The letter stands in place of the decimal mark: 4K7, R47, 100n, 4n7J. K and M
mean a multiplier inside the value and a tolerance after it. Tolerance letters F, J, K, M are confirmed; A, B, C, D, G,
N and the absolute tolerances of capacitors below 10 pF are from memory.
"""

import re
from dataclasses import dataclass
from decimal import Decimal

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Quantity
from benchapp.quantities.unit import Unit
from benchapp.quantities.units import TABLE
from benchapp.words import say

_RESISTOR_UNITS = {"L": "mohm", "R": "ohm", "K": "kohm", "M": "Mohm", "G": "Gohm", "T": "Tohm"}
_CAPACITOR_UNITS = {"p": "pF", "n": "nF", "µ": "µF", "m": "mF", "F": "F"}
_SAME_LETTER = {"r": "R", "k": "K", "u": "µ", "μ": "µ"}
_TOLERANCES = {
    "A": "0.05", "B": "0.1", "C": "0.25", "D": "0.5", "F": "1", "G": "2", "J": "5", "K": "10", "M": "20", "N": "30",
}  # fmt: skip
"""In per cent."""
_ABSOLUTE_TOLERANCES = {"B": "0.1", "C": "0.25", "D": "0.5", "F": "1", "G": "2"}
"""In picofarad, on capacitors below ten."""
_CODE = re.compile(r"([0-9]{0,4})([LRrKkMGTpnuµμmF])([0-9]{0,4})([A-Z]?)")
MOST_DIGITS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Marking:
    """What a part says of itself; the tolerance is a ratio in %, or an absolute capacitance, or not given."""

    quantity: Quantity
    tolerance: Quantity | None


def read_marking(text: str) -> Marking:
    """The value and tolerance that the code stands for; raises EntryProblem when it is none."""
    shown = text.strip()[:40]
    found = _CODE.fullmatch(shown)
    if not found or not (found[1] or found[3]):
        raise EntryProblem(
            say('"{shown}" is no letter-and-digit code. It looks like 4K7, R47, 100n or 4n7J.', shown=shown)
        )
    before, letter, after, tolerance = found.groups()
    letter = _SAME_LETTER.get(letter, letter)
    unit = _unit(letter)
    quantity = Quantity(value=Decimal(f"{before or 0}.{after or 0}" if after else before), unit=unit)
    if tolerance and tolerance not in _TOLERANCES:
        letters = ", ".join(_TOLERANCES)
        raise EntryProblem(
            say(
                '"{shown}": the tolerance letter {tolerance} is not known; there are {letters}.',
                shown=shown,
                tolerance=tolerance,
                letters=letters,
            )
        )
    return Marking(quantity=quantity, tolerance=_tolerance(tolerance, quantity) if tolerance else None)


def write_marking(value: Decimal, kind: Kind, tolerance: str = "") -> str:
    """The code of a resistance (ohm) or capacitance (F), with a tolerance letter when given; raises EntryProblem.

    Ohms below one are written R47, as the standard's table has it, and thousandths below a tenth as 10L.
    """
    letters = {Kind.resistance: _RESISTOR_UNITS, Kind.capacitance: _CAPACITOR_UNITS}.get(kind)
    if letters is None:
        raise EntryProblem(
            say("The letter-and-digit code has no way to write {with_article}.", with_article=kind.with_article)
        )
    digits = value.normalize().as_tuple().digits
    if not value.is_finite() or value <= 0 or len(digits) > MOST_DIGITS:
        raise EntryProblem(
            say(
                "{value} cannot be written in the code: at most {most_digits} digits, above zero.",
                value=value,
                most_digits=MOST_DIGITS,
            )
        )
    if kind is Kind.resistance and Decimal("0.1") <= value < 1:
        return f"R{_digits_after(value):0<2}{tolerance}"
    units = {letter: _unit(letter).factor for letter in letters}
    letter = max((name for name in units if units[name] <= value), key=lambda name: units[name], default="")
    if not letter or value / units[letter] >= 1000:
        raise EntryProblem(say("{value} is outside the range of the code.", value=value))
    mantissa = value / units[letter]
    after = _digits_after(mantissa)
    if mantissa < 10:
        after = after or "0"
    return f"{int(mantissa)}{letter}{after}{tolerance}"


def _unit(letter: str) -> Unit:
    name = _RESISTOR_UNITS.get(letter)
    return TABLE[Kind.resistance][name] if name else TABLE[Kind.capacitance][_CAPACITOR_UNITS[letter]]


def _digits_after(value: Decimal) -> str:
    return f"{value.normalize():f}".partition(".")[2]


def _tolerance(letter: str, quantity: Quantity) -> Quantity:
    picofarad = TABLE[Kind.capacitance]["pF"]
    small = quantity.unit.kind is Kind.capacitance and quantity.si_exact < 10 * picofarad.factor
    if small and letter in _ABSOLUTE_TOLERANCES:
        return Quantity(value=Decimal(_ABSOLUTE_TOLERANCES[letter]), unit=picofarad)
    return Quantity(value=Decimal(_TOLERANCES[letter]), unit=TABLE[Kind.ratio]["%"])
