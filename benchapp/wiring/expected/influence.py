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
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.remembered import remembered
from benchapp.wiring.network.solve import MOVES, shape_of


@remembered
def parts_behind(circuit: Circuit, a: str, b: str, *, live: bool = False, state: State | None = None) -> frozenset[str]:
    """Ids of the parts whose failure could move the reading between two terminals.

    A voltage selector that the state does not set may stand anywhere: every unit chooses. Raises WiringProblem for an
    unknown terminal.
    """
    check_terminals(circuit, a, b)
    found: frozenset[str] = frozenset()
    for one in _settings(circuit, state or State()):
        shape = _Shape(circuit, one)
        found |= shape.moving(a, b) | (shape.driving(a, b) if live else frozenset())
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


class _Shape:
    """What hangs together in one state of a circuit, whatever the values are."""

    def __init__(self, circuit: Circuit, state: State) -> None:
        self._network = shape_of(circuit, state)
        self._group = dict(zip(circuit.nodes, self._network.group.tolist(), strict=True))
        self._branches = [(branch, self._groups((branch.a, branch.b))) for branch in circuit.branches]
        self._barriers = [(one.part, self._groups(one.side_a), self._groups(one.side_b)) for one in circuit.barriers]

    def _groups(self, nodes: Iterable[str]) -> set[int]:
        return {self._group[node] for node in nodes}

    def moving(self, a: str, b: str) -> frozenset[str]:
        """Parts on the way between two nodes, and barriers beside it; where there is no way, what touches either."""
        own = self._group[a]
        if own != self._group[b]:
            return self._touching(self._groups((a, b)))
        number, impedance = self._network.number, self._network.impedance
        potential = impedance[number[a]] - impedance[number[b]]
        on_the_way = {
            branch.part
            for branch, groups in self._branches
            if groups == {own} and abs(potential[number[branch.a]] - potential[number[branch.b]]) > MOVES
        }
        return frozenset(on_the_way | {part for part, one, other in self._barriers if own in one and own in other})

    def driving(self, a: str, b: str) -> frozenset[str]:
        """Parts that drive the voltage: everything that hangs on a core reached from a or b, and on the supply.

        So does every barrier there: what leaks through it drives a current along the earth path.
        """
        reached, before = self._groups((a, b)), set[int]()
        while reached != before:
            before = reached
            cores = {branch.core for branch, groups in self._branches if branch.kind.couples and groups & reached}
            reached = reached.union(
                *(groups for branch, groups in self._branches if branch.core and branch.core in cores)
            )
        return self._touching(reached)

    def _touching(self, groups: set[int]) -> frozenset[str]:
        """Parts and barriers that touch any of the groups: a leak may start anywhere there."""
        parts = {branch.part for branch, own in self._branches if own & groups}
        return frozenset(parts | {part for part, one, other in self._barriers if groups & (one | other)})
