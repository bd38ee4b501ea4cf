"""Paths that a reading takes through any design, by what is at their ends: earth to metal, mains to outputs.

One step of a file names the path, the design says between which terminals it is read: so no step names a design's own
parts, and no metal that can be touched is left out.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from benchapp.wiring.expected.stored_charge import reservoirs
from benchapp.wiring.model.circuit import Branch, Circuit
from benchapp.wiring.model.groups import conducts, groups_of
from benchapp.wiring.model.touchable import insulation_between, touchable

FROM_WIRING = "from wiring"
OFF = "off"
"""the position in which a switch breaks what it switches"""


class Path(StrEnum):
    """What a path leads from and to."""

    earth_to_metal = "earth to metal"
    mains_to_metal = "mains to metal"
    mains_to_outputs = "mains to outputs"
    outputs_to_metal = "outputs to metal"
    live_to_touched = "live to what can be touched"
    across_outputs = "across outputs"
    across_reservoirs = "across reservoirs"
    past_the_switch = "live to neutral past the switch"

    @property
    def is_inside(self) -> bool:
        """Whether it is read with the cover off, before hands go in."""
        return self is Path.across_reservoirs


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """Two terminals of one design, and the part that is at fault where the path between them is bad."""

    a: str
    b: str
    part: str = ""
    say: str = ""
    """where it is read, where its two terminals have no names of their own"""


def ends_of(circuit: Circuit, path: str) -> tuple[Ends, ...]:
    """Every pair of terminals at which this design is read along the path; none where it has no such path."""
    return tuple(_FINDERS[Path(path)](circuit)) if circuit.supply is not None else ()


def earth_pin(circuit: Circuit) -> str:
    """The earth pin of the connector at which mains comes in; empty where it has none."""
    inlet = circuit.inlet
    return next((pin for pin in inlet.terminals if pin == "E" or pin.endswith(".E")), "") if inlet else ""


def _earth_to_metal(circuit: Circuit) -> Iterator[Ends]:
    pin = earth_pin(circuit)
    earths = [branch for branch in circuit.branches if branch.kind.protects]
    core = next((branch.part for branch in (*(one for one in earths if one.cord_core), *earths)), "")
    yield from (Ends(a=pin, b=end, part=core) for end in touchable(circuit).earthed if pin)


def _mains_to_metal(circuit: Circuit) -> Iterator[Ends]:
    return _from_mains(circuit, touchable(circuit).points)


def _mains_to_outputs(circuit: Circuit) -> Iterator[Ends]:
    return _from_mains(circuit, touchable(circuit).outputs)


def _from_mains(circuit: Circuit, to: tuple[str, ...]) -> Iterator[Ends]:
    live = circuit.supply.live if circuit.supply is not None else ""
    return (Ends(a=live, b=end, part=_barrier(circuit, live, end)) for end in to)


def _outputs_to_metal(circuit: Circuit) -> Iterator[Ends]:
    """Only where a barrier of the file keeps the two apart; each barrier once."""
    found: dict[str, Ends] = {}
    there = touchable(circuit)
    for output in there.outputs:
        for point in there.points:
            part = _barrier(circuit, output, point)
            if part:
                found.setdefault(part, Ends(a=output, b=point, part=part))
    yield from found.values()


def _live_to_touched(circuit: Circuit) -> Iterator[Ends]:
    """Where an insulation test leaves charge: one reading for all that hangs together."""
    live, group = circuit.supply.live if circuit.supply is not None else "", groups_of(circuit, conducts)
    there, seen = touchable(circuit), set[int]()
    for end in (*there.points, *there.outputs):
        if group[end] not in seen:
            seen.add(group[end])
            yield Ends(a=live, b=end)


def _across_outputs(circuit: Circuit) -> Iterator[Ends]:
    """Each output that somebody states, and of each connector the winding that gives most."""
    for plug in circuit.output_connectors:
        stated = [one for one in circuit.outputs if {one.a, one.b} <= set(plug.terminals)]
        yield from (Ends(a=one.a, b=one.b) for one in stated)
        ends = {frozenset((one.a, one.b)) for one in stated}
        wound = [one for one in winding_ends(circuit, plug.terminals) if frozenset(one[:2]) not in ends]
        yield from (Ends(a=a, b=b) for a, b, _ in sorted(wound, key=lambda one: -one[2])[:1])


def winding_ends(circuit: Circuit, pins: tuple[str, ...]) -> Iterator[tuple[str, str, float]]:
    """Two of the pins between which a winding's whole voltage lies, and how much that is at the rated supply (V)."""
    joined = groups_of(circuit, lambda branch: branch.kind.carries_voltage_on)
    for branch in circuit.branches:
        if not branch.kind.couples or branch.emf is None:
            continue
        a = next((pin for pin in pins if joined[pin] == joined[branch.a]), None)
        b = next((pin for pin in pins if joined[pin] == joined[branch.b]), None)
        if a is not None and b is not None and a != b:
            yield a, b, abs(branch.emf.nominal)


def _across_reservoirs(circuit: Circuit) -> Iterator[Ends]:
    for one in reservoirs(circuit):
        yield Ends(a=one.a, b=one.b, part=one.part, say=f"Here across {circuit.part_names[one.part]}.")


def _past_the_switch(circuit: Circuit) -> Iterator[Ends]:
    """Live to neutral where a switch of the item breaks that path: off, nothing may pass."""
    supply = circuit.supply
    for name, switch in circuit.switches.items():
        if supply is None or switch.selector or OFF not in switch.positions:
            continue
        kept = groups_of(circuit, partial(_conducts_when_off, switch=name))
        if kept[supply.live] != kept[supply.neutral]:
            yield Ends(a=supply.live, b=supply.neutral, part=switch.part)
            return


def _conducts_when_off(branch: Branch, switch: str) -> bool:
    """Whether the branch conducts while that switch stands at off; the others stand as they may."""
    return conducts(branch) and (branch.switch != switch or OFF in branch.closed_in)


def _barrier(circuit: Circuit, a: str, b: str) -> str:
    return next((one.part for one in insulation_between(circuit, a, b)), "")


_FINDERS: Mapping[Path, Callable[[Circuit], Iterator[Ends]]] = {
    Path.earth_to_metal: _earth_to_metal,
    Path.mains_to_metal: _mains_to_metal,
    Path.mains_to_outputs: _mains_to_outputs,
    Path.outputs_to_metal: _outputs_to_metal,
    Path.live_to_touched: _live_to_touched,
    Path.across_outputs: _across_outputs,
    Path.across_reservoirs: _across_reservoirs,
    Path.past_the_switch: _past_the_switch,
}
