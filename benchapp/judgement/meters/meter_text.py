"""What a meter record writes as text: categories, accuracy by frequency, spans of temperature."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated

from pydantic import BeforeValidator, InstanceOf, PlainValidator, WithJsonSchema

from benchapp.judgement.meters.accuracy import Accuracy, parse_accuracy
from benchapp.judgement.statements.problems import MeterProblem
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.quantities.quantity import Quantity
from benchapp.words import say

_CATEGORY = re.compile(r"CAT (II|III|IV) (\d{2,4}) V")
_NUMERALS = {"II": 2, "III": 3, "IV": 4}
_SPAN = re.compile(r"(\S.*?) to (\S.*)")
LONGEST_SPAN = 100
"""Characters that are read of a span (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Category:
    """Measurement category and the voltage to earth that it holds for (BS EN 61010-2-030)."""

    number: int
    volts: float

    def __str__(self) -> str:
        numeral = next(word for word, number in _NUMERALS.items() if number == self.number)
        return f"CAT {numeral} {self.volts:g} V"


@dataclass(frozen=True, slots=True, kw_only=True)
class FrequencyBand:
    """The accuracy between two frequencies in hertz, ends included."""

    low: float
    high: float
    accuracy: Accuracy


def _read_category(written: object) -> Category:
    match = _CATEGORY.fullmatch(str(written).strip())
    if not match:
        raise MeterProblem(
            say("“{written}” is no measurement category: write for example CAT III 600 V.", written=written)
        )
    return Category(number=_NUMERALS[match[1]], volts=float(match[2]))


def _read_span(written: object, kind: Kind) -> tuple[float, float]:
    match = _SPAN.fullmatch(" ".join(str(written)[:LONGEST_SPAN].split()))
    if not match:
        raise MeterProblem(
            say(
                "“{written}” is no span of {value}: write the lower end, “to”, the upper end.",
                written=written,
                value=kind.value,
            )
        )
    low, high = read_quantity(match[1], kind=kind).si, read_quantity(match[2], kind=kind).si
    if low > high:
        raise MeterProblem(say("“{written}” ends below its beginning: swap the two ends.", written=written))
    return low, high


def _read_accuracy(written: object) -> tuple[FrequencyBand, ...]:
    """One statement for all frequencies, or one for each band of them."""
    if not isinstance(written, dict):
        return (FrequencyBand(low=0.0, high=float("inf"), accuracy=parse_accuracy(str(written))),)
    bands = []
    for span, text in written.items():
        low, high = _read_span(span, Kind.frequency)
        bands.append(FrequencyBand(low=low, high=high, accuracy=parse_accuracy(str(text))))
    if not bands:
        raise MeterProblem("This accuracy names no frequency band: state at least one.")
    return tuple(bands)


def _read_any(written: object) -> Quantity:
    if isinstance(written, Quantity):
        return written
    found = read_quantity(str(written))
    if not found.unit.symbol:
        raise MeterProblem(say("“{written}” has no unit: write for example 600 mV.", written=written))
    return found


_TEXT = {"type": "string"}
AnyQuantity = Annotated[
    Quantity,
    PlainValidator(_read_any),
    WithJsonSchema({**_TEXT, "description": "a quantity with its unit, for example 600 mV"}),
]
CategoryField = Annotated[
    InstanceOf[Category],
    BeforeValidator(_read_category),
    WithJsonSchema({**_TEXT, "description": "for example CAT III 600 V"}),
]
AccuracyField = Annotated[
    tuple[InstanceOf[FrequencyBand], ...],
    BeforeValidator(_read_accuracy),
    WithJsonSchema(
        {
            "anyOf": [_TEXT, {"type": "object", "additionalProperties": _TEXT}],
            "description": "for example 0.5 % + 3 counts, or one statement for each band of frequency",
        }
    ),
]
TemperatureSpan = Annotated[
    tuple[float, float],
    BeforeValidator(lambda written: _read_span(written, Kind.temperature)),
    WithJsonSchema({**_TEXT, "description": "for example 18 °C to 28 °C"}),
]
