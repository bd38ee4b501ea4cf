"""The cores of the mains lead and where they end: what a lead is probed by when it is off the unit.

A core runs from a pin of the mains plug (through the fuse in the plug, where there is one) to its far end: the pin of
the unit's inlet, or where a fixed cord of the design is joined on. Everything else stays with the unit.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from benchapp.wiring.model.circuit import Branch, Circuit, Plug
from benchapp.wiring.model.groups import groups_of

CONTACTS: Mapping[str, str] = MappingProxyType({"L": "live", "N": "neutral", "E": "earth"})
LEAD_OFF = "lead off"
"""the set-up in which a lead is probed by itself"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """One core of the lead: its pin of the plug, the node at its far end, and what to call its contact there."""

    part: str
    pin: str
    far: str
    contact: str


def cores_of(circuit: Circuit) -> tuple[Core, ...]:
    """The cores that the file describes as such, in its order; none where the plug or a cord is in no circuit."""
    plug = _mains_plug(circuit)
    return tuple(_cores(circuit, plug)) if plug is not None else ()


def parts_of_unit(circuit: Circuit) -> frozenset[str]:
    """Ids of the parts that are not of the lead: they are gone when it is off."""
    plug = _mains_plug(circuit)
    near = _near(circuit, plug) if plug is not None else frozenset()
    lead = {b.part for b in circuit.branches if b.cord_core or {b.a, b.b} <= near}
    return frozenset(circuit.parts) - lead


def far_ends(circuit: Circuit) -> dict[str, str]:
    """What to call the far end of each core when the lead is off, by its node."""
    return {core.far: f"the {core.contact} contact at the far end of the lead" for core in cores_of(circuit)}


def with_inlet(circuit: Circuit) -> Circuit:
    """The circuit of a unit whose lead can be taken off: the far end of every core can be probed there."""
    cores = [core for core in cores_of(circuit) if core.far not in circuit.terminals]
    spoken = {node: words for node, words in far_ends(circuit).items() if node not in circuit.terminals}
    cord = replace(circuit.cord, detachable=True) if circuit.cord is not None else None
    terminals = (*circuit.terminals, *dict.fromkeys(core.far for core in cores))
    return replace(circuit, terminals=terminals, spoken={**circuit.spoken, **spoken}, cord=cord)


def _mains_plug(circuit: Circuit) -> Plug | None:
    plug = circuit.inlet
    return plug if plug is not None and plug.mains else None


def _near(circuit: Circuit, plug: Plug) -> frozenset[str]:
    """The nodes in the plug: what hangs together with its pins when every core of the cord is taken away."""
    group = groups_of(circuit, _is_no_core)
    pins = {group[pin] for pin in plug.terminals}
    return frozenset(node for node, number in group.items() if number in pins)


def _is_no_core(branch: Branch) -> bool:
    return not branch.cord_core


def _cores(circuit: Circuit, plug: Plug) -> Iterator[Core]:
    near, group = _near(circuit, plug), groups_of(circuit, _is_no_core)
    for branch in circuit.branches:
        ends = _ends(branch, near)
        if ends is None:
            continue
        pin = next(pin for pin in plug.terminals if group[pin] == group[ends[0]])
        contact = CONTACTS.get(pin.rpartition(".")[2], circuit.say(pin))
        yield Core(part=branch.part, pin=pin, far=ends[1], contact=contact)


def _ends(branch: Branch, near: frozenset[str]) -> tuple[str, str] | None:
    """The end in the plug and the far one; None for what is no core between the two."""
    if not branch.cord_core or (branch.a in near) is (branch.b in near):
        return None
    return (branch.a, branch.b) if branch.a in near else (branch.b, branch.a)
