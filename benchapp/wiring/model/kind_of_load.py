"""Kinds of load: what an item is to the supply, and with it how its first power can be judged."""

from collections.abc import Collection
from enum import StrEnum


class KindOfLoad(StrEnum):
    """What draws the current. Sources of what each draws: `wiring/model/assumptions.py`."""

    transformer = "transformer"
    """with nothing on its outputs it draws its no-load current alone"""
    circuits = "transformer with circuits behind it"
    """a set: it draws up to its rating by itself"""
    motor = "induction motor"
    heater = "heater"
    universal_motor = "universal motor"


LAMP_CANNOT_JUDGE = frozenset({KindOfLoad.heater, KindOfLoad.universal_motor})
"""Sound ones look like a short behind a lamp; common practice, no source."""

INRUSH_ABOVE = 100.0
"""VA above which the first half wave may blow a fuse chosen by power alone; a maker's rule for toroids"""


def has_inrush(kind: KindOfLoad | None, power: float | None) -> bool:
    """Whether a load of that kind and power (VA) draws many times its rated current when it is switched on."""
    of_iron = kind is not None and kind is not KindOfLoad.heater
    return of_iron and power is not None and power > INRUSH_ABOVE


WIRES = frozenset({"winding", "link", "fuse", "switch", "earth", "barrier"})
"""Kinds of part that draw nothing by themselves while no output is loaded; a winding but for its core."""


def usual_kind_of_load(kinds: Collection[str]) -> KindOfLoad | None:
    """The kind of load that the kinds of part of a mains design show; None where its author has to say it.

    A design with windings is a transformer, or one that feeds circuits of its own.
    """
    if "winding" not in kinds:
        return None
    return KindOfLoad.transformer if set(kinds) <= WIRES else KindOfLoad.circuits
