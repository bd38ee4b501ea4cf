"""A meter as a person says it: by as much of its title as tells it from the others, never by its id."""

from collections import Counter
from collections.abc import Collection, Iterator
from itertools import accumulate
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord


def meter_name(meter: "MeterRecord", others: "Collection[MeterRecord]") -> str:
    """ "“Hand meter, true RMS”", where another hand meter is among the others; with its id where titles are alike."""
    taken = Counter(begin for one in others if one.meter != meter.meter for begin in _beginnings(one.title))
    alone = next((begin for begin in _beginnings(meter.title) if not taken[begin]), None)
    return f"“{alone}”" if alone is not None else f"“{meter.title}” ({meter.meter})"


def _beginnings(title: str) -> Iterator[str]:
    return accumulate(title.split(", "), lambda begin, clause: f"{begin}, {clause}")
