"""What makes each figure of a limits file stricter, and between which values it makes sense at all.

A workshop's own figure may be stricter than the published one, never looser. Every figure that a limits file can hold
has its rule here; one without does not import. The bounds of sense are wide: they refuse what no standard states
anywhere, and are common practice (no source) where a rule names none.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType
from typing import Any, get_args

from benchapp.errors import BenchError
from benchapp.files.locations import Key
from benchapp.judgement.limits.figures import Figure, Table
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.meters.functions import Function
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.units import unit_named
from benchapp.words import say

ANY = "*"
"""One of a list, or one of several classes."""
CLASSES = frozenset({"I", "II", "III"})
"""Classes of IEC 61140 that a limits file states figures for."""
OF_A_TABLE = frozenset({"ohm/km", "/K"})
"""Units that no reading has; a figure in one of them is compared as it is written."""
PRACTICE = "common practice, no source"


class Stricter(StrEnum):
    """Which way a figure is stricter than the published one."""

    at_most = "at most"
    at_least = "at least"
    exactly = "exactly"


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureRule:
    """Which way a figure is stricter, and its bounds of sense in `unit`, both ends included.

    `may_be_added` tells whether a file may state the figure where the published one of the same id states none though
    it states its group. `beside` is then the figure that the added one takes the place of for some units.
    """

    stricter: Stricter
    unit: str
    least: Decimal
    most: Decimal
    source: str
    may_be_added: bool = True
    beside: Key = ()

    @property
    def kind(self) -> Kind | None:
        """The kind of value; None for one in a unit that no reading has."""
        return None if self.unit in OF_A_TABLE else unit_named(self.unit).kind

    def makes_sense(self, value: Decimal) -> bool:
        """Whether a value (SI, or as written in a table's own unit) lies between the bounds of sense."""
        least, most = (self.comparable(bound) for bound in (self.least, self.most))
        return least <= value <= most

    def comparable(self, value: Decimal) -> Decimal:
        """A value in the rule's unit as figures are compared."""
        return value if self.kind is None else unit_named(self.unit).si(value)

    @property
    def sensible(self) -> str:
        """The bounds in words."""
        return f"{self.least} {self.unit} to {self.most} {self.unit} ({self.source})"


LOWER, HIGHER, SAME = Stricter.at_most, Stricter.at_least, Stricter.exactly


def _rule(
    stricter: Stricter,
    least: str,
    most: str,
    unit: str,
    source: str = PRACTICE,
    *,
    added: bool = True,
    beside: str = "",
) -> FigureRule:
    return FigureRule(
        stricter=stricter,
        unit=unit,
        least=Decimal(least),
        most=Decimal(most),
        source=source,
        may_be_added=added,
        beside=tuple(beside.split(", ")) if beside else (),
    )


_SUPPLY = "EN 50160: all within +10 % −15 %"
_NETWORKS = "public networks: 100 V in Japan to 240 V"
_FREQUENCIES = "public networks: 50 Hz or 60 Hz"
_EXTRA_LOW = "IEC 61140 family: 60 V DC even where damp"
_EARTH = "EN 50699 and AS/NZS 3760: 1 ohm at most"
_TESTER = "IEC 61557-2, from memory: 1000 V"
_LEAST_INSULATION = "EN 50699: 0.25 Mohm for class III"
_CURRENT = "EN 50699: 10 mA at most"
_CONDUCTOR = "IEC 60228, class 5: 0.5 mm² to 4 mm²"
_FUSE_LINK = "BS 1362 and round-pin plugs of 16 A"
_CORD = "BS 7671 Table 4F3A"
_COPPER = "IEC 60228 Annex B: 0.00393 /K"

RULES: Mapping[str, FigureRule] = MappingProxyType(
    {
        "capability": _rule(LOWER, "0.1", "30", "%", "IEC 61557-2 and IEC 61557-4, from memory"),
        "mains, nominal": _rule(SAME, "100", "240", "V", _NETWORKS),
        "mains, below": _rule(LOWER, "0", "15", "%", _SUPPLY),
        "mains, above": _rule(SAME, "0", "15", "%", _SUPPLY),
        "mains, frequency": _rule(SAME, "50", "60", "Hz", _FREQUENCIES),
        "other mains, *, nominal": _rule(SAME, "100", "250", "V", _NETWORKS),
        "other mains, *, below": _rule(LOWER, "0", "15", "%", _SUPPLY),
        "other mains, *, above": _rule(SAME, "0", "15", "%", _SUPPLY),
        "other mains, *, frequency": _rule(SAME, "50", "60", "Hz", _FREQUENCIES),
        "voltage low": _rule(LOWER, "1", "60", "V", _EXTRA_LOW),
        "plug pins": _rule(LOWER, "1", "60", "V", _EXTRA_LOW),
        "earth continuity, base": _rule(LOWER, "0.01", "1", "ohm", _EARTH),
        "earth continuity, longer cords, up to": _rule(HIGHER, "1", "100", "m", added=False),
        "earth continuity, longer cords, each further": _rule(HIGHER, "1", "100", "m", added=False),
        "earth continuity, longer cords, adds": _rule(LOWER, "0.01", "0.5", "ohm", _EARTH, added=False),
        "earth continuity, longer cords, at most": _rule(LOWER, "0.01", "1", "ohm", _EARTH, added=False),
        "earth continuity, longer cords, largest area": _rule(SAME, "0.5", "4", "mm²", _CONDUCTOR, added=False),
        "earth continuity, longer cords, smallest": _rule(LOWER, "0.01", "1", "ohm", _EARTH, added=False),
        "insulation, test voltage": _rule(HIGHER, "250", "1000", "V", _TESTER),
        "insulation, test voltage with suppressor": _rule(
            HIGHER, "250", "1000", "V", _TESTER, beside="insulation, test voltage"
        ),
        "insulation, minimum, *": _rule(HIGHER, "0.25", "1000", "Mohm", _LEAST_INSULATION),
        "insulation, heating, minimum": _rule(
            HIGHER, "0.25", "1000", "Mohm", _LEAST_INSULATION, beside="insulation, minimum, I"
        ),
        "insulation, heating, from power": _rule(HIGHER, "0.1", "15", "kW"),
        **{
            f"{what}, {figure}": rule
            for what in (Function.protective_conductor_current, Function.touch_current)
            for figure, rule in (
                ("by class, *", _rule(LOWER, "0.01", "10", "mA", _CURRENT)),
                ("hand held", _rule(LOWER, "0.01", "10", "mA", _CURRENT, beside=f"{what}, by class, I")),
                ("heating, each kilowatt", _rule(LOWER, "0.01", "1", "mA", "EN 50699: 1 mA/kW", added=False)),
                ("heating, at most", _rule(LOWER, "0.01", "10", "mA", _CURRENT, added=False)),
                ("heating, at least", _rule(LOWER, "0.01", "10", "mA", _CURRENT, added=False)),
                ("heating, above power", _rule(SAME, "0.1", "15", "kW", added=False)),
            )
        },
        "conductors, plain": _rule(LOWER, "1", "50", "ohm/km", _CONDUCTOR),
        "conductors, tinned": _rule(LOWER, "1", "50", "ohm/km", _CONDUCTOR, beside="conductors, plain"),
        "conductors, temperature coefficient": _rule(SAME, "0.0039", "0.004", "/K", _COPPER),
        "cords, by area": _rule(LOWER, "1", "63", "A", _CORD),
        "cords, short moulded": _rule(LOWER, "1", "16", "A", "BS 1363-1 Table 2, note: 10 A", added=False),
        "cords, short length": _rule(LOWER, "0.1", "5", "m", "BS 1363-1 Table 2, note: 2 m", added=False),
        "cords, short area": _rule(SAME, "0.5", "4", "mm²", "BS 1363-1 Table 2, note: 0.75 mm²", added=False),
        "fuses, ratings, *": _rule(LOWER, "0.5", "16", "A", _FUSE_LINK),
        "fuses, cut over power": _rule(HIGHER, "50", "3700", "W"),
        "fuses, inrush": _rule(LOWER, "0.5", "16", "A", _FUSE_LINK),
        "fuses, largest for cord": _rule(LOWER, "0.5", "16", "A", _FUSE_LINK),
        "fuses, largest for inrush": _rule(LOWER, "0.5", "16", "A", _FUSE_LINK),
    }
)
"""The rule of each figure or table by its place in the file; `*` is one of a list or of several classes."""


def rule_of(key: Key) -> FigureRule:
    """The rule of the figure or table under this key; raises UnknownStrictness where there is none."""
    place = ", ".join(ANY if isinstance(part, int) or part in CLASSES else str(part) for part in key)
    if place not in RULES:
        raise UnknownStrictness(say("Nobody has said which way “{place}” of a limits file is stricter.", place=place))
    return RULES[place]


class UnknownStrictness(BenchError):
    """A figure that no rule compares with the published one."""


def _figures_of(model: Any, key: Key) -> Iterator[Key]:  # noqa: ANN401  any type hint
    """The keys of all figures and tables that a model of a limits file can hold."""
    if isinstance(model, type) and issubclass(model, Figure | Table):
        yield key
    elif hasattr(model, "model_fields"):
        for name, field in model.model_fields.items():
            yield from _figures_of(field.annotation, (*key, name.replace("_", " ")))
    else:
        for inner in get_args(model):
            yield from _figures_of(inner, (*key, 0) if _is_many(model) else key)


def _is_many(annotation: Any) -> bool:  # noqa: ANN401  any type hint
    return getattr(annotation, "__origin__", None) in (tuple, dict)


for _key in _figures_of(LimitProfile, ()):
    rule_of(_key)
