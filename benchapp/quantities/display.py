"""Numbers as they are shown to people.

Engineering notation (SI Brochure, 9th edition, 3: prefixes in steps of 1000), with as many digits as the uncertainty
justifies: the uncertainty at two significant digits, the value to the same place (GUM, JCGM 100:2008, 7.2.6), and never
a digit that the meter did not give. Milliohms are shown as ohms down to 0.001: mohm and Mohm differ by one letter.

A value whose author wrote %, min, rpm or VA keeps that unit: 3 % is not shown as 0.03, nor 5 min as 300 s.
"""

import math
from decimal import ROUND_HALF_EVEN, ROUND_UP, Context, Decimal
from functools import lru_cache

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.unit import Unit
from benchapp.quantities.units import PREFIXES, SI_UNITS, TABLE, known_unit

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
"""Kinds shown in one unit, whatever the size, unless another was written."""
_ANY_PLACE = -1000
_SAID_IN_MINUTES = range(120, 10**7)
"""Whole seconds that people rather say in minutes and hours."""
_TWELVE_DIGITS = Context(prec=12)
"""Numbers of the workbook are compared at as many; what lies behind them is the float's, not the meter's."""


def show(
    value_si: float, kind: Kind, *, uncertainty: float | None = None, step: float | None = None, unit: str = ""
) -> str:
    """The value (SI) as text: `9.12 V`, `1.50 Mohm`; digits fit the uncertainty and step (SI) where given.

    With neither it is taken as a stated value: at most four significant digits, no zeros at the end. `unit` is what its
    author or reader wrote: the prefix may change (9120 mV is 9.12 V), the unit does not (3 %, 5 min, 33.3 rpm).
    """
    if not math.isfinite(value_si):
        return _not_finite(value_si, kind)
    value = Decimal(repr(float(value_si)))
    if kind is Kind.time and not (unit or step or uncertainty) and _is_long_time(value):
        return _long_time(int(value))
    units = _units(kind, unit)
    if len(units) == 1:
        return _show_in(units[0], value, uncertainty, step)
    known_place = _known_place(uncertainty, step)
    place = value.adjusted() - PLAIN_DIGITS + 1 if known_place is None else known_place
    rounded = _rounded(value, place)
    if known_place is None:
        chosen = _fitting(units, rounded, _ANY_PLACE)
        exponent = rounded.normalize().as_tuple().exponent
        place = exponent if isinstance(exponent, int) else place
    else:
        chosen = _fitting(units, rounded, place)
    return _text(rounded, place, chosen)


def show_uncertainty(uncertainty: float, kind: Kind, *, unit: str = "") -> str:
    """An uncertainty (SI) at two significant digits, rounded up when that changes it by more than a twentieth of them.

    GUM 7.2.6 gives 10.47 mohm → 11 mohm and 28.05 kHz → 28 kHz: up, unless the rest is negligible. `unit` as in `show`.
    """
    if not math.isfinite(uncertainty):
        return _not_finite(uncertainty, kind)
    value = abs(Decimal(repr(float(uncertainty))))
    units = _units(kind, unit)
    if len(units) == 1:  # a difference: the zero of the scale is of no matter
        value = _TWELVE_DIGITS.divide(value, units[0].factor)
        units = (Unit(symbol=units[0].symbol, kind=kind, factor=Decimal(1)),)
    if not value:
        return _text(value, 0, _base(units))
    place = value.adjusted() - 1
    unit_of_screen = Decimal((0, (1,), place))
    nearest = value.quantize(unit_of_screen, rounding=ROUND_HALF_EVEN)
    negligible = unit_of_screen / 20
    rounded = nearest if value - nearest <= negligible else value.quantize(unit_of_screen, rounding=ROUND_UP)
    return _text(rounded, place, _fitting(units, rounded, place))


