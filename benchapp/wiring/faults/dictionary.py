"""What an ohmmeter reads between any two terminals with each fault, all of them at once.

A fault changes one conductance by d, so the impedance matrix changes by a rank-one term (Sherman and Morrison):
R'(a, b) = R(a, b) - d / (1 + d Rp) × (c[a] - c[b])², with c the potentials when one ampere is driven through the
branch p and Rp its terminal resistance. Opening a branch whose loss parts the network is found from the graph itself,
because 1 + d Rp is nothing but rounding there. Faults are taken a block at a time, so that beside the table itself
nothing large is held.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import DTypeLike, NDArray

from benchapp.wiring.faults.fault_modes import FaultMode, ohms_with, with_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.network.solve import Corner, Matrix, Network, dead_network

OPEN = 1e8  # ohm: what stands for no path at all
OVER_RANGE = 2e7  # ohm: a hand meter shows OL from here on; common practice, no source
BLOCK = 128  # faults worked out together
_END = {Corner.low: "low", Corner.nominal: "middle", Corner.high: "high"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultDictionary:
    """Resistances (ohm) of all pairs of terminals: `sound[pair]` and `faulty[fault, pair]`, for one corner."""

    terminals: tuple[str, ...]
    pairs: NDArray[np.int64]  # pairs × 2, numbers of terminals, the lower first
    sound: Matrix
    faulty: Matrix


def all_pairs(count: int) -> NDArray[np.int64]:
    """Every pair of numbers below `count`, lower first, as rows."""
    first, second = np.triu_indices(count, k=1)
    return np.column_stack((first, second))


def fault_dictionary(
    circuit: Circuit,
    state: State,
    corner: Corner,
    fault_modes: Sequence[FaultMode],
    *,
    terminals: tuple[str, ...] | None = None,
    kept_as: DTypeLike = np.float64,
    network: Network | None = None,
) -> FaultDictionary:
    """The table for these terminals (all by default) with every branch at its corner and each fault in turn.

    It is worked out in double precision and kept in `kept_as`; `network` is that of this state and corner, where it is
    at hand already.
    """
    network = network or dead_network(circuit, state, corner)
    names = terminals or circuit.terminals
    rows = np.array([network.number[name] for name in names], dtype=np.int64)
    pairs = all_pairs(len(names))
    leak = OPEN / 2 * (network.group[:, None] == network.group[None, :])
    sound = _between(network.impedance, leak, rows, pairs)
    changes = [_Change.of(fault_mode, network, corner) for fault_mode in fault_modes]
    faulty = np.empty((len(fault_modes), len(pairs)), dtype=kept_as)
    for start in range(0, len(fault_modes), BLOCK):
        block = slice(start, start + BLOCK)
        faulty[block] = _rank_one(network, leak, rows, pairs, sound, changes[block])
    outside = frozenset(end for pair in state.joined for end in pair)
    for row, fault_mode in enumerate(fault_modes):
        if fault_mode.mode is Mode.crossed and {fault_mode.a, fault_mode.b} & outside:
            # the lead that joins two pins from outside stays at its pin when the wires behind it are crossed
            faulty[row] = _of_whole(with_fault_modes(circuit, (fault_mode,)), state, corner, names, pairs)
        elif fault_mode.mode is Mode.crossed:
            faulty[row] = _crossed(sound, fault_mode, names, pairs)
    return FaultDictionary(terminals=names, pairs=pairs, sound=sound, faulty=faulty)


@dataclass(frozen=True, slots=True)
class _Change:
    """One changed branch: its nodes by number, ohms before and after, and whether its loss parts the network."""

    a: int
    b: int
    before: float
    after: float
    bridge: bool

    @classmethod
    def of(cls, fault_mode: FaultMode, network: Network, corner: Corner) -> "_Change":
        if fault_mode.mode is Mode.crossed:
            return cls(0, 0, math.inf, math.inf, False)
        a, b = network.number[fault_mode.a], network.number[fault_mode.b]
        wire = network.wire_of.get(fault_mode.branch) if fault_mode.branch >= 0 else None
        before = wire.ohms if wire is not None else math.inf
        lost = wire is None and fault_mode.mode in (Mode.open, Mode.high_resistance, Mode.shorted_turns)
        after = before if lost else ohms_with(fault_mode, before, _END[corner])
        return cls(a, b, before, after, fault_mode.branch in network.bridges)


def _between(impedance: Matrix, leak: Matrix, rows: NDArray[np.int64], pairs: NDArray[np.int64]) -> Matrix:
    """R of every pair: exact inside a group, OPEN and the two ways to ground across groups."""
    z = impedance[np.ix_(rows, rows)]
    inside = leak[np.ix_(rows, rows)] > 0
    own = np.diag(z)
    first, second = pairs.T
    plain: Matrix = own[first] + own[second] - 2 * z[first, second]
    return np.where(inside[first, second], plain, plain + OPEN)


def _rank_one(
    network: Network,
    leak: Matrix,
    rows: NDArray[np.int64],
    pairs: NDArray[np.int64],
    sound: Matrix,
    changes: Sequence[_Change],
) -> Matrix:
    a, b = np.array([one.a for one in changes], dtype=int), np.array([one.b for one in changes], dtype=int)
    before, after = np.array([one.before for one in changes]), np.array([one.after for one in changes])
    bridge = np.array([one.bridge for one in changes], dtype=bool)
    z = network.impedance
    inside = network.group[a] == network.group[b]
    potentials = z[rows][:, a] - z[rows][:, b]
    potentials += np.where(inside, 0.0, leak[rows][:, a] - leak[rows][:, b])
    own = z[a, a] + z[b, b] - 2 * z[a, b] + np.where(inside, 0.0, OPEN)
    after = np.where(bridge, np.minimum(after, OPEN), after)
    gained = 1 / after - 1 / before
    below = 1 + gained * own
    below[bridge] = before[bridge] / after[bridge]
    factor = np.divide(gained, below, out=np.zeros_like(gained), where=below != 0)
    across = potentials[pairs[:, 0]] - potentials[pairs[:, 1]]
    faulty: Matrix = sound[None, :] - factor[:, None] * (across.T**2)
    return np.clip(faulty, 0.0, OPEN, out=faulty)


def _of_whole(
    circuit: Circuit, state: State, corner: Corner, names: tuple[str, ...], pairs: NDArray[np.int64]
) -> Matrix:
    """R of every pair, of a circuit that is solved as a whole."""
    network = dead_network(circuit, state, corner)
    rows = np.array([network.number[name] for name in names], dtype=np.int64)
    leak = OPEN / 2 * (network.group[:, None] == network.group[None, :])
    return np.minimum(_between(network.impedance, leak, rows, pairs), OPEN)


def _crossed(sound: Matrix, fault_mode: FaultMode, names: tuple[str, ...], pairs: NDArray[np.int64]) -> Matrix:
    """With two wires crossed, each of the two pins reads what the other would."""
    if not {fault_mode.a, fault_mode.b} <= set(names):
        return sound
    column = np.zeros((len(names), len(names)), dtype=np.int64)
    column[pairs[:, 0], pairs[:, 1]] = column[pairs[:, 1], pairs[:, 0]] = np.arange(len(pairs))
    swapped = np.arange(len(names))
    i, j = names.index(fault_mode.a), names.index(fault_mode.b)
    swapped[i], swapped[j] = j, i
    found: Matrix = sound[column[swapped[pairs[:, 0]], swapped[pairs[:, 1]]]]
    return found
