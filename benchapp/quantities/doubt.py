"""Readings so far from what is expected that a slip of the prefix is likelier than a fault.

1 mohm and 1 Mohm differ by 10⁹ and one letter; a question costs a second, a wrong reading a unit.
"""

from benchapp.quantities.quantity import Bound, Quantity, Reading
from benchapp.quantities.units import PREFIXES, SI_UNITS, known_unit
from benchapp.words import say


def doubt_about(reading: Reading, lower: float | None, upper: float | None) -> str:
    """A question when the reading is far from what is expected (SI limits) and a slip of the prefix explains it."""
    quantity = reading.quantity
    if quantity is None or reading.bound is not Bound.exact or not quantity.value:
        return ""
    low, high = _wide(lower, upper)
    if low <= abs(quantity.si) <= high:
        return ""
    for meant in _slips(quantity):
        if low <= abs(meant.si) <= high:
            return say(
                "{quantity} is far from what is expected here. Did you mean {meant}?", quantity=quantity, meant=meant
            )
    return ""


def _wide(lower: float | None, upper: float | None) -> tuple[float, float]:
    """Limits so wide that a reading outside them is more likely a slip of the prefix than a fault (own choice)."""
    low = abs(lower) / 100 if lower else 0.0
    high = abs(upper) * 100 if upper else float("inf")
    if low == 0.0 and upper:
        low = abs(upper) / 1e5
    if high == float("inf") and lower:
        high = abs(lower) * 1e6
    return low, high


def _slips(quantity: Quantity) -> list[Quantity]:
    """The same digits with the prefix in the other case, or none, or the neighbouring one."""
    symbol = quantity.unit.symbol
    base = SI_UNITS[quantity.unit.kind].symbol
    prefix = symbol.removesuffix(base)
    order = list(PREFIXES)
    if symbol != prefix + base or prefix not in order:
        return []  # %, cm and the like have no prefix that could slip
    other = {"m": "M", "M": "m"}.get(prefix)
    at = order.index(prefix)
    near = [order[index] for index in (at + 1, at - 1) if 0 <= index < len(order)]
    units = (known_unit(letter + base, quantity.unit.kind) for letter in [other, *near] if letter is not None)
    return [Quantity(value=quantity.value, unit=unit) for unit in units if unit is not None]
