"""The diodes between two terminals, and which of them can conduct with the probes this way round.

What an ohmmeter shows across a diode depends on polarity and on the meter's test voltage: one that can conduct reads
anything from a small resistance to nothing at all, one that blocks reads its leakage at the least. Current runs from
the red probe to the black one along paths on which the potential falls, so a diode can conduct only where such a path
leads through it the right way, and touches no node twice. Which diodes do is not computed: whatever they do, the
reading lies between those that can conduct at their least and all of them absent (Rayleigh's monotonicity law, with
each diode's own quotient of volts and amperes for its resistance).
"""

from collections.abc import Iterable, Mapping
from itertools import pairwise

from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.solve import MOVES, Network, is_closed, shape_of

Arcs = Mapping[str, frozenset[str]]
NodeSide = tuple[str, str]  # a node, and the side of it: current comes in and goes out
SOURCE, SINK = ("", "source"), ("", "sink")
NOTICED = 0.005  # of a reading: a diode that moves it by less does not count; common practice, no source
BEWARE = (
    "A diode lies in this path: the reading depends on which probe is on which end and on the meter's test voltage."
)
WHICH_PROBE = (
    "Probes as said, black and red: red is taken as the meter's positive lead. On many moving-coil meters it is the "
    "negative one for ohms; there, exchange the two."
)


def diodes_between(circuit: Circuit, state: State, a: str, b: str, *, live: bool = False) -> frozenset[int]:
    """Numbers of the diode branches that lie in the network between two nodes, however far from either.

    For a dead reading capacitors have charged and are no path; live, they are.
    """
    numbers = _diodes(circuit)
    if not numbers:
        return frozenset()
    network = shape_of(circuit, state, charged=not live)
    return frozenset(number for number in numbers if _lies_between(network, number, a, b))


def first_pair_across(
    circuit: Circuit, state: State, number: int, pairs: Iterable[tuple[str, str]]
) -> tuple[str, str] | None:
    """The first of the pairs between which the branch of that number lies, dead; None for none."""
    network = shape_of(circuit, state, charged=True)
    return next(((a, b) for a, b in pairs if _lies_between(network, number, a, b)), None)


def _lies_between(network: Network, number: int, a: str, b: str) -> bool:
    """Whether current from one node to the other divides so that some of it runs through the branch."""
    wire, i, j = network.wire_of.get(number), network.number[a], network.number[b]
    if wire is None or not network.group[i] == network.group[j] == network.group[wire.a]:
        return False
    potential = network.impedance[i] - network.impedance[j]
    return bool(abs(potential[wire.a] - potential[wire.b]) > MOVES)


class Polarity:
    """The circuit's diodes in one state, asked which can conduct between any red and any black probe."""

    def __init__(self, circuit: Circuit, state: State) -> None:
        self._circuit = circuit
        self._numbers = [n for n in _diodes(circuit) if is_closed(circuit.branches[n], circuit, state)]
        self._shape: Network = shape_of(circuit, state, charged=True)
        self._ways = self._arcs() if self._numbers else {}
        self._back = _turned(self._ways)
        self._reach: dict[int, tuple[set[str], set[str]]] = {}
        self._known: dict[tuple[str, str], frozenset[int]] = {}

    def forward(self, red: str, black: str) -> frozenset[int]:
        """Numbers of the diode branches that can conduct with the positive lead on `red`."""
        if not self._numbers:
            return frozenset()
        key = (red, black)
        if key not in self._known:
            self._known[key] = frozenset(n for n in self._numbers if self._can_conduct(n, red, black))
        return self._known[key]

    def matters(self, a: str, b: str) -> bool:
        """Whether other diodes can conduct with the probes exchanged."""
        return self.forward(a, b) != self.forward(b, a)

    def _arcs(self) -> Arcs:
        ways: dict[str, set[str]] = {node: set() for node in self._circuit.nodes}
        for wire in self._shape.wires:
            a, b = self._shape.nodes[wire.a], self._shape.nodes[wire.b]
            ways[a].add(b)
            if wire.branch not in self._numbers:
                ways[b].add(a)
        return {node: frozenset(onward) for node, onward in ways.items()}

    def _can_conduct(self, number: int, red: str, black: str) -> bool:
        anode, cathode = self._circuit.branches[number].a, self._circuit.branches[number].b
        if number not in self._reach:
            there = _led_to(self._back, anode, without=cathode)
            self._reach[number] = (there, _led_to(self._ways, cathode, without=anode))
        before, behind = self._reach[number]
        return red in before and black in behind and _two_apart(self._ways, (red, cathode), (anode, black))


def _diodes(circuit: Circuit) -> list[int]:
    return [number for number, branch in enumerate(circuit.branches) if branch.kind.one_way]


def _turned(ways: Arcs) -> Arcs:
    """The same with every arc the other way round."""
    back: dict[str, set[str]] = {node: set() for node in ways}
    for node, onward in ways.items():
        for other in onward:
            back[other].add(node)
    return {node: frozenset(before) for node, before in back.items()}


def _led_to(ways: Arcs, start: str, *, without: str) -> set[str]:
    """Every node that the arcs lead to from the start, never through `without`."""
    found, left = {start}, [start]
    while left:
        onward = ways[left.pop()] - found - {without}
        found |= onward
        left += onward
    return found


def _two_apart(ways: Arcs, starts: tuple[str, str], ends: tuple[str, str]) -> bool:
    """Whether two paths that share no node lead from the starts to the ends, by two augmenting paths (Menger)."""
    used: dict[NodeSide, set[NodeSide]] = {}  # the places from which what is used comes in
    for _ in starts:
        path = _augmenting(ways, used, starts, ends)
        if path is None:
            return False
        for here, onward in pairwise(path):
            if onward in used.get(here, ()):
                used[here].remove(onward)
            else:
                used.setdefault(onward, set()).add(here)
    return True


def _augmenting(
    ways: Arcs, used: Mapping[NodeSide, set[NodeSide]], starts: tuple[str, str], ends: tuple[str, str]
) -> list[NodeSide] | None:
    """A way from source to sink through what is not used yet, or back along what is."""
    before: dict[NodeSide, NodeSide] = {SOURCE: SOURCE}
    left = [SOURCE]
    while left and SINK not in before:
        place = left.pop()
        for onward in (*_onward(ways, place, starts, ends), *used.get(place, ())):
            if onward not in before and place not in used.get(onward, ()):
                before[onward] = place
                left.append(onward)
    if SINK not in before:
        return None
    path = [SINK]
    while path[-1] != SOURCE:
        path.append(before[path[-1]])
    return path[::-1]


def _onward(ways: Arcs, place: NodeSide, starts: tuple[str, str], ends: tuple[str, str]) -> list[NodeSide]:
    node, side = place
    if place == SOURCE:
        return [(start, "in") for start in starts]
    if side == "in":
        return [(node, "out")]
    return [*((other, "in") for other in ways.get(node, ())), *([SINK] if node in ends else [])]
