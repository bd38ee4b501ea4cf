"""Which nodes belong together: by name (a connector, a prefix of the author's own, one node) or by being joined?"""

from benchapp.wiring.model.circuit import Circuit, PartKind


def members(group: str, nodes: tuple[str, ...]) -> tuple[str, ...]:
    """The node of that name alone, or every node "group.something"."""
    if group in nodes:
        return (group,)
    return tuple(node for node in nodes if node.startswith(f"{group}."))


def groups_of(circuit: Circuit, kinds: frozenset[PartKind] | None = None) -> dict[str, int]:
    """Which nodes hang together, as node -> number of its group; over branches of some kinds, or all of them."""
    group = {node: number for number, node in enumerate(circuit.nodes)}
    for branch in circuit.branches:
        if kinds is None or branch.kind in kinds:
            keep, drop = group[branch.a], group[branch.b]
            if keep != drop:
                group = {node: keep if number == drop else number for node, number in group.items()}
    return group
