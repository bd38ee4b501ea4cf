"""Whether some reading that is allowed shows a fault: worked out from netlists alone, by the judge's own arithmetic."""

from collections.abc import Mapping
from functools import cache
from itertools import permutations
from math import log
from typing import Any

from tests.hazards.units.unit import SimulatedUnit
from tests.judge.design import Design, as_drawn, both, changed, design, unit

OVER_RANGE = 2e7
"""ohm from which on nobody tells a reading from an open circuit"""
LEADS = 0.6
"""ohm that leads and contacts may add to a reading; common practice, no source"""
METER = (0.007, 0.15)
"""share of the reading, and ohms, within which a hand meter errs; a little more than the statements of one"""
CLASS = 0.3
"""width of a class of readings on the natural logarithmic scale: readings that lie further apart are told apart"""

Pair = tuple[str, str]
Table = dict[Pair, float]


def readings(of: Design, one: SimulatedUnit) -> Table:
    """Ohms from every place to every other, red probe first."""
    return {pair: one.ohms(*pair) for pair in permutations(of.reach, 2)}


@cache
def sound(name: str) -> tuple[Table, Table]:
    """The least and the most that the drawing allows a sound unit to show, leads left out."""
    of = design(name)
    low, high = (readings(of, unit(of, as_drawn(of, sign))) for sign in (-1.0, 1.0))
    return low, high


def shown_at(name: str, change: Mapping[str, Any]) -> tuple[Pair, ...]:
    """The places between which a unit with that change reads what no sound one does."""
    of, (low, high) = design(name), sound(name)
    faulty = readings(of, unit(of, changed(of.parts, change)))
    return tuple(pair for pair, ohms in faulty.items() if _outside(ohms, low[pair], high[pair]))


def _outside(ohms: float, low: float, high: float) -> bool:
    if ohms >= OVER_RANGE:
        return high < OVER_RANGE
    margin = METER[0] * ohms + METER[1]
    below = ohms + LEADS + margin < low if low < OVER_RANGE else True
    return below or ohms - margin > high + LEADS


def signature(name: str, change: Mapping[str, Any]) -> dict[Pair, int]:
    """The class of every reading of a unit with that change: equal where a meter could not tell them apart."""
    of = design(name)
    table = readings(of, unit(of, changed(of.parts, change)))
    return {(a, b): _class(ohms) for (a, b), ohms in table.items() if a < b}


def _class(ohms: float) -> int:
    return 999 if ohms >= OVER_RANGE else round(log(ohms + LEADS) / CLASS)


def told_together(name: str, one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether a unit with both changes reads, somewhere, otherwise than with either alone by more than a class."""
    of = design(name)
    alone = [readings(of, unit(of, changed(of.parts, change))) for change in (one, other)]
    together = readings(of, unit(of, changed(of.parts, both(one, other))))
    return all(any(_apart(together[pair], table[pair]) for pair in together) for table in alone)


def _apart(one: float, other: float) -> bool:
    if min(one, other) >= OVER_RANGE:
        return False
    return abs(log((min(one, OVER_RANGE) + LEADS) / (min(other, OVER_RANGE) + LEADS))) > CLASS
