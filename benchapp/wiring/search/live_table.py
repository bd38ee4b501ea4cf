"""What every hypothesis would read with mains on: each faulty circuit is solved once, for all pairs and readings.

A fault is a small update of the circuit without it; of two faults the first is in the circuit that is updated.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache, partial

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.expected.live_tolerance import Tolerance, moved_solution, tolerances_of
from benchapp.wiring.faults.fault_modes import at_end, with_fault_modes
from benchapp.wiring.faults.live_change import SolvedCircuit
from benchapp.wiring.model.circuit import Circuit, Extreme, State
from benchapp.wiring.network.live import Equations, supply_of
from benchapp.wiring.network.rectified import Rectified
from benchapp.wiring.network.solve import Matrix
from benchapp.wiring.search.hypotheses import GHOST_SHARE, LIVE_SHARE, Boxes, Faults
from benchapp.wiring.search.observations import Observation

MOST_SOLVED = 20_000
"""circuits kept: every reading of the mains brings its own, and a search goes on from unit to unit"""
MOST_BASES = 64
"""inverted equations kept: the sound circuit's, and those of the first faults that pairs are built on"""

ROUNDING = 1e-9  # V: less is arithmetic, not voltage
STANDS = 0.1  # V of the sound circuit from which on a share of it means anything
MOST_SHARE = 0.9  # by which a voltage is taken to move either way, where windings nearly cancel
ANYTHING = 1e4  # V: the top of what nothing is told of


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveChoice:
    """Live readings that may be taken next: at which mains voltage (V), in which set-up, between which terminals."""

    mains: float
    terminals: tuple[str, ...]
    state: State = field(default_factory=State)

    @property
    def pairs(self) -> tuple[tuple[str, str], ...]:
        """Every two of the terminals."""
        return tuple((a, b) for i, a in enumerate(self.terminals) for b in self.terminals[i + 1 :])


@dataclass(frozen=True, slots=True)
class _Solved:
    """Phasors (V) of the circuit's terminals, and the connected group of each."""

    volts: NDArray[np.complex128]
    groups: NDArray[np.int64]


class LiveTable:
    """The solved circuits of one search, kept for its next question."""

    def __init__(self, circuit: Circuit) -> None:
        self._circuit = circuit
        self._number = {name: index for index, name in enumerate(circuit.terminals)}
        self._shares = cache(partial(_shares, circuit))
        self._solved = lru_cache(MOST_SOLVED)(self._solved_at_ends)
        self._base = lru_cache(MOST_BASES)(self._inverted)

    def box(self, observation: Observation, hypotheses: Sequence[Faults]) -> tuple[Matrix, Matrix]:
        """The two ends (V) of a live reading for every hypothesis."""
        pair = np.array([[self._number[observation.a], self._number[observation.b]]])
        mains = observation.mains or 0.0
        ends = np.array([self._ends(faults, observation.state, mains, pair) for faults in hypotheses])
        return ends[:, 0, 0], ends[:, 1, 0]

    def boxes(self, choice: LiveChoice, hypotheses: Sequence[Faults], wanted: Iterable[int]) -> Boxes:
        """The ends (V) of every pair of the choice, filled in for the wanted numbers of the hypotheses alone."""
        pairs = choice.pairs
        low, high = np.zeros((len(hypotheses), len(pairs))), np.zeros((len(hypotheses), len(pairs)))
        numbers = np.array([[self._number[a], self._number[b]] for a, b in pairs])
        for index in wanted:
            low[index], high[index] = self._ends(hypotheses[index], choice.state, choice.mains, numbers)
        column = {frozenset(pair): index for index, pair in enumerate(pairs)}
        return Boxes(low=low, high=high, pairs=pairs, column=column)

    def _ends(self, faults: Faults, state: State, mains: float, pairs: NDArray[np.int64]) -> tuple[Matrix, Matrix]:
        """Lowest and highest volts for each pair (rows of two terminals' numbers); a floating pair shows a ghost."""
        each = [_between(solved, pairs) for solved in self._solved(faults, state, mains)]
        floating = np.any([np.isnan(volts) for volts in each], axis=0)
        down, up, untold = (square[pairs[:, 0], pairs[:, 1]] for square in self._shares(state))
        low, high = np.min(each, axis=0) * (1 - down), np.max(each, axis=0) * (1 + up) + 0.1
        low, high = np.where(floating, 0.0, low), np.where(floating, GHOST_SHARE * mains, high)
        return np.where(untold, 0.0, low), np.where(untold, ANYTHING, high)

    def _solved_at_ends(self, faults: Faults, state: State, mains: float) -> tuple[_Solved, ...]:
        """The circuit with these faults, at both ends of their sizes where these are open."""
        ends = ("low", "high") if any(one.size.low != one.size.high for one in faults) else ("low",)
        return tuple(self._solve(tuple(at_end(one, end) for one in faults), state, mains) for end in ends)

    def _solve(self, sized: Faults, state: State, mains: float) -> _Solved:
        base = self._base(sized[:-1], state, mains)
        found = base.with_fault_mode(sized[-1]) if sized else base.as_it_is()
        return _Solved(*(found or self._inverted(sized, state, mains).as_it_is()))

    def _inverted(self, faults: Faults, state: State, mains: float) -> SolvedCircuit:
        """The circuit with these faults, its equations inverted once."""
        return SolvedCircuit(with_fault_modes(self._circuit, faults), state, mains)


def _shares(circuit: Circuit, state: State) -> tuple[Matrix, Matrix, NDArray[np.bool_]]:
    """For every two terminals: by which shares the voltage may be lower and higher, and whether it cannot be told.

    A winding whose plate is silent, or whose size alone tells its regulation, moves further than most do. Nothing is
    told of a voltage behind a diode, or of one that the author states because the wiring does not give it.
    """
    supply = supply_of(circuit)
    equations = Equations(circuit, supply, state, ())

    def volts(chosen: Mapping[Tolerance, Extreme]) -> Matrix:
        found = moved_solution(equations, supply.voltage, chosen)
        phasors = np.array([found.voltages[name] for name in circuit.terminals])
        across: Matrix = np.abs(phasors[:, None] - phasors[None, :])
        return across

    likely = volts({})
    down, up = np.zeros_like(likely), np.zeros_like(likely)
    for one in tolerances_of(equations):
        if one.wound:
            moved = [volts({one: end}) - likely for end in one.ends]
            down, up = down + np.maximum(-np.min(moved, axis=0), 0.0), up + np.maximum(np.max(moved, axis=0), 0.0)
    shares = [np.clip(by / np.maximum(likely, ROUNDING), LIVE_SHARE, MOST_SHARE) for by in (down, up)]
    shares = [np.where(likely > STANDS, share, LIVE_SHARE) for share in shares]
    untold = Rectified(circuit, state).pairs(circuit.terminals)
    number = {name: index for index, name in enumerate(circuit.terminals)}
    for output in circuit.outputs:
        i, j = number[output.a], number[output.b]
        untold[i, j] = untold[j, i] = True
    return shares[0], shares[1], untold


def _between(solved: _Solved, pairs: NDArray[np.int64]) -> Matrix:
    """Volts between the two terminals of each row; not a number where nothing joins them."""
    a, b = pairs[:, 0], pairs[:, 1]
    volts: Matrix = np.abs(solved.volts[a] - solved.volts[b])
    volts[volts < ROUNDING] = 0.0
    return np.where(solved.groups[a] == solved.groups[b], volts, np.nan)
