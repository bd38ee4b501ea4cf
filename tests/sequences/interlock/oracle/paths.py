"""Between which terminals of a design a step is read that names a path, worked out from the text of its file."""

from collections.abc import Mapping
from typing import Any, Protocol

SMALL = 1e-7
"""farad: what is held there is no charge to speak of"""
FARADS = {"F": 1.0, "mF": 1e-3, "µF": 1e-6, "nF": 1e-9, "pF": 1e-12}
Pair = tuple[str, ...]


class Design(Protocol):
    """What is asked here of the files of one design."""

    design: Any
    connectors: Any
    parts: Any
    outputs: Any
    metal: Any
    earthed: Any
    ends: Any

    def hanging_with(self, nodes: set[str]) -> frozenset[str]:
        """These nodes and every other that hangs together with one of them."""
        ...


def pairs(files: Design, path: str) -> list[Pair]:
    """The two ends of each reading along a path; none where this design has no such path."""
    if "supply" not in files.design:
        return []
    if path == "across reservoirs":
        return [("", one) for one, (kind, part) in files.parts.items() if kind == "capacitor" and is_large(part)]
    if path == "live to neutral past the switch":
        switches = [part for kind, part in files.parts.values() if kind == "switch" and "selector" not in part]
        return [("supply.L", "supply.N")] if any("off" in one["positions"] for one in switches) else []
    if path == "across outputs":
        return _across_outputs(files)
    if path == "live to what can be touched":
        return _apart(files)
    if path == "outputs to metal":
        sides = [part["between"] for kind, part in files.parts.values() if kind == "barrier"]
        return [(a, b) for a, b in sides if {a, b} & files.outputs and {a, b} & files.metal]
    points = files.design.get("points", {})
    start, ends = {
        "earth to metal": ("supply.E", [one for one in points if one in files.earthed]),
        "mains to metal": ("supply.L", list(points)),
        "mains to outputs": ("supply.L", _outputs(files)),
    }[path]
    return [(start, end) for end in ends]


def _across_outputs(files: Design) -> list[Pair]:
    """Each output that is stated; of another connector one pair."""
    found: list[Pair] = []
    for name in (one for one in files.design["connectors"] if one in files.outputs):
        stated = [one["between"] for one in files.design.get("outputs", ()) if one["between"][0].startswith(name)]
        found += [("", f"{a}-{b.rpartition('.')[2]}") for a, b in stated] or [("", name)]
    return found


def _apart(files: Design) -> list[Pair]:
    """Metal, then outputs, without what hangs together with one before."""
    found: list[Pair] = []
    reached: set[str] = set()
    for end in (*files.design.get("points", {}), *_outputs(files)):
        if end not in reached:
            found.append(("supply.L", end))
            reached |= files.hanging_with({end})
    return found


def _outputs(files: Design) -> list[str]:
    """The first pin of each output at which something ends."""
    used = files.ends
    found = []
    for name in (one for one in files.design["connectors"] if one in files.outputs):
        pins = [f"{name}.{one['pin']}" for one in files.connectors[files.design["connectors"][name]]["pins"]]
        found.append(next(pin for pin in pins if pin in used))
    return found


def is_large(part: Mapping[str, Any]) -> bool:
    """Whether what a capacitor holds is no small charge."""
    number, unit = part["capacitance"].split()[:2]
    return float(number) * FARADS[unit] > SMALL
