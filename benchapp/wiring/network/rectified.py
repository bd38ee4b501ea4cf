"""The terminals between which a diode puts direct current, which the linear model of the live circuit does not know.

Each diode in turn is taken as a source of one volt behind a resistance, windings and supply as plain wire: where that
source shows between two terminals, their voltage depends on how the diode conducts. Across a winding that feeds a
rectifier nothing shows, since the winding shorts it: such a voltage stays a matter of turns.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.model.circuit import Branch, Circuit, State
from benchapp.wiring.network.solve import FLOOR, network_of

BEHIND = 1e3  # ohm behind each diode's source: far above a joint, well below what hangs on a rectifier
SHOWS = 1e-3  # of the source


class Rectified:
    """What every diode of a circuit in one state puts on every node."""

    def __init__(self, circuit: Circuit, state: State) -> None:
        if circuit.supply is not None:
            state = replace(state, joined=(*state.joined, (circuit.supply.live, circuit.supply.neutral)))
        network = network_of(circuit, state, _ohms)
        self._number = network.number
        self._group = network.group
        self._put = [
            (network.impedance[:, wire.a] - network.impedance[:, wire.b]) / BEHIND
            for wire in network.wires
            if wire.branch >= 0 and circuit.branches[wire.branch].kind.one_way
        ]

    def between(self, a: str, b: str) -> bool:
        """Whether a diode decides on the voltage between two nodes."""
        i, j = self._number[a], self._number[b]
        return self._group[i] == self._group[j] and any(abs(put[i] - put[j]) > SHOWS for put in self._put)

    def fed(self, terminals: tuple[str, ...], driven: frozenset[str]) -> tuple[str, ...]:
        """The terminals that only a diode feeds: one decides on their voltage to every driven node they hang on."""
        behind = []
        for terminal in terminals:
            own = self._group[self._number[terminal]]
            near = [node for node, number in self._number.items() if self._group[number] == own]
            decided = [node for node in near if self.between(terminal, node)]
            if decided and driven.intersection(near) <= set(decided):
                behind.append(terminal)
        return tuple(behind)

    def pairs(self, names: tuple[str, ...]) -> NDArray[np.bool_]:
        """The same for every two of the names, as a square."""
        rows = np.array([self._number[name] for name in names], dtype=np.int64)
        found = np.zeros((len(rows), len(rows)), dtype=bool)
        for put in self._put:
            found |= np.abs(put[rows][:, None] - put[rows][None, :]) > SHOWS
        found &= self._group[rows][:, None] == self._group[rows][None, :]
        return found


def _ohms(_number: int, branch: Branch) -> float | None:
    if branch.kind.couples:
        return FLOOR
    if branch.kind.one_way:
        return BEHIND
    return max(branch.resistance.nominal, FLOOR) if branch.resistance is not None else None
