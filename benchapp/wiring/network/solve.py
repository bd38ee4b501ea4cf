"""What an ohmmeter reads between any two nodes: the circuit as a network of conductances.

Each group of nodes that hangs together gets its own reduced Laplacian (one node grounded), inverted once. Then
R(a, b) = Z[a,a] + Z[b,b] - 2 Z[a,b] (Klein and Randić 1993, J. Math. Chem. 12, 81: resistance distance). Effective
resistance never falls when any branch rises (Rayleigh's monotonicity law), so the lowest and the highest reading that
tolerances allow are the networks with every branch at its lowest and at its highest.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Branch, Circuit, State

FLOOR = 1e-3  # ohm: no branch is taken as less, so that no matrix becomes ill-conditioned
JOINED = 1e-2  # ohm of a lead that joins two terminals; common practice, no source
GOLDEN = 0.6180339887498949  # multiples of it, modulo one, repeat no simple ratio
MOVES = 1e-9  # a share of the current below this is rounding

Matrix = NDArray[np.float64]


class Corner(StrEnum):
    """Which of its possible values every branch takes."""

    nominal = "nominal"
    low = "low"
    high = "high"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A conducting branch as the network sees it: its number (-1: a joined lead), part, two nodes by number, ohms."""

    branch: int
    part: str
    a: int
    b: int
    ohms: float


@dataclass(frozen=True, kw_only=True)
class Network:
    """Nodes by number, wires between them, and the impedance matrix of every group of nodes that hangs together."""

    nodes: tuple[str, ...]
    wires: tuple[Wire, ...]

    @cached_property
    def number(self) -> dict[str, int]:
        """The number of each node by name."""
        return {name: index for index, name in enumerate(self.nodes)}

    @cached_property
    def group(self) -> NDArray[np.int64]:
        """For each node the smallest node number that it hangs together with."""
        return grouped(len(self.nodes), ((wire.a, wire.b) for wire in self.wires))

    @cached_property
    def impedance(self) -> Matrix:
        """Z (ohm), nodes × nodes; each group is grounded at its first node, and groups do not mix."""
        size = len(self.nodes)
        laplacian = np.zeros((size, size))
        for wire in self.wires:
            siemens = 1 / wire.ohms
            laplacian[wire.a, wire.a] += siemens
            laplacian[wire.b, wire.b] += siemens
            laplacian[wire.a, wire.b] -= siemens
            laplacian[wire.b, wire.a] -= siemens
        impedance = np.zeros((size, size))
        for first in np.unique(self.group):
            rest = np.flatnonzero(self.group == first)[1:]
            if rest.size:
                impedance[np.ix_(rest, rest)] = np.linalg.inv(laplacian[np.ix_(rest, rest)])
        return impedance

    @cached_property
    def bridges(self) -> frozenset[int]:
        """Numbers of the branches that lie on no loop: with one ohm everywhere, exactly one ohm lies across them."""
        plain = Network(nodes=self.nodes, wires=tuple(replace(wire, ohms=1.0) for wire in self.wires))
        a, b = (np.array([getattr(wire, end) for wire in self.wires], dtype=int) for end in ("a", "b"))
        z = plain.impedance
        alone = np.abs(z[a, a] + z[b, b] - 2 * z[a, b] - 1) < 1e-9
        return frozenset(wire.branch for wire, lone in zip(self.wires, alone, strict=True) if lone)

    @cached_property
    def wire_of(self) -> dict[int, Wire]:
        """The wire that stands for each branch of the circuit, by the branch's number."""
        return {wire.branch: wire for wire in self.wires}

    def resistance(self, a: str, b: str) -> float:
        """Ohm between two nodes; infinite when nothing joins them."""
        i, j = self.number[a], self.number[b]
        if self.group[i] != self.group[j]:
            return math.inf
        z = self.impedance
        return float(z[i, i] + z[j, j] - 2 * z[i, j])

    def shares(self, a: str, b: str) -> dict[str, float]:
        """How much (ohm) each part adds to the reading: its ohms times the square of its share of the current."""
        i, j = self.number[a], self.number[b]
        if self.group[i] != self.group[j]:
            return {}
        potential = self.impedance[i] - self.impedance[j]
        shares: dict[str, float] = {}
        for wire in self.wires:
            current = (potential[wire.a] - potential[wire.b]) / wire.ohms
            shares[wire.part] = shares.get(wire.part, 0.0) + wire.ohms * current**2
        return shares


