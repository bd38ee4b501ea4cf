"""A meter as a person says it: by as much of its title as tells it from the others, never by its id."""

from collections import Counter
from collections.abc import Collection, Iterator
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord


def meter_name(meter: "MeterRecord", others: "Collection[MeterRecord]") -> str:
    """ "“Hand meter, true RMS”", where another hand meter is among the others; with its id where titles are alike."""
    return _named(meter.meter, meter.title, tuple(one.title for one in others if one.meter != meter.meter))


@lru_cache(maxsize=256)
def _named(meter: str, title: str, others: tuple[str, ...]) -> str:
    """The name, kept: many sentences of a page name the few meters of a workshop."""
    taken = Counter(begin for one in others for begin in _beginnings(one))
    alone = next((begin for begin in _beginnings(title) if not taken[begin]), None)
    return f"“{alone}”" if alone is not None else f"“{title}” ({meter})"


def _beginnings(title: str) -> Iterator[str]:
    return accumulate(title.split(", "), lambda begin, clause: f"{begin}, {clause}")
