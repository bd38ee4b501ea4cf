"""Between which pins of an output is a voltage read? One pair for every winding that reaches the connector, and every
output whose author states what to expect."""

from collections.abc import Iterator

from benchapp.wiring.circuit import Circuit

_WIRES = frozenset({"link", "fuse", "earth", "switch"})
"""Parts that carry a voltage on to the next node unchanged."""


def voltage_pairs(circuit: Circuit, connector: str) -> tuple[tuple[str, str, str], ...]:
    """(terminal, terminal, meter function) for every voltage that the connector offers."""
    pins = circuit.connectors[connector].terminals
    stated = (one for one in circuit.outputs if {one.a, one.b} <= set(pins))
    pairs = {frozenset((o.a, o.b)): (o.a, o.b, "AC voltage" if o.alternating else "DC voltage") for o in stated}
    for a, b in _winding_ends(circuit, pins):
        pairs.setdefault(frozenset((a, b)), (a, b, "AC voltage"))
    return tuple(pairs.values())


def _winding_ends(circuit: Circuit, pins: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    joined = _joined_nodes(circuit)
    for branch in circuit.branches:
        if branch.kind != "winding" or branch.emf is None:
            continue
        a = next((pin for pin in pins if joined[pin] == joined[branch.a]), None)
        b = next((pin for pin in pins if joined[pin] == joined[branch.b]), None)
        if a is not None and b is not None and a != b:
            yield a, b


def _joined_nodes(circuit: Circuit) -> dict[str, int]:
    group = {node: number for number, node in enumerate(circuit.nodes)}
    for branch in circuit.branches:
        if branch.kind in _WIRES and group[branch.a] != group[branch.b]:
            keep, drop = group[branch.a], group[branch.b]
            group = {node: keep if number == drop else number for node, number in group.items()}
    return group