def grouped(size: int, pairs: Iterable[tuple[int, int]]) -> NDArray[np.int64]:
    """For each of `size` nodes the smallest number that it is joined with, directly or through others."""
    parent = list(range(size))

    def root(node: int) -> int:
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    for a, b in pairs:
        low, high = sorted((root(a), root(b)))
        parent[high] = low
    return np.array([root(node) for node in range(size)], dtype=np.int64)


def is_closed(branch: Branch, circuit: Circuit, state: State) -> bool:
    """Whether the branch is in the circuit in this state: fuse in, switch in a position that closes it, not opened."""
    if branch.part in state.open_parts:
        return False
    if branch.kind.removable and state.fuses_in is not None:
        return branch.part in state.fuses_in
    if branch.switch is None:
        return True
    return position_of(branch.switch, circuit, state) in branch.closed_in


def position_of(switch: str, circuit: Circuit, state: State) -> str:
    """The position a switch stands in: as the state says, the chosen selector setting, or as usual."""
    known = circuit.switches[switch]
    for name, position in state.switches:
        if name == switch:
            return position
    return state.selector if known.selector and state.selector is not None else known.usual


def dead_network(
    circuit: Circuit,
    state: State,
    corner: Corner,
    *,
    temperature: float | None = None,
    forward: frozenset[int] | None = None,
) -> Network:
    """The network an ohmmeter sees.

    A diode conducts or not as its polarity falls, so it is a short in the low corner and absent in the others; with
    `forward`, the numbers of the diode branches that can conduct, these have the least that a sound one reads and the
    others leak. A capacitor has charged and is absent. Copper is at `temperature` (°C), else at the corner of 15 to
    35 °C.
    """
    factor = copper_factor_at(corner, temperature)

    def ohms(number: int, branch: Branch) -> float | None:
        if branch.kind.one_way and forward is not None:
            return assumptions.DIODE_FORWARD if number in forward else assumptions.DIODE_BLOCKING
        if branch.kind.one_way:
            return FLOOR if corner is Corner.low else None
        if branch.resistance is None:
            return None
        found: float = getattr(branch.resistance, corner.value)
        return max(found * factor if branch.copper else found, FLOOR)

    return network_of(circuit, state, ohms)


def network_of(circuit: Circuit, state: State, ohms: Callable[[int, Branch], float | None]) -> Network:
    """The network of what is closed in this state and joined from outside, each branch with the ohms it is given.

    `ohms` takes a branch's number and the branch; None leaves it out.
    """
    number = {name: index for index, name in enumerate(circuit.nodes)}
    wires = [
        Wire(branch=index, part=branch.part, a=number[branch.a], b=number[branch.b], ohms=value)
        for index, branch in enumerate(circuit.branches)
        if is_closed(branch, circuit, state) and (value := ohms(index, branch)) is not None
    ]
    wires += [Wire(branch=-1, part="", a=number[a], b=number[b], ohms=JOINED) for a, b in state.joined]
    return Network(nodes=circuit.nodes, wires=tuple(wires))


def copper_factor_at(corner: Corner, temperature: float | None) -> float:
    """Resistance of copper against 20 °C: at the temperature told, else at the corner's end of room temperature."""
    if temperature is not None:
        return assumptions.copper_factor(temperature)
    if corner is Corner.nominal:
        return 1.0
    return assumptions.copper_factor(assumptions.ROOM[0] if corner is Corner.low else assumptions.ROOM[1])


def shape_of(circuit: Circuit, state: State, *, charged: bool = False) -> Network:
    """The network of everything that conducts, charges or transforms; without what has `charged` and lets none pass."""
    return network_of(
        circuit, state, lambda number, branch: None if charged and branch.kind.charges else 1 + (number * GOLDEN) % 1
    )
