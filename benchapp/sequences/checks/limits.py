"""Complaints about figures of a limits file in a unit of another kind: a voltage in ohms would judge nothing."""

from collections.abc import Iterator

from pydantic import BaseModel

from benchapp.errors import BenchError
from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key
from benchapp.judgement.limits.figures import Figure, Table
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.units import SI_UNITS, unit_named

_KINDS = {
    "nominal": Kind.voltage,
    "below": Kind.ratio,
    "above": Kind.ratio,
    "capability": Kind.ratio,
    "voltage low": Kind.voltage,
    "plug pins": Kind.voltage,
    "test voltage": Kind.voltage,
    "test voltage with suppressor": Kind.voltage,
    "base": Kind.resistance,
    "longer cords": Kind.resistance,
    "minimum": Kind.resistance,
    "up to": Kind.length,
    "each further": Kind.length,
    "short length": Kind.length,
    "largest area": Kind.area,
    "short area": Kind.area,
    "from power": Kind.power,
    "above power": Kind.power,
    "cut over power": Kind.power,
    "ratings": Kind.current,
    "inrush": Kind.current,
    "largest for cord": Kind.current,
    "largest for inrush": Kind.current,
    "by area": Kind.current,
    "short moulded": Kind.current,
    "protective conductor current": Kind.current,
    "touch current": Kind.current,
}
"""The kind of value that each figure is, by its key or by that of the list or group it stands in."""


def check_units(region: LimitProfile, document: Document) -> Iterator[Complaint]:
    """Complaints about figures whose unit is of another kind."""
    for key, figure in _figures(region, ()):
        kind = next((_KINDS[name] for name in reversed(key) if name in _KINDS), None)
        if kind is None:
            continue
        try:
            found = unit_named(figure.unit).kind
        except BenchError:
            found = None
        if found is not kind:
            what = f"“{figure.unit}” is no unit of {kind.with_article}"
            expected = f"{SI_UNITS[kind].symbol or '%'}, or another unit of {kind.with_article}"
            yield document.complaint((*key, "unit"), what, expected)


def _figures(value: object, key: Key) -> Iterator[tuple[Key, Figure | Table]]:
    """Every figure and table below a value, with its key in the file."""
    if isinstance(value, Figure | Table):
        yield key, value
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _figures(getattr(value, name), (*key, name.replace("_", " ")))
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from _figures(inner, (*key, str(name)))
    elif isinstance(value, tuple):
        for number, inner in enumerate(value):
            yield from _figures(inner, (*key, number))
