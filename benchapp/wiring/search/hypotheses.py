"""What every hypothesis would read: boxes (lowest and highest ohm or volt) for each hypothesis and pair."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from benchapp.wiring.faults.dictionary import OPEN, FaultDictionary, fault_dictionary
from benchapp.wiring.faults.fault_modes import FaultMode, at_end, with_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.network.solve import Corner, Matrix, Network
from benchapp.wiring.search.likelihood import Reader
from benchapp.wiring.search.observations import Observation

LIVE_SHARE = 0.08  # of a live voltage, either way: turns and regulation; common practice, no source
GHOST_SHARE = 0.5  # of the mains that a 10 Mohm meter may show on a floating pin; common practice, no source

Faults = tuple[FaultMode, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxes:
    """Lowest and highest dead reading (ohm), hypotheses × pairs, leads included; the first row is the sound circuit."""

    low: Matrix
    high: Matrix
    pairs: tuple[tuple[str, str], ...]
    column: dict[frozenset[str], int]

    def of(self, observation: Observation) -> tuple[Matrix, Matrix]:
        """The two ends for the pair of a dead reading, one for every hypothesis."""
        column = self.column[observation.pair]
        return self.low[:, column].astype(float), self.high[:, column].astype(float)


Networks = Callable[[State, Corner], Network]
"""Gives the sound circuit's network for a set-up and a corner, each worked out once."""


def boxes(
    circuit: Circuit,
    state: State,
    fault_modes: Sequence[FaultMode],
    reader: Reader,
    first: Faults = (),
    networks: Networks | None = None,
) -> Boxes:
    """Boxes for the circuit with the faults `first` alone, and with each of `fault_modes` besides.

    Kept in single precision: a meter has five digits, and there may be millions of ends.
    """
    tables = [_table(circuit, state, corner, fault_modes, first, networks) for corner in (Corner.low, Corner.high)]
    names = tables[0].terminals
    pairs = tuple((names[i], names[j]) for i, j in tables[0].pairs)
    return Boxes(
        low=_end(tables, np.minimum, reader.leads[0]),
        high=_end(tables, np.maximum, reader.leads[1]),
        pairs=pairs,
        column={frozenset(pair): index for index, pair in enumerate(pairs)},
    )


def _end(tables: Sequence[FaultDictionary], outer: np.ufunc, leads: float) -> Matrix:
    """One end of every box, the sound circuit's in the first row; worked out in place."""
    one, other = tables
    rows = np.empty((len(one.faulty) + 1, len(one.sound)), dtype=np.float32)
    rows[0] = outer(one.sound, other.sound)
    outer(one.faulty, other.faulty, out=rows[1:])
    rows += np.float32(leads)
    return np.minimum(rows, np.float32(OPEN), out=rows)


def _at_corner(fault_mode: FaultMode, corner: Corner) -> FaultMode:
    """The fault where it reads lowest in the low corner: the more turns are shorted, the fewer ohm are left."""
    ends = {Corner.low: "high", Corner.high: "low"} if fault_mode.mode is Mode.shorted_turns else {}
    return at_end(fault_mode, ends.get(corner, corner.value))


def _table(
    circuit: Circuit,
    state: State,
    corner: Corner,
    fault_modes: Sequence[FaultMode],
    first: Faults,
    networks: Networks | None,
) -> FaultDictionary:
    if first:
        changed = with_fault_modes(circuit, [_at_corner(fault_mode, corner) for fault_mode in first])
        return fault_dictionary(changed, state, corner, fault_modes, kept_as=np.float32)
    network = networks(state, corner) if networks is not None else None
    return fault_dictionary(circuit, state, corner, fault_modes, kept_as=np.float32, network=network)
