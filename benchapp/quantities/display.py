"""How is a number shown to people?

Engineering notation (SI Brochure, 9th edition, 3: prefixes in steps of 1000), with as many digits as the uncertainty
justifies: the uncertainty at two significant digits, the value to the same place (GUM, JCGM 100:2008, 7.2.6), and never
a digit that the meter did not give. Milliohms are shown as ohms down to 0.001: mohm and Mohm differ by one letter.
"""

import math
from decimal import ROUND_HALF_EVEN, ROUND_UP, Decimal

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.units import PREFIXES, SI_UNITS, TABLE, Unit

PLAIN_DIGITS = 4
"""Significant digits where neither uncertainty nor step is known; as many as a common hand meter shows (own choice)."""
_AS_STATED = {
    Kind.area: "mm²",
    Kind.temperature: "°C",
    Kind.temperature_difference: "K",
    Kind.speed: "m/s",
    Kind.ratio: "",
    Kind.mass: "kg",
}
"""Kinds shown in one unit, whatever the size."""
_ANY_PLACE = -1000


def show(value_si: float, kind: Kind, *, uncertainty: float | None = None, step: float | None = None) -> str:
    """The value (SI) as text: `9.12 V`, `1.50 Mohm`; digits fit the uncertainty and step (SI) where given.

    With neither it is taken as a stated value: at most four significant digits, no zeros at the end.
    """
    if not math.isfinite(value_si):
        return _not_finite(value_si, kind)
    value = Decimal(repr(float(value_si)))
    known_place = _known_place(uncertainty, step)
    place = value.adjusted() - PLAIN_DIGITS + 1 if known_place is None else known_place
    rounded = _rounded(value, place)
    if known_place is None:
        unit = _unit_for(rounded, _ANY_PLACE, kind)
        exponent = rounded.normalize().as_tuple().exponent
        place = exponent if isinstance(exponent, int) else place
    else:
        unit = _unit_for(rounded, place, kind)
    return _text(rounded, place, unit)


def show_uncertainty(uncertainty: float, kind: Kind) -> str:
    """An uncertainty (SI) at two significant digits, rounded up when that changes it by more than a twentieth of them.

    GUM 7.2.6 gives 10.47 mohm → 11 mohm and 28.05 kHz → 28 kHz: up, unless the rest is negligible.
    """
    if not math.isfinite(uncertainty):
        return _not_finite(uncertainty, kind)
    value = abs(Decimal(repr(float(uncertainty))))
    if not value:
        return _text(value, 0, SI_UNITS[kind])
    place = value.adjusted() - 1
    unit_of_place = Decimal((0, (1,), place))
    nearest = value.quantize(unit_of_place, rounding=ROUND_HALF_EVEN)
    negligible = unit_of_place / 20
    rounded = nearest if value - nearest <= negligible else value.quantize(unit_of_place, rounding=ROUND_UP)
    return _text(rounded, place, _unit_for(rounded, place, kind))


def _known_place(uncertainty: float | None, step: float | None) -> int | None:
    """The power of ten of the last digit that uncertainty and step justify; None when neither says anything."""
    places = []
    if uncertainty is not None and math.isfinite(uncertainty) and uncertainty > 0:
        places.append(Decimal(repr(float(uncertainty))).adjusted() - 1)
    if step is not None and math.isfinite(step) and step > 0:
        places.append(Decimal(repr(float(step))).adjusted())
    return max(places) if places else None


def _rounded(value: Decimal, place: int) -> Decimal:
    digits_kept = value.adjusted() - place + 1 if value else 1
    if digits_kept > 26:
        return value
    rounded = value.quantize(Decimal((0, (1,), place)), rounding=ROUND_HALF_EVEN)
    return rounded if rounded else rounded.copy_abs()


def _unit_for(value: Decimal, place: int, kind: Kind) -> Unit:
    """The unit whose prefix puts one to three digits before the point and leaves no digit that was not given."""
    if kind in _AS_STATED:
        return TABLE[kind][_AS_STATED[kind]]
    base = SI_UNITS[kind]
    units = [TABLE[kind][letter + base.symbol] for letter in PREFIXES if letter + base.symbol in TABLE[kind]]
    if kind is Kind.resistance and value and Decimal("0.001") <= abs(value) < 1:
        return base
    if not value:
        return base
    size = value.adjusted()
    fitting = [unit for unit in units if unit.factor.adjusted() <= size]
    chosen = fitting[-1] if fitting else units[0]
    larger = units[units.index(chosen) :]
    return next((unit for unit in larger if unit.factor.adjusted() >= place), chosen)


def _text(rounded: Decimal, place: int, unit: Unit) -> str:
    shown = (rounded - unit.offset) / unit.factor
    decimals = max(0, unit.factor.adjusted() - place)
    if shown and not -6 <= shown.adjusted() <= 12:
        digits = f"{shown.normalize():e}"
    else:
        digits = f"{shown:.{min(decimals, 15)}f}"
    return f"{digits} {unit.symbol}" if unit.symbol else digits


def _not_finite(value: float, kind: Kind) -> str:
    if math.isnan(value):
        return "no value"
    symbol = _AS_STATED.get(kind, SI_UNITS[kind].symbol)
    return f"{'−' if value < 0 else ''}∞ {symbol}".strip()
