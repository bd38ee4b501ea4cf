"""The parts that could move a reading; what a repair makes stale follows from it.

The question is about the shape of the network, not about its values: a bridge that happens to be balanced today still
lies between the two terminals. So every branch gets its own arbitrary conductance, and a part counts when changing it
moves the reading. Where nothing joins the two terminals, whatever hangs on either of them counts: a leak may start
anywhere there, and an open joint would hide it. Wider than need be is safe; narrower never is.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product

from benchapp.wiring.expected.dead import check_terminals
from benchapp.wiring.model.circuit import Branch, Circuit, State
from benchapp.wiring.network.solve import MOVES, Network, shape_of


def parts_behind(circuit: Circuit, a: str, b: str, *, live: bool = False, state: State | None = None) -> frozenset[str]:
    """Ids of the parts whose failure could move the reading between two terminals.

    A voltage selector that the state does not set may stand anywhere: every unit chooses. Raises WiringProblem for an
    unknown terminal.
    """
    check_terminals(circuit, a, b)
    found: frozenset[str] = frozenset()
    for one in _settings(circuit, state or State()):
        found |= _dead(circuit, a, b, one)
        if live:
            found |= _driven(circuit, a, b, one)
    return found


def _settings(circuit: Circuit, state: State) -> Iterator[State]:
    """The state in every position of the selectors that it leaves open."""
    set_already = {name for name, _ in state.switches}
    left = [s for s in circuit.switches.values() if s.selector and s.part not in set_already]
    if state.selector is not None or not left:
        yield state
        return
    for positions in product(*(switch.positions for switch in left)):
        chosen = zip((switch.part for switch in left), positions, strict=True)
        yield replace(state, switches=state.switches.union(chosen))


def _dead(circuit: Circuit, a: str, b: str, state: State) -> frozenset[str]:
    network = shape_of(circuit, state)
    i, j = network.number[a], network.number[b]
    if network.group[i] != network.group[j]:
        return _hanging(circuit, network, (a, b)) | _barriers(circuit, network, (a, b))
    potential = network.impedance[i] - network.impedance[j]
    number = network.number
    closed = frozenset(
        branch.part
        for branch in circuit.branches
        if abs(potential[number[branch.a]] - potential[number[branch.b]]) > MOVES and _meets(network, branch, i)
    )
    return closed | _bridging_barriers(circuit, network, i)


def _meets(network: Network, branch: Branch, node: int) -> bool:
    """Whether both ends of the branch hang together with the node: else closing it would make no loop."""
    ends = {network.group[network.number[end]] for end in (branch.a, branch.b)}
    return ends == {network.group[node]}


def _hanging(circuit: Circuit, network: Network, ends: Iterable[str]) -> frozenset[str]:
    groups = {network.group[network.number[end]] for end in ends}
    return frozenset(
        branch.part
        for branch in circuit.branches
        if {network.group[network.number[end]] for end in (branch.a, branch.b)} & groups
    )


def _barriers(circuit: Circuit, network: Network, ends: tuple[str, str]) -> frozenset[str]:
    """Barriers that touch the group of either end: their leak may be part of the reading."""
    groups = {int(network.group[network.number[end]]) for end in ends}
    return frozenset(part for part, sides in _barrier_sides(circuit, network) if groups & (sides[0] | sides[1]))


def _bridging_barriers(circuit: Circuit, network: Network, node: int) -> frozenset[str]:
    own = int(network.group[node])
    return frozenset(part for part, (one, other) in _barrier_sides(circuit, network) if own in one and own in other)


def _barrier_sides(circuit: Circuit, network: Network) -> Iterator[tuple[str, tuple[set[int], set[int]]]]:
    for barrier in circuit.barriers:
        one, other = (
            {int(network.group[network.number[n]]) for n in side} for side in (barrier.side_a, barrier.side_b)
        )
        yield barrier.part, (one, other)


def _driven(circuit: Circuit, a: str, b: str, state: State) -> frozenset[str]:
    """Parts that drive the voltage: everything that hangs on a core reached from a or b, and on the supply.

    So does every barrier there: what leaks through it drives a current along the earth path.
    """
    network = shape_of(circuit, state)
    reached = {int(network.group[network.number[end]]) for end in (a, b)}
    while True:
        cores = {
            branch.core
            for branch in circuit.branches
            if branch.kind.couples and int(network.group[network.number[branch.a]]) in reached
        }
        more = {
            int(network.group[network.number[end]])
            for branch in circuit.branches
            if branch.core is not None and branch.core in cores
            for end in (branch.a, branch.b)
        }
        if more <= reached:
            break
        reached |= more
    names = [name for name in circuit.nodes if int(network.group[network.number[name]]) in reached]
    leaking = {part for part, (one, other) in _barrier_sides(circuit, network) if reached & (one | other)}
    return _hanging(circuit, network, names) | leaking
