"""The voltages of the circuit with mains applied: modified nodal analysis in phasors at mains frequency.

Unknowns are node voltages (one node of every connected group is zero), the current of every winding and of the source,
and one flux per iron core, scaled to 1 at the rated supply. A winding of off-load voltage e and resistance R obeys
V(a) - V(b) = e × flux + R × i, and the ampere-turns of a core balance: sum of e × i = a hair of magnetising current,
which makes a core that nothing feeds rest at zero. Phases (series, anti-phase, centre tap) follow from the signs.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.model.circuit import Branch, Circuit, Load, Problem, State, Supply, WiringProblem
from benchapp.wiring.network.solve import FLOOR, JOINED, grouped, is_closed

HAIR = 1e-7  # magnetising admittance, as a share of 1 VA at rated flux: far too small to move a voltage
Value = Callable[[Branch, str], float]  # a branch and "emf", "ohms" or "farads" -> the value to solve with


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Phasors (V r.m.s.) of all nodes, which group each node hangs in, and the current (A) drawn from the source."""

    voltages: dict[str, complex]
    groups: dict[str, int]
    current: complex

    def between(self, a: str, b: str) -> complex | None:
        """Voltage from b to a; None when nothing joins them, and only a ghost voltage would be read."""
        if self.groups[a] != self.groups[b]:
            return None
        return self.voltages[a] - self.voltages[b]


def nominal_value(branch: Branch, what: str) -> float:
    """The likely value of a branch: its off-load voltage, its resistance as it works on load, or its capacitance."""
    if what == "emf":
        return branch.emf.nominal if branch.emf is not None else 0.0
    if what == "farads":
        return branch.farads or 0.0
    resistance = branch.working or branch.resistance
    return max(resistance.nominal if resistance is not None else 0.0, FLOOR)


def solve_live(
    circuit: Circuit,
    supply: Supply,
    mains: float,
    *,
    state: State,
    loads: Iterable[Load] = (),
    value: Value = nominal_value,
) -> Solution:
    """Solve the circuit at `mains` volts across the supply's terminals, with resistive loads (ohm) attached."""
    return Equations(circuit, supply, state, tuple(loads)).solve(mains, value)


def supply_of(circuit: Circuit) -> Supply:
    """The circuit's supply; raises WiringProblem when it has none."""
    if circuit.supply is None:
        raise WiringProblem(Problem(key=("supply",), what=f"{circuit.title} has no supply, so no live reading"))
    return circuit.supply


class Equations:
    """The equations of one circuit in one state: lays out the unknowns, stamps every branch, solves."""

    def __init__(self, circuit: Circuit, supply: Supply, state: State, loads: tuple[Load, ...]) -> None:
        self.number = {name: index for index, name in enumerate(circuit.nodes)}
        closed = [branch for branch in circuit.branches if is_closed(branch, circuit, state)]
        self.windings = [b for b in closed if b.kind.couples]
        self.plain = [b for b in closed if not b.kind.couples and (b.resistance or b.farads)]
        self.joined = (*((a, b, JOINED) for a, b in state.joined), *((x.a, x.b, max(x.ohms, FLOOR)) for x in loads))
        self.cores = sorted({b.core for b in self.windings if b.core is not None})
        self.supply = supply
        self.earth = self._earth_link(circuit)
        self.group = self.groups_of((*self.windings, *self.plain))

    def _earth_link(self, circuit: Circuit) -> tuple[tuple[str, str], ...]:
        """The neutral of the installation is earthed at the supply, so earth stands at neutral."""
        earth = f"{self.supply.neutral.partition('.')[0]}.E"
        return ((earth, self.supply.neutral),) if earth in circuit.terminals else ()

    def groups_of(self, branches: Iterable[Branch]) -> NDArray[np.int64]:
        """For each node the smallest number of a node that it hangs together with through these branches."""
        ends = [(b.a, b.b) for b in branches]
        ends += [(a, b) for a, b, _ in self.joined]
        ends += [(self.supply.live, self.supply.neutral), *self.earth]
        return grouped(len(self.number), ((self.number[a], self.number[b]) for a, b in ends))

    def assemble(self, mains: float, value: Value) -> tuple[NDArray[np.complex128], NDArray[np.complex128]]:
        """The matrix, and what stands on the right: nodes, windings, cores and the source's current, in this order."""
        nodes, windings = len(self.number), len(self.windings)
        size = nodes + windings + len(self.cores) + 1
        matrix, right = np.zeros((size, size), dtype=complex), np.zeros(size, dtype=complex)
        self._stamp_plain(matrix, value)
        self._stamp_windings(matrix, value, nodes, nodes + windings)
        self._stamp_source(matrix, size - 1)
        right[size - 1] = mains
        for first in np.unique(self.group):
            matrix[first, :] = 0
            matrix[first, first] = 1
        return matrix, right

    def solve(self, mains: float, value: Value) -> Solution:
        """Phasors of all nodes with every branch at its value."""
        solution = np.linalg.solve(*self.assemble(mains, value))
        return Solution(
            voltages={name: complex(solution[index]) for name, index in self.number.items()},
            groups={name: int(self.group[index]) for name, index in self.number.items()},
            current=complex(solution[-1]),
        )

    def siemens(self, branch: Branch, value: Value = nominal_value) -> complex:
        """What a branch without windings lets pass at mains frequency."""
        charging = 2j * np.pi * self.supply.frequency * value(branch, "farads") if branch.farads else 0.0
        return charging + (1 / value(branch, "ohms") if branch.resistance is not None else 0.0)

    def _stamp_plain(self, matrix: NDArray[np.complex128], value: Value) -> None:
        for branch in self.plain:
            self._admittance(matrix, branch.a, branch.b, self.siemens(branch, value))
        for a, b, ohms in self.joined:
            self._admittance(matrix, a, b, 1 / ohms)
        for a, b in self.earth:
            self._admittance(matrix, a, b, 1 / JOINED)

    def _admittance(self, matrix: NDArray[np.complex128], a: str, b: str, siemens: complex) -> None:
        i, j = self.number[a], self.number[b]
        matrix[i, i] += siemens
        matrix[j, j] += siemens
        matrix[i, j] -= siemens
        matrix[j, i] -= siemens

    def _stamp_windings(self, matrix: NDArray[np.complex128], value: Value, first: int, flux: int) -> None:
        for offset, branch in enumerate(self.windings):
            row, i, j = first + offset, self.number[branch.a], self.number[branch.b]
            matrix[i, row] += 1
            matrix[j, row] -= 1
            matrix[row, i] += 1
            matrix[row, j] -= 1
            matrix[row, row] -= value(branch, "ohms")
            if branch.core is not None:
                column = flux + self.cores.index(branch.core)
                matrix[row, column] -= value(branch, "emf")
                matrix[column, row] += value(branch, "emf")
        for offset in range(len(self.cores)):
            matrix[flux + offset, flux + offset] -= HAIR

    def _stamp_source(self, matrix: NDArray[np.complex128], row: int) -> None:
        i, j = self.number[self.supply.live], self.number[self.supply.neutral]
        matrix[i, row] -= 1
        matrix[j, row] += 1
        matrix[row, i] += 1
        matrix[row, j] -= 1
