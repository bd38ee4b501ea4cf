"""How a value with its tolerance is written in an equipment file.

"480 ohm", "480 ohm ± 10 %", "1.2 ohm +20 % -10 %", "9 V ± 0.5 V", "between 1 ohm and 2 ohm", "at most 0.1 ohm".
Limits are computed in decimal and converted once.
"""

import re
from decimal import Decimal

from benchapp.errors import BenchError
from benchapp.files.locations import Mistake
from benchapp.files.scalars import LONGEST_NUMBER
from benchapp.judgement.acceptance.accept_habits import accept_suggestion
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import LARGEST, SMALLEST, read_quantity
from benchapp.quantities.units import SI_UNITS
from benchapp.wiring.model.circuit import Toleranced

_BETWEEN = re.compile(r"between\s+(?P<low>.+?)\s+and\s+(?P<high>.+)", re.IGNORECASE)
_AT_MOST = re.compile(r"at most\s+(?P<high>.+)", re.IGNORECASE)
_BOTH = re.compile(r"(?P<value>.+?)\s*(?:±|\+/-|\+-)\s*(?P<by>.+)")
_UP_DOWN = re.compile(r"(?P<value>.+?)\s*\+\s*(?P<up>[\d.,]+\s*%)\s*[-−]\s*(?P<down>[\d.,]+\s*%)")
FORMS = "'480 {u}', '480 {u} ± 10 %', '1.2 {u} +20 % -10 %', 'between 1 {u} and 2 {u}' or 'at most 0.1 {u}'"
_BENCH_UNITS = {Kind.capacitance: "µF"}  # where the SI unit is none that a part is marked in


def read_toleranced(text: str, kind: Kind, *, usual: Decimal = Decimal(0)) -> Toleranced:
    """Read a value with tolerance; `usual` is the ratio allowed either way when none is written.

    Raises ValueError with a sentence for a form, unit or order that makes no sense.
    """
    words = str(text).strip()
    if match := _BETWEEN.fullmatch(words):
        low, high = _exact(match["low"], kind), _exact(match["high"], kind)
        return _toleranced((low + high) / 2, low, high, words)
    if match := _AT_MOST.fullmatch(words):
        high = _exact(match["high"], kind)
        return _toleranced(high / 5, Decimal(0), high, words)
    if match := _UP_DOWN.fullmatch(words):
        value = _exact(match["value"], kind)
        return _toleranced(value, value * (1 - _percent(match["down"])), value * (1 + _percent(match["up"])), words)
    if match := _BOTH.fullmatch(words):
        value, by = _exact(match["value"], kind), match["by"].strip()
        if by.replace(".", "").replace(",", "").isdecimal():
            raise Mistake(
                f'the tolerance "{by}" has neither a % nor a unit', nearest=f"{match['value'].strip()} ± {by} %"
            )
        off = abs(value) * _percent(by) if by.endswith("%") else _exact(by, kind)
        return _toleranced(value, value - off, value + off, words)
    suggestion = accept_suggestion(words)
    if suggestion.startswith(("at most", "between")):
        raise Mistake(f'"{words}" is no value with a tolerance', nearest=suggestion)
    value = _exact(words, kind)
    return _toleranced(value, value - abs(value) * usual, value + abs(value) * usual, words)


def read_value(text: str, kind: Kind) -> float:
    """Read a plain quantity of the kind, in SI; raises ValueError with a sentence."""
    try:
        return float(read_quantity(str(text).strip(), kind=kind).si_exact)
    except BenchError as problem:
        raise ValueError(problem.sentence.rstrip(".")) from problem


def read_positive(text: str, kind: Kind) -> float:
    """Read a plain quantity of the kind that is more than zero, in SI; raises ValueError with a sentence."""
    value = read_value(text, kind)
    if value <= 0:
        raise Mistake(f'"{str(text).strip()}" does not fit here', expected=f"more than 0 {_symbol(kind)}")
    return value


def read_ratio(text: str) -> float:
    """Read "14 %" or "0.14" as a ratio from 0 to 1; raises ValueError with a sentence."""
    return float(_percent(str(text)))


def read_factor(text: str) -> float:
    """Read "130 %" or "1.3" as a factor above zero; raises ValueError with a sentence."""
    value = _number(str(text))
    if value <= 0:
        raise ValueError(f"'{text}' is no factor; write it like '130 %'")
    return float(value)


def _toleranced(nominal: Decimal, low: Decimal, high: Decimal, stated: str) -> Toleranced:
    if low > high:
        raise ValueError(f"'{stated}' has its lower limit above its upper one")
    if low < 0 < nominal:
        raise ValueError(f"'{stated}' reaches below zero; write it like 'at most 0.1 ohm' or 'between 0 ohm and 2 ohm'")
    return Toleranced(nominal=float(nominal), low=float(low), high=float(high), stated=stated)


def _exact(text: str, kind: Kind) -> Decimal:
    try:
        return Decimal(read_quantity(text.strip(), kind=kind).si_exact)
    except BenchError as problem:
        raise ValueError(f"{problem.sentence.rstrip('.')}; a value is written like {_forms(kind)}") from problem


def _forms(kind: Kind) -> str:
    return FORMS.format(u=_symbol(kind))


def _symbol(kind: Kind) -> str:
    return _BENCH_UNITS.get(kind) or SI_UNITS[kind].symbol


def _percent(text: str) -> Decimal:
    value = _number(text)
    if not text.strip().endswith("%") and value > 1:
        raise ValueError(f"'{text}' would be {value * 100:f} %; write a percentage with its sign, like '{text} %'")
    return value


def _number(text: str) -> Decimal:
    digits = text.strip().removesuffix("%").strip().replace(",", ".")
    try:
        value = Decimal(digits) if len(digits) <= LONGEST_NUMBER else Decimal("NaN")
    except ArithmeticError as problem:
        raise ValueError(f"'{text}' is not a percentage; write it like '10 %'") from problem
    if not (value.is_finite() and 0 <= value <= LARGEST) or 0 < value < SMALLEST:
        raise ValueError(f"'{text[:LONGEST_NUMBER]}' makes no sense as a percentage; write it like '10 %'")
    return value / 100 if text.strip().endswith("%") else value
