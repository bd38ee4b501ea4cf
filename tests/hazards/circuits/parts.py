"""The parts of a simulated unit's netlist, as plain values, and how a file's lines become parts."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

KINDS = ("wire", "resistor", "fuse", "winding", "capacitor", "diode", "leak", "switch")
"""a wire is a resistor of hundredths of an ohm; a leak is insulation, good or bad"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part. `ends` are two nodes; a diode's first is its anode.

    `value` is ohms (wire, resistor, fuse, winding, leak) or farads (capacitor). A winding also has `core` and `turns`,
    in volts that it gives or takes at the rated voltage of its core. `more` holds what few parts have.
    """

    name: str
    kind: str
    ends: tuple[str, str]
    value: float
    core: str = ""
    turns: float = 0.0
    more: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """Iron of a transformer: amperes of magnetising current and watts of loss at its rated volts and hertz."""

    name: str
    volts: float
    hertz: float
    amperes: float
    watts: float


def part_of(name: str, said: Mapping[str, Any]) -> Part:
    """A part from a line such as {resistor: [a, b], value: 4700}; raises ValueError where the line is none."""
    kinds = [kind for kind in KINDS if kind in said]
    if len(kinds) != 1:
        raise ValueError(f"{name}: one of {', '.join(KINDS)} is wanted, there is {dict(said)}")
    rest = {key: value for key, value in said.items() if key not in (kinds[0], "value", "core", "turns")}
    return Part(
        name=name,
        kind=kinds[0],
        ends=tuple(said[kinds[0]]),
        value=float(said.get("value", 0.02)),
        core=said.get("core", ""),
        turns=float(said.get("turns", 0.0)),
        more=rest,
    )
