"""Which nodes belong together: by name (a connector, a prefix of the author's own, one node), or by being joined."""

from collections.abc import Callable, Iterable

from benchapp.wiring.model.circuit import Branch, Circuit


def members(group: str, nodes: tuple[str, ...]) -> tuple[str, ...]:
    """The node of that name alone, or every node "group.something"."""
    if group in nodes:
        return (group,)
    return tuple(node for node in nodes if node.startswith(f"{group}."))


def conducts(branch: Branch) -> bool:
    """Whether direct current passes, one way at least."""
    return branch.kind.conducts


def conducts_unearthed(branch: Branch) -> bool:
    """Whether current passes that is no fault's on its way to earth."""
    return branch.kind.conducts and not branch.kind.protects


def carries_voltage_on(branch: Branch) -> bool:
    """Whether it hands a voltage on to the next node unchanged, however the switches stand."""
    return branch.kind.carries_voltage_on and branch.switch is None


def groups_of(circuit: Circuit, through: Callable[[Branch], bool] | None = None) -> dict[str, int]:
    """Which nodes hang together, as node -> number of its group; over the branches that count, or all of them."""
    return joined(circuit.nodes, (branch for branch in circuit.branches if through is None or through(branch)))


def joined(nodes: Iterable[str], branches: Iterable[Branch]) -> dict[str, int]:
    """Node -> number of its group, for nodes that branches join; both ends of each branch are among the nodes."""
    group = {node: number for number, node in enumerate(nodes)}
    for branch in branches:
        keep, drop = group[branch.a], group[branch.b]
        if keep != drop:
            group = {node: keep if number == drop else number for node, number in group.items()}
    return group
