"""A design of the judge's: a netlist with its spread of values, what a probe reaches, and what its parts are called."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import yaml

from tests.hazards.circuits.parts import part_of
from tests.hazards.units.unit import SimulatedUnit, described

FOLDER = Path(__file__).parent
Said = Mapping[str, Mapping[str, Any]]
KINDS = ("wire", "resistor", "fuse", "winding", "capacitor", "diode", "leak", "switch")
USUAL = {"wire": "joint", "winding": "transformer", "diode": "rectifier", "leak": "insulation"}
"""classes of kinds that have not their own name; netlists say otherwise of single parts"""
MADE_WITHIN = {"wire": (0.4, 2.0), "switch": (0.3, 4.0), "fuse": (0.8, 1.3)}
"""factors between which the hundredths of an ohm of sound metal lie"""
TOLERANCED = ("resistor", "winding")


@dataclass(frozen=True, kw_only=True)
class Design:
    """One netlist. `parts` are its lines as said; `reach` the places that a probe reaches, in order."""

    name: str
    about: Mapping[str, Any]
    parts: Said

    @property
    def reach(self) -> tuple[str, ...]:
        """Pins and bare metal."""
        plug = ("plug.L", "plug.N", "plug.E") if self.about["mains nodes"] else ()
        pins = [pin for pins in self.about["connectors"].values() for pin in pins]
        return (*plug, *pins, *(place for places in self.about["metal"].values() for place in places))

    def kind(self, part: str) -> str:
        """What its line says that it is."""
        return next(kind for kind in KINDS if kind in self.parts[part])

    def ends(self, part: str) -> tuple[str, str]:
        """Its two nodes."""
        one, other = self.parts[part][self.kind(part)]
        return one, other

    def class_of(self, part: str) -> str:
        """The class by which it fails."""
        if part in self.about.get("classes", {}):
            return str(self.about["classes"][part])
        if part.startswith(("cord-", "lead-")):
            return "cord"
        return USUAL.get(self.kind(part), self.kind(part))

    def called(self, part: str) -> str:
        """Its name in the drawing."""
        return str(self.about.get("named", {}).get(part, part))

    def breakable(self) -> Iterator[str]:
        """The parts that faults are drawn for."""
        for part in self.parts:
            if part not in self.about.get("left out", ()) and self.kind(part) != "leak":
                yield part

    def together(self, node: str) -> tuple[str, ...]:
        """All nodes that metal joins with this one while everything is closed, in order."""
        joins = [
            self.ends(part)
            for part in self.parts
            if self.kind(part) in ("wire", "fuse", "winding", "switch", "resistor")
        ]
        found = {node}
        while more := {end for ends in joins for end in ends if found & set(ends)} - found:
            found |= more
        return tuple(sorted(found))


@cache
def design(name: str) -> Design:
    """The design of that name."""
    about = dict(yaml.safe_load((FOLDER / "netlists" / f"{name}.yaml").read_text(encoding="utf-8")))
    if "from" in about:
        about = {**described(about["from"]), **about}
    return Design(name=name, about=about, parts=about["parts"])


@cache
def designs() -> tuple[str, ...]:
    """The names of all."""
    return tuple(sorted(path.stem for path in (FOLDER / "netlists").glob("*.yaml")))


def changed(parts: Said, change: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """The lines with a change made: parts `without`, `set` and `with`."""
    said = {name: dict(one) for name, one in parts.items() if name not in change.get("without", ())}
    for name, keys in change.get("set", {}).items():
        said[name].update(keys)
    return said | {name: dict(one) for name, one in change.get("with", {}).items()}


def both(one: Mapping[str, Any], other: Mapping[str, Any]) -> dict[str, Any]:
    """Two changes as one."""
    return {
        "without": [*one.get("without", ()), *other.get("without", ())],
        "set": {**one.get("set", {}), **other.get("set", {})},
        "with": {**one.get("with", {}), **other.get("with", {})},
    }


def unit(of: Design, said: Said) -> SimulatedUnit:
    """A unit with these lines, switched as it usually is."""
    switched = {"power": "on", "selector": of.about.get("selector", "")}
    parts = {name: part_of(name, one) for name, one in said.items()}
    return SimulatedUnit(parts=parts, cores=(), about=of.about, switched=switched)


def made(of: Design, chance: Random, corner: str) -> dict[str, dict[str, Any]]:
    """The lines of one sound unit, its values spread: all "low", all "high", each at one of its "ends", or "even"."""
    spread, said = float(of.about["spread"]), {name: dict(one) for name, one in of.parts.items()}
    for name, one in said.items():
        kind = of.kind(name)
        if kind in TOLERANCED:
            share = {"low": -1.0, "high": 1.0, "ends": chance.choice((-1.0, 1.0)), "even": chance.uniform(-1, 1)}
            one["value"] = float(one["value"]) * (1 + spread * share[corner])
        elif kind in MADE_WITHIN:
            one["value"] = float(one.get("value", 0.02)) * chance.uniform(*MADE_WITHIN[kind])
    return said


def as_drawn(of: Design, sign: float) -> dict[str, dict[str, Any]]:
    """The lines with every value at the low (-1) or the high (1) end of what the drawing states, sound metal likewise.

    Between two places the ohms rise with every part's own (Rayleigh's monotonicity law), so these two are the ends.
    """
    stated, said = of.about["stated"], {name: dict(one) for name, one in of.parts.items()}
    for name, one in said.items():
        if of.kind(name) in TOLERANCED:
            one["value"] = float(one["value"]) * (1 + sign * float(stated.get(name, stated["usual"])))
        elif of.kind(name) in MADE_WITHIN:
            value = float(one.get("value", 0.02))
            one["value"] = max(3 * value, 0.1) if sign > 0 else value / 3
    return said
