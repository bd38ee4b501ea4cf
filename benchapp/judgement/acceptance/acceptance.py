"""What a step accepts: checked for dimension when its file is read, turned into a band when the readings are there.

The forms are in `accept_text`. A tolerance in percent is of the value before it. Limits are worked in decimal: 9 V
± 20 % ends at 10.8 V, not at 10.799999999999999 V. Both ends belong to the band.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache
from math import hypot

from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.judgement.statements.problems import AcceptProblem
from benchapp.judgement.statements.sentences import limits_in_words
from benchapp.judgement.statements.statements import Rule
from benchapp.quantities.dimensions import Dimension, Kind
from benchapp.quantities.display import show, show_uncertainty
from benchapp.quantities.formula import Formula
from benchapp.quantities.problems import FormulaProblem
from benchapp.quantities.units import SI_UNITS
from benchapp.words import say

_RATIO = Kind.ratio.dimension
_PERCENT = re.compile(r"%|per ?cent")
_SHARES = ("%", "‰", "ppm")


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownQuantity:
    """A value that an accept expression may name, in SI units, with what it is and where it came from."""

    value_si: Decimal | float
    standard_uncertainty: float = 0.0
    what: str
    source: str
    kind: Kind | None = None
    unit: str = ""
    """As its author or reader wrote it, for showing."""


class Form(StrEnum):
    """The shapes that an accept expression can have."""

    around = "around"
    at_most = "at most"
    at_least = "at least"
    between = "between"
    limit = "limit"
    wiring = "from wiring"


@dataclass(frozen=True, slots=True, kw_only=True)
class Accept:
    """A parsed accept expression.

    `parts` are its formulas: value, tolerance above, tolerance below; or the one limit; or the lower and the upper.
    """

    text: str
    form: Form
    parts: tuple[Formula, ...] = ()
    offsets: tuple[int, ...] = ()
    limit_name: str = ""
    unit: str = ""

    @property
    def names(self) -> frozenset[str]:
        """Earlier steps and equipment data that the expression rests on."""
        return frozenset().union(*(part.names for part in self.parts))

    def check(self, kinds: Mapping[str, Kind | Dimension], kind: Kind, unit: str = "") -> None:
        """Hold the expression against the kind of the reading; raises AcceptProblem where it does not fit.

        `unit` is what the reading is written in, where its author said so.
        """
        for number, (part, offset) in enumerate(zip(self.parts, self.offsets, strict=True)):
            try:
                dimension = part.check(kinds)
            except FormulaProblem as problem:
                raise AcceptProblem(problem.sentence, position=offset + problem.position) from problem
            is_tolerance = self.form is Form.around and number > 0
            written = unit or (self.unit if is_tolerance else "")
            if what := _misfit(part, dimension, kind, written, is_tolerance=is_tolerance):
                spaces = len(part.text) - len(part.text.lstrip())
                raise AcceptProblem(what, position=offset + spaces)

    def band(
        self,
        values: Mapping[str, KnownQuantity],
        *,
        kind: Kind,
        rule: Rule = Rule.guarded,
        safety: bool = False,
        capability: float | None = None,
    ) -> Band:
        """The band for these values of its names; raises AcceptProblem where there is none.

        The uncertainty of a named value widens a band of function by twice its standard uncertainty; a safety limit is
        never widened.
        """
        if self.form in (Form.limit, Form.wiring):
            raise AcceptProblem(
                say(
                    "“{text}” takes its band from the {value}.",
                    text=self.text,
                    value="limits" if self.limit_name else "circuit",
                )
            )
        named = {name: values[name] for name in sorted(self.names) if name in values}
        lines = [DerivationStep(what=one.what, value=_shown(one), source=one.source) for one in named.values()]
        lower, upper, expected = self.limits({name: _exact(one.value_si) for name, one in named.items()}, kind)
        low, high = _float(lower), _float(upper)
        if not safety and any(one.standard_uncertainty for one in named.values()):
            u_low, u_high = self._standard_uncertainty(named, kind)
            low = None if low is None else low - 2 * u_low
            high = None if high is None else high + 2 * u_high
            lines.append(_widened(max(u_low, u_high), kind, self.unit))
        if low is not None and high is not None and low > high:
            raise AcceptProblem(say("“{text}” has its lower limit above its upper one: swap them.", text=self.text))
        words = limits_in_words(low, high, kind, self.unit)
        what = "accepted" if words == self.text else f"accepted: {self.text}"
        lines.append(DerivationStep(what=what, value=words, source="the step's author"))
        return Band(
            kind=kind,
            unit=self.unit,
            lower=low,
            upper=high,
            rule=rule,
            safety=safety,
            expected=_float(expected),
            derivation=tuple(lines),
            capability=capability,
        )

    def limits(
        self, values: Mapping[str, Decimal], kind: Kind
    ) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
        """Lower limit, upper limit and expected value (SI, exact), None where that side is open."""
        found = [self._value(number, values) for number in range(len(self.parts))]
        if self.form is Form.at_most:
            return None, found[0], None
        if self.form is Form.at_least:
            return found[0], None, None
        if self.form is Form.between:
            return found[0], found[1], None
        centre, above, below = found
        if above < 0 or below < 0:
            raise AcceptProblem(say("“{text}” has a tolerance below zero: write it without its sign.", text=self.text))
        above, below = (
            abs(centre) * size if is_relative(part, kind) else size
            for part, size in zip(self.parts[1:], (above, below), strict=True)
        )
        return centre - below, centre + above, centre

    def _value(self, number: int, values: Mapping[str, Decimal]) -> Decimal:
        try:
            value = self.parts[number].value(values)
        except FormulaProblem as problem:
            raise AcceptProblem(problem.sentence, position=self.offsets[number] + problem.position) from problem
        if not isinstance(value, Decimal):
            raise AcceptProblem(
                say("“{text}” is no value to compare with.", text=self.parts[number].text),
                position=self.offsets[number],
            )
        return value

    def _standard_uncertainty(self, named: Mapping[str, KnownQuantity], kind: Kind) -> tuple[float, float]:
        """Standard uncertainty of the lower and the upper limit (JCGM 100:2008, 5.1.3 note 2), names uncorrelated."""
        exact = {name: _exact(one.value_si) for name, one in named.items()}
        lowers, uppers = [], []
        for name, one in named.items():
            step = _exact(one.standard_uncertainty)
            if step:
                more = self.limits({**exact, name: exact[name] + step}, kind)
                less = self.limits({**exact, name: exact[name] - step}, kind)
                lowers.append(_half_difference(more[0], less[0]))
                uppers.append(_half_difference(more[1], less[1]))
        return hypot(*lowers), hypot(*uppers)


@lru_cache(maxsize=512)
def is_relative(tolerance: Formula, kind: Kind) -> bool:
    """Whether a tolerance is a share of the value: percent and nothing else; 5 % of a named voltage is a voltage.

    A bare number beside a reading that is no ratio is one too, in runs that pinned it; `check` refuses it since.
    """
    if tolerance.names or tolerance.check({}) != _RATIO:
        return False
    return kind is not Kind.ratio or _says_percent(tolerance)


def _says_percent(part: Formula) -> bool:
    return _PERCENT.search(part.text) is not None


def _misfit(part: Formula, dimension: Dimension, kind: Kind, unit: str, *, is_tolerance: bool) -> str:
    """Why a part does not fit the reading; empty where it does. A bare number is never taken for a share."""
    text, is_bare = part.text.strip(), not part.names and not _says_percent(part)
    if dimension == kind.dimension:
        in_shares = kind is Kind.ratio and unit in _SHARES
        if is_bare and in_shares:
            return say(
                "“{text}” has no unit, and the reading is in {unit}: write {text} {unit}, or what it is in {unit}.",
                text=text,
                unit=unit,
            )
        return ""
    if dimension == _RATIO and is_tolerance and not part.names and not is_bare:
        return ""
    if dimension == _RATIO and is_bare:
        choices = f"{text} {unit or SI_UNITS[kind].symbol}"
        if is_tolerance:
            choices += f" or {_in_percent(part)} %"
        return say("“{text}” has no unit: write {choices}.", text=text, choices=choices)
    return say(
        "“{text}” is {dimension}; the reading is {with_article}.",
        text=text,
        dimension=dimension,
        with_article=kind.with_article,
    )


def _in_percent(bare: Formula) -> str:
    """The number that stood alone, as a share: 3 for 3, and 5 for 0.05."""
    value = bare.value({})
    return f"{(value * 100 if abs(value) < 1 else value).normalize():f}"


def _exact(value: Decimal | float) -> Decimal:
    return value if isinstance(value, Decimal) else Decimal(repr(float(value)))


def _float(value: Decimal | None) -> float | None:
    return None if value is None else float(value)


def _half_difference(more: Decimal | None, less: Decimal | None) -> float:
    return 0.0 if more is None or less is None else abs(float(more - less)) / 2


def _shown(quantity: KnownQuantity) -> str:
    if quantity.kind is None:
        return f"{float(quantity.value_si):.6g} (SI)"
    return show(float(quantity.value_si), quantity.kind, unit=quantity.unit)


def _widened(standard: float, kind: Kind, unit: str) -> DerivationStep:
    return DerivationStep(
        what="widened by the uncertainty of these values",
        value=f"by {show_uncertainty(2 * standard, kind, unit=unit)}",
        source="JCGM 100:2008, 5.1.2, coverage factor 2",
    )
