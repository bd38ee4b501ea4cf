"""What a hand can reach of a unit, and the barriers that keep one group of it from another.

Bare metal is every point of the file; a connector's pins are its outputs, unless the mains comes in there.
"""

from collections.abc import Collection
from dataclasses import dataclass

from benchapp.wiring.model.circuit import Barrier, Circuit
from benchapp.wiring.model.groups import conducts_unearthed, groups_of
from benchapp.wiring.model.remembered import remembered


@dataclass(frozen=True, slots=True, kw_only=True)
class Touchable:
    """Terminals by what they are; `outputs` holds one used pin of each connector at which no mains comes in."""

    points: tuple[str, ...]
    earthed: tuple[str, ...]
    outputs: tuple[str, ...]


@remembered
def touchable(circuit: Circuit) -> Touchable:
    """Points of bare metal, what a protective conductor ends at, and the outputs."""
    pins = {pin for plug in circuit.connectors.values() for pin in plug.terminals}
    outputs = [[pin for pin in plug.terminals if pin not in plug.unused] for plug in circuit.output_connectors]
    earthed = _earthed_pins(circuit)
    return Touchable(
        points=tuple(terminal for terminal in circuit.terminals if terminal not in pins),
        earthed=(*circuit.exposed, *(pin for pin in circuit.terminals if pin in earthed)),
        outputs=tuple(used[0] for used in outputs if used),
    )


def _earthed_pins(circuit: Circuit) -> frozenset[str]:
    """Pins at which an earth part ends, but those of the mains plug and where a lead comes off."""
    plug = circuit.supply.live.partition(".")[0] if circuit.supply is not None else ""
    cores = {end for branch in circuit.branches if branch.cord_core for end in (branch.a, branch.b)}
    ends = {end for branch in circuit.branches if branch.kind.protects for end in (branch.a, branch.b)}
    pins = {pin for one in circuit.connectors.values() for pin in one.terminals if one.name != plug}
    return frozenset((ends & pins) - cores)


def without_earth_test(circuit: Circuit, ends: Collection[str]) -> tuple[str, ...]:
    """What a protective conductor ends at and no earth reading reaches, of all terminals that they reach."""
    return tuple(end for end in touchable(circuit).earthed if end not in ends)


def without_insulation_test(circuit: Circuit, ends: Collection[str]) -> tuple[str, ...]:
    """Bare metal and outputs that no insulation reading reaches; any pin of an output stands for all of it."""
    there, tested = touchable(circuit), {end.partition(".")[0] for end in ends}
    points = [point for point in there.points if point not in ends]
    return (*points, *(output for output in there.outputs if output.partition(".")[0] not in tested))


def insulation_between(circuit: Circuit, a: str, b: str) -> tuple[Barrier, ...]:
    """Barriers of the file that keep what conducts to one node from what conducts to the other; nearest first.

    Live and neutral count as one: an insulation test joins them.
    """
    near, far = _reached(circuit, a), _reached(circuit, b)
    found = [one for one in circuit.barriers if _keeps(one, near, far)]
    return tuple(sorted(found, key=lambda one: b not in one.side_a | one.side_b))


def _keeps(barrier: Barrier, near: frozenset[str], far: frozenset[str]) -> bool:
    return bool((barrier.side_a & near and barrier.side_b & far) or (barrier.side_a & far and barrier.side_b & near))


def _reached(circuit: Circuit, node: str) -> frozenset[str]:
    group, supply = groups_of(circuit, conducts_unearthed), circuit.supply
    ends = {supply.live, supply.neutral} if supply is not None else set()
    numbers = {group[end] for end in (ends if node in ends else {node})}
    return frozenset(one for one, number in group.items() if number in numbers)
