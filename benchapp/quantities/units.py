"""The units that words name, and how many SI units each is.

The bench's own units stand in a table here, built at import; `tests/quantities/test_units.py` holds every entry
against pint. Units outside the table are asked of pint, which is loaded only then. The SI value of a
temperature is in degrees Celsius. Metric prefixes: SI Brochure, 9th edition, table 7
(number from memory).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.unit import Unit
from benchapp.words import say

PREFIXES = {
    "p": Decimal("1e-12"),
    "n": Decimal("1e-9"),
    "µ": Decimal("1e-6"),
    "m": Decimal("1e-3"),
    "": Decimal(1),
    "k": Decimal("1e3"),
    "M": Decimal("1e6"),
    "G": Decimal("1e9"),
    "T": Decimal("1e12"),
}
"""Prefix letters in rising order. M and m differ by 10⁹: their case is never ignored."""
_PREFIX_SPELLINGS = {"µ": ("µ", "μ", "u"), "k": ("k", "K")}
_PREFIX_WORDS = {"µ": "micro", "m": "milli", "k": "kilo", "M": "mega"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    kind: Kind
    symbol: str
    factor: str = "1"
    spellings: tuple[str, ...] = ()
    prefixes: str = ""
    offset: str = "0"


_OHM = ("Ω", "\u2126", "ohms", "Ohm", "Ohms", "OHM", "R")
_ROWS = (
    _Row(kind=Kind.voltage, symbol="V", spellings=("v", "volt", "volts", "Volt", "Volts"), prefixes="nµmkM"),
    _Row(kind=Kind.current, symbol="A", spellings=("a", "amp", "amps", "ampere", "amperes"), prefixes="pnµmk"),
    _Row(kind=Kind.resistance, symbol="ohm", spellings=_OHM, prefixes="nµmkMGT"),
    _Row(kind=Kind.power, symbol="W", spellings=("w", "watt", "watts", "Watt", "Watts"), prefixes="pnµmkM"),
    _Row(kind=Kind.power, symbol="VA", spellings=("va",), prefixes="mkM"),
    _Row(kind=Kind.frequency, symbol="Hz", spellings=("hz", "HZ", "hertz"), prefixes="mkMG"),
    _Row(kind=Kind.frequency, symbol="rpm", factor="1/60", spellings=("r/min", "rev/min")),
    _Row(kind=Kind.temperature, symbol="°C", spellings=("℃", "degC", "deg C", "C", "c", "celsius")),
    _Row(kind=Kind.temperature, symbol="°F", factor="5/9", offset="-160/9", spellings=("℉", "degF", "deg F")),
    _Row(kind=Kind.temperature_difference, symbol="K", spellings=("kelvin", "°C", "degC"), prefixes="m"),
    _Row(kind=Kind.temperature, symbol="K", spellings=("kelvin",), offset="-273.15"),
    _Row(kind=Kind.time, symbol="s", spellings=("sec", "secs", "second", "seconds"), prefixes="nµm"),
    _Row(kind=Kind.time, symbol="min", factor="60", spellings=("mins", "minute", "minutes")),
    _Row(kind=Kind.time, symbol="h", factor="3600", spellings=("hr", "hour", "hours")),
    _Row(kind=Kind.time, symbol="d", factor="86400", spellings=("day", "days")),
    _Row(kind=Kind.length, symbol="m", spellings=("metre", "metres", "meter", "meters"), prefixes="µmk"),
    _Row(kind=Kind.length, symbol="cm", factor="0.01"),
    _Row(kind=Kind.length, symbol="in", factor="0.0254", spellings=("inch", "inches")),
    _Row(kind=Kind.length, symbol="ft", factor="0.3048", spellings=("foot", "feet")),
    _Row(kind=Kind.area, symbol="mm²", factor="1e-6", spellings=("mm2", "mm^2", "sq mm")),
    _Row(kind=Kind.area, symbol="cm²", factor="1e-4", spellings=("cm2", "cm^2")),
    _Row(kind=Kind.area, symbol="m²", spellings=("m2", "m^2")),
    _Row(kind=Kind.speed, symbol="m/s"),
    _Row(kind=Kind.speed, symbol="cm/s", factor="0.01"),
    _Row(kind=Kind.speed, symbol="mm/s", factor="0.001"),
    _Row(kind=Kind.speed, symbol="in/s", factor="0.0254", spellings=("ips",)),
    _Row(kind=Kind.capacitance, symbol="F", spellings=("farad", "farads", "f"), prefixes="pnµm"),
    _Row(kind=Kind.inductance, symbol="H", spellings=("henry", "henries"), prefixes="nµm"),
    _Row(kind=Kind.charge, symbol="C", spellings=("coulomb", "coulombs"), prefixes="pnµm"),
    _Row(kind=Kind.charge, symbol="Ah", factor="3600", spellings=("A h",)),
    _Row(kind=Kind.charge, symbol="mAh", factor="3.6", spellings=("mA h",)),
    _Row(kind=Kind.energy, symbol="J", spellings=("joule", "joules"), prefixes="µmkM"),
    _Row(kind=Kind.energy, symbol="Wh", factor="3600", spellings=("W h",)),
    _Row(kind=Kind.energy, symbol="kWh", factor="3.6e6", spellings=("kW h",)),
    _Row(kind=Kind.mass, symbol="kg"),
    _Row(kind=Kind.mass, symbol="g", factor="1e-3", spellings=("gram", "grams")),
    _Row(kind=Kind.mass, symbol="mg", factor="1e-6"),
    _Row(kind=Kind.mass, symbol="lb", factor="0.45359237"),
    _Row(kind=Kind.mass, symbol="oz", factor="0.028349523125"),
    _Row(kind=Kind.ratio, symbol=""),
    _Row(kind=Kind.ratio, symbol="%", factor="0.01", spellings=("percent", "per cent")),
    _Row(kind=Kind.ratio, symbol="‰", factor="1e-3"),
    _Row(kind=Kind.ratio, symbol="ppm", factor="1e-6"),
)
_OLD_SPELLINGS = {
    (Kind.capacitance, "µF"): ("mfd", "MFD", "Mfd"),
    (Kind.capacitance, "pF"): ("mmfd", "MMFD"),
    (Kind.resistance, "Mohm"): ("meg", "Meg", "MEG", "megohm", "megohms", "Megohm"),
    (Kind.resistance, "kohm"): ("kilohm", "kilohms"),
    (Kind.resistance, "mohm"): ("milliohm", "milliohms"),
    (Kind.resistance, "µohm"): ("microhm", "microhms"),
    (Kind.frequency, "Hz"): ("c/s", "C/S", "c/sec", "cps", "c.p.s.", "cycles", "cycles/sec", "~"),
    (Kind.frequency, "kHz"): ("kc/s", "Kc/s", "KC/S"),
    (Kind.frequency, "MHz"): ("Mc/s", "MC/S"),
    (Kind.power, "W"): ("W.", "WATT", "WATTS"),
    (Kind.power, "VA"): ("V.A.", "V.A", "volt-amp", "volt-amps", "VOLT-AMPS", "volt-amperes"),
}
"""Ways of writing that stand on old parts and in old service sheets (common practice, no source)."""


def _fraction(text: str) -> Decimal:
    above, _, below = text.partition("/")
    return Decimal(above) / Decimal(below or 1)


def _with_spellings() -> Iterator[tuple[Unit, str]]:
    for row in _ROWS:
        factor, offset = _fraction(row.factor), _fraction(row.offset)
        for prefix in ("", *row.prefixes):
            unit = Unit(symbol=prefix + row.symbol, kind=row.kind, factor=factor * PREFIXES[prefix], offset=offset)
            for letter in _PREFIX_SPELLINGS.get(prefix, (prefix,)):
                for spelling in (row.symbol, *row.spellings):
                    yield unit, letter + spelling
            if word := _PREFIX_WORDS.get(prefix):
                for spelling in row.spellings:
                    if len(spelling) > 3 and spelling.islower():
                        yield unit, word + spelling
            for spelling in _OLD_SPELLINGS.get((row.kind, unit.symbol), ()):
                yield unit, spelling


TABLE: dict[Kind, dict[str, Unit]] = {kind: {} for kind in Kind}
"""Every spelling of every unit of the bench, by kind."""
ANY_KIND: dict[str, Unit] = {}
"""Every spelling; where two kinds share one, the first row of the table has it (C is °C, K a difference)."""
for _unit, _spelling in _with_spellings():
    TABLE[_unit.kind].setdefault(_spelling, _unit)
    ANY_KIND.setdefault(_spelling, _unit)

SI_UNITS = {kind: next(unit for unit in TABLE[kind].values() if unit.factor == 1 and not unit.offset) for kind in Kind}
"""The unit in which plain floats of a kind are kept."""


def known_unit(text: str, kind: Kind | None = None) -> Unit | None:
    """The unit of the bench's own table, by preference of that kind; None when the table has no such word."""
    own = TABLE[kind].get(text) if kind is not None else None
    return own or ANY_KIND.get(text) or ANY_KIND.get(text.replace(" ", ""))


def bench_unit_named(text: str, kind: Kind | None = None) -> Unit:
    """The unit of the bench's own table that a word names; raises EntryProblem when there is none."""
    unit = known_unit(text.strip(), kind)
    if unit is None:
        raise EntryProblem(
            say('The unit "{text}" is not known.{suggestion}', text=text[:40], suggestion=_suggestion(text, kind))
        )
    return unit


def unit_named(text: str, kind: Kind | None = None) -> Unit:
    """The unit a word names, from the bench's own table or from pint; raises EntryProblem when there is none."""
    if known_unit(text.strip(), kind) is None:
        from benchapp.quantities.foreign import foreign_unit

        if foreign := foreign_unit(text.strip()):
            return foreign
    return bench_unit_named(text, kind)


def _suggestion(text: str, kind: Kind | None) -> str:
    from benchapp.files.spelling import nearest

    table = TABLE[kind] if kind is not None else ANY_KIND
    near = nearest(text, table)
    if near:
        return f" Did you mean {table[near].symbol}?"
    if kind is not None:
        return say(
            " For {with_article}, write for example {symbol}.",
            with_article=kind.with_article,
            symbol=SI_UNITS[kind].symbol or "a plain number",
        )
    return ""