def _show_in(unit: Unit, value: Decimal, uncertainty: float | None, step: float | None) -> str:
    """The value in this one unit, whose factor may be no power of ten."""
    inside = _TWELVE_DIGITS.divide(value - unit.offset, unit.factor)
    known_place = _known_place(uncertainty, step, unit.factor)
    rounded = _rounded(inside, inside.adjusted() - PLAIN_DIGITS + 1 if known_place is None else known_place)
    place = known_place
    if place is None:
        exponent = rounded.normalize().as_tuple().exponent
        place = exponent if isinstance(exponent, int) else 0
    return _text(rounded, place, Unit(symbol=unit.symbol, kind=unit.kind, factor=Decimal(1)))


@lru_cache(maxsize=256)
def _units(kind: Kind, written: str) -> tuple[Unit, ...]:
    """The units among which the size of the value chooses; one alone where prefixes are not usual."""
    known = known_unit(written, kind) if written else None
    if known is None or known.kind is not kind:
        known = TABLE[kind][_AS_STATED.get(kind, SI_UNITS[kind].symbol)]
    letters = [letter for letter in PREFIXES if letter and known.symbol.startswith(letter)]
    for base in (known.symbol, *(known.symbol.removeprefix(letter) for letter in letters)):
        if base not in TABLE[kind]:
            continue
        family = [TABLE[kind][letter + base] for letter in PREFIXES if letter + base in TABLE[kind]]
        whole = [one for one in family if one.factor == TABLE[kind][base].factor * _prefix_of(one, base)]
        if len(whole) > 1 and known in whole and _AS_STATED.get(kind) not in [one.symbol for one in whole]:
            return tuple(whole)
    return (known,)


def _prefix_of(unit: Unit, base: str) -> Decimal:
    return PREFIXES[unit.symbol.removesuffix(base)]


def _is_long_time(seconds: Decimal) -> bool:
    return seconds < _SAID_IN_MINUTES.stop and int(seconds) in _SAID_IN_MINUTES and not seconds % 1


def _long_time(seconds: int) -> str:
    """Two minutes and more as people say them: 5 min, 28 min 10 s, 90 min, 2 h 15 min."""
    minutes, rest = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60) if minutes >= 120 else (0, minutes)
    parts = ((hours, "h"), (minutes, "min"), (rest, "s"))
    return " ".join(f"{count} {symbol}" for count, symbol in parts if count)


def _base(units: tuple[Unit, ...]) -> Unit:
    """The unit without a prefix."""
    return next((unit for unit in units if unit.factor == 1), units[0])


def _known_place(uncertainty: float | None, step: float | None, factor: Decimal = Decimal(1)) -> int | None:
    """The power of ten of the last digit that uncertainty and step justify; None when neither says anything."""
    places = []
    if uncertainty is not None and math.isfinite(uncertainty) and uncertainty > 0:
        places.append(_TWELVE_DIGITS.divide(Decimal(repr(float(uncertainty))), factor).adjusted() - 1)
    if step is not None and math.isfinite(step) and step > 0:
        inside = _TWELVE_DIGITS.divide(Decimal(repr(float(step))), factor)
        coarser = factor != 1 and inside.normalize().as_tuple().digits != (1,)  # 1 s is more than 0.01 min
        places.append(inside.adjusted() + coarser)
    return max(places) if places else None


def _rounded(value: Decimal, place: int) -> Decimal:
    digits_kept = value.adjusted() - place + 1 if value else 1
    if digits_kept > 26:
        return value
    rounded = value.quantize(Decimal((0, (1,), place)), rounding=ROUND_HALF_EVEN)
    return rounded if rounded else rounded.copy_abs()


def _fitting(units: tuple[Unit, ...], value: Decimal, place: int) -> Unit:
    """The unit whose prefix puts one to three digits before the point and leaves no digit that was not given."""
    base = _base(units)
    if not value or (base.symbol == "ohm" and Decimal("0.001") <= abs(value) < 1):
        return base
    size = value.adjusted()
    fitting = [unit for unit in units if unit.factor.adjusted() <= size]
    chosen = fitting[-1] if fitting else units[0]
    larger = units[units.index(chosen) :]
    return next((unit for unit in larger if unit.factor.adjusted() >= place), chosen)


def _text(rounded: Decimal, place: int, unit: Unit) -> str:
    shown = rounded / unit.factor
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
