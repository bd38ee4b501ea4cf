"""What one more fault does to the voltages of a circuit that was solved already.

A fault changes one admittance, or one winding's equation and that of its core. With K the inverse of the equations as
they were and x their solution, a change P M Q leaves x - K P (1 + M Q K P)^-1 M Q x (Woodbury's identity; of rank one
it is Sherman and Morrison's). Where that would be mostly rounding there is no answer here: the
circuit with the fault is then solved as a whole.
"""

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.faults.fault_modes import FaultMode, branch_with, bridge_of
from benchapp.wiring.model.circuit import Branch, Circuit, State
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.network.live import Equations, nominal_value, supply_of
from benchapp.wiring.network.solve import is_closed

Phasors = NDArray[np.complex128]
Groups = NDArray[np.int64]
LEAST = 1e-6  # what is divided by, against one: below it most digits are lost


class SolvedCircuit:
    """One circuit at one mains voltage (V), its equations inverted; each fault besides is one small update."""

    def __init__(self, circuit: Circuit, state: State, mains: float) -> None:
        self._circuit, self._state, self._mains = circuit, state, mains
        self._equations = Equations(circuit, supply_of(circuit), state, ())
        self._number = self._equations.number
        closed = (i for i, branch in enumerate(circuit.branches) if is_closed(branch, circuit, state))
        windings = (i for i in closed if circuit.branches[i].kind.couples)
        self._row = {branch: len(self._number) + row for row, branch in enumerate(windings)}
        self._first_core = len(self._number) + len(self._equations.windings)
        self._parted_by: dict[int, Groups | None] = {}
        self._shown = np.array([self._number[name] for name in circuit.terminals])

    @cached_property
    def _inverse(self) -> Phasors:
        matrix, _ = self._equations.assemble(self._mains, nominal_value)
        return np.linalg.inv(matrix).astype(np.complex128)

    @cached_property
    def _solution(self) -> Phasors:
        return np.linalg.solve(*self._equations.assemble(self._mains, nominal_value)).astype(np.complex128)

    @cached_property
    def _rises(self) -> Phasors:
        """Of each node with one ampere driven into it and back at the node its group is grounded at: columns of K."""
        columns = self._inverse[:, : len(self._number)].copy()
        columns[:, np.unique(self._equations.group)] = 0
        return columns

    def as_it_is(self) -> tuple[Phasors, Groups]:
        """Phasors (V) of the terminals, and the connected group of each."""
        return self._solution[self._shown], self._equations.group[self._shown]

    def with_fault_mode(self, fault_mode: FaultMode) -> tuple[Phasors, Groups] | None:
        """The same with one fault more; None where an update cannot tell."""
        if fault_mode.mode is Mode.crossed:
            return self._crossed(fault_mode)
        if fault_mode.branch < 0:
            bridge = bridge_of(fault_mode)
            return self._admitting(bridge.a, bridge.b, self._equations.siemens(bridge))
        before = self._circuit.branches[fault_mode.branch]
        after, loops = branch_with(before, fault_mode)
        lone = self._parted_groups(fault_mode.branch)
        if lone is not None and (not before.kind.couples or fault_mode.mode is Mode.open):
            return self.as_it_is() if self._siemens(after) else (self._solution[self._shown], lone[self._shown])
        if before.kind.couples:
            return self._wound(self._row.get(fault_mode.branch), before, after, loops)
        return self._admitting(before.a, before.b, self._siemens(after) - self._siemens(before))

    def _parted_groups(self, number: int) -> Groups | None:
        """The groups without a branch that alone joins its two ends; None for any other.

        No current flows in such a branch: whatever becomes of it moves no voltage.
        """
        if number not in self._parted_by:
            branch = self._circuit.branches[number]
            present = (*self._equations.windings, *self._equations.plain)
            left = [one for one in present if one is not branch]
            groups = self._equations.groups_of(left)
            apart = groups[self._number[branch.a]] != groups[self._number[branch.b]]
            self._parted_by[number] = groups if apart and len(left) < len(present) else None
        return self._parted_by[number]

    def _crossed(self, fault_mode: FaultMode) -> tuple[Phasors, Groups] | None:
        """Each of the two pins shows what the other would, unless something outside the circuit hangs on one."""
        outside = {self._equations.supply.live, self._equations.supply.neutral}
        outside.update(end for pair in (*self._state.joined, *self._equations.earth) for end in pair)
        if {fault_mode.a, fault_mode.b} & outside:
            return None
        order = np.arange(len(self._shown))
        i, j = (self._circuit.terminals.index(pin) for pin in (fault_mode.a, fault_mode.b))
        order[[i, j]] = j, i
        volts, groups = self.as_it_is()
        return volts[order], groups[order]

    def _siemens(self, branch: Branch) -> complex:
        conducts = is_closed(branch, self._circuit, self._state) and bool(branch.resistance or branch.farads)
        return self._equations.siemens(branch) if conducts else 0.0

    def _admitting(self, a: str, b: str, gained: complex) -> tuple[Phasors, Groups] | None:
        """With so much more admittance (siemens) from a to b."""
        i, j = self._number[a], self._number[b]
        if self._equations.group[i] != self._equations.group[j]:
            return self._joined(i, j) if gained else self.as_it_is()
        rise = self._rises[:, i] - self._rises[:, j]
        below = 1 + gained * (rise[i] - rise[j])
        if abs(below) < LEAST:
            return None
        volts, groups = self.as_it_is()
        across = self._solution[i] - self._solution[j]
        return volts - rise[self._shown] * (gained * across / below), groups

    def _joined(self, i: int, j: int) -> tuple[Phasors, Groups]:
        """With two groups joined at one place, no current flows there: the one takes its potential from the other."""
        volts, groups = self.as_it_is()
        own, other = self._equations.group[i], self._equations.group[j]
        moved = groups == other
        return np.where(moved, volts + self._solution[i] - self._solution[j], volts), np.where(moved, own, groups)

    def _wound(
        self, row: int | None, before: Branch, after: Branch, loops: list[Branch]
    ) -> tuple[Phasors, Groups] | None:
        """With a winding open, or with other turns and copper, and with a loop of shorted turns on its core."""
        if row is None:
            return None
        if not after.kind.couples:
            return self._parted(row, before)
        ohms = nominal_value(after, "ohms") - nominal_value(before, "ohms")
        places, change = [row], np.array([[-ohms]], dtype=complex)
        if before.core is not None:
            turns = nominal_value(after, "emf") - nominal_value(before, "emf")
            loaded = sum(nominal_value(loop, "emf") ** 2 / nominal_value(loop, "ohms") for loop in loops)
            places.append(self._first_core + self._equations.cores.index(before.core))
            change = np.array([[-ohms, -turns], [turns, -loaded]], dtype=complex)
        below = np.eye(len(places)) + change @ self._inverse[np.ix_(places, places)]
        if abs(np.linalg.det(below)) < LEAST:
            return None
        step = np.linalg.solve(below, change @ self._solution[places])
        volts, groups = self.as_it_is()
        return volts - self._inverse[self._shown][:, places] @ step, groups

    def _parted(self, row: int, branch: Branch) -> tuple[Phasors, Groups] | None:
        """With no current in a winding: its equation makes way for that."""
        own = self._inverse[row, row]
        if abs(own) * nominal_value(branch, "ohms") < LEAST:
            return None
        volts, groups = self.as_it_is()
        return volts - self._inverse[self._shown, row] * (self._solution[row] / own), groups
