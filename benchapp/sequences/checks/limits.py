"""Complaints about single figures of a limits file: a unit of another kind, a value that makes no sense anywhere."""

from collections.abc import Iterator

from benchapp.errors import BenchError
from benchapp.files.document import Document
from benchapp.files.locations import Complaint
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.limits.stricter import figures_by_key, senseless_in
from benchapp.judgement.limits.strictness import OF_A_TABLE, rule_of
from benchapp.quantities.units import SI_UNITS, unit_named


def check_units(region: LimitProfile, document: Document) -> Iterator[Complaint]:
    """Complaints about figures whose unit is of another kind: a voltage in ohms would judge nothing."""
    for key, figure in figures_by_key(region):
        kind, unit = rule_of(key).kind, rule_of(key).unit
        if kind is None:
            if figure.unit != unit:
                yield document.complaint((*key, "unit"), f"“{figure.unit}” is no unit of this figure", unit)
            continue
        try:
            found = None if figure.unit in OF_A_TABLE else unit_named(figure.unit).kind
        except BenchError:
            found = None
        if found is not kind:
            what = f"“{figure.unit}” is no unit of {kind.with_article}"
            expected = f"{SI_UNITS[kind].symbol or '%'}, or another unit of {kind.with_article}"
            yield document.complaint((*key, "unit"), what, expected)


def check_sense(region: LimitProfile, document: Document) -> Iterator[Complaint]:
    """Complaints about figures that no standard states anywhere, tables and lists that contradict themselves."""
    for found in senseless_in(region):
        yield document.complaint(found.key, found.what, found.expected)
