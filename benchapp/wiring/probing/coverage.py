"""The fewest probes that reveal every single fault that a connector can show, and the faults that none shows."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.assembly.lead import cores_of
from benchapp.wiring.faults.dictionary import OVER_RANGE, FaultDictionary, fault_dictionary
from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of
from benchapp.wiring.model.circuit import Circuit, Plug, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.diodes import Polarity, first_pair_across
from benchapp.wiring.network.solve import Corner, Matrix, dead_network

REVEALED: dict[Mode, tuple[Range, ...]] = {  # the faults that a plan is made for; common practice, no source
    Mode.high_resistance: (Range(low=10.0, high=10.0),),
    Mode.drifted: (Range(low=2.0, high=2.0),),
    Mode.shorted_turns: (Range(low=0.5, high=0.5),),
    Mode.leaking: (Range(low=1e3, high=1e5),),
    Mode.bridged: (Range(low=0.0, high=1.0),),
}
KEEP_THE_PATHS = frozenset({Mode.open, Mode.high_resistance, Mode.drifted, Mode.shorted_turns})
"""faults with which no diode can conduct that could not before"""
SEARCHED = 20_000  # steps of the exact search for a smaller set before the set at hand is taken

Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ohmmeter:
    """How far apart two readings must lie to be told apart: ± (share of the reading + ohm); and where OL begins."""

    share: float = 0.01
    ohms: float = 0.2
    over_range: float = OVER_RANGE


@dataclass(frozen=True, slots=True, kw_only=True)
class Revealing:
    """Which fault each pair of terminals reveals: `flags[fault, pair]`; black on the pair's first end, red on its
    second, where a diode makes that count."""

    terminals: tuple[str, ...]
    pairs: tuple[tuple[str, str], ...]
    fault_modes: tuple[FaultMode, ...]
    flags: Flags


def revealing(circuit: Circuit, state: State, meter: Ohmmeter, fault_modes: Sequence[FaultMode]) -> Revealing:
    """Compare the sound and the faulty band of every pair, at the ends of all tolerances and of the meter's.

    Where a diode makes the reading depend on which probe is on which end, a pair stands twice, red on its second end.
    """
    bands = _polar_bands if circuit.has_diodes else _plain_bands
    sound, faulty, pairs = bands(circuit, state, fault_modes)
    sound_low, sound_high = _read(sound[0], meter, -1), _read(sound[1], meter, +1)
    faulty_low = _read(np.minimum(*faulty), meter, -1)
    faulty_high = _read(np.maximum(*faulty), meter, +1)
    flags = (faulty_low > sound_high[None, :]) | (faulty_high < sound_low[None, :])
    return Revealing(terminals=circuit.terminals, pairs=pairs, fault_modes=tuple(fault_modes), flags=flags)


Ends = tuple[Matrix, Matrix]  # at the low and at the high end of all tolerances
Bands = tuple[Ends, Ends, tuple[tuple[str, str], ...]]  # of a sound unit, with each fault, and of which pairs


def _plain_bands(circuit: Circuit, state: State, fault_modes: Sequence[FaultMode]) -> Bands:
    low, high = (fault_dictionary(circuit, state, corner, fault_modes) for corner in (Corner.low, Corner.high))
    pairs = tuple((low.terminals[i], low.terminals[j]) for i, j in low.pairs)
    return (low.sound, high.sound), (low.faulty, high.faulty), pairs


def _polar_bands(circuit: Circuit, state: State, fault_modes: Sequence[FaultMode]) -> Bands:
    """The same with red on the second end of each pair: only diodes that can conduct so are taken to.

    A fault that adds a path or crosses wires may let other diodes conduct: with it any of them may.
    """
    (sound, high), (any_way, faulty_high), plain = _plain_bands(circuit, state, fault_modes)
    polarity = Polarity(circuit, state)
    both = [*enumerate(plain), *((i, (b, a)) for i, (a, b) in enumerate(plain) if polarity.matters(a, b))]
    columns, pairs = np.array([column for column, _ in both], dtype=np.int64), tuple(pair for _, pair in both)
    sound, faulty_low = sound[columns], any_way[:, columns]
    kept = np.array([i for i, one in enumerate(fault_modes) if one.mode in KEEP_THE_PATHS], dtype=np.int64)
    for way in {polarity.forward(b, a) for a, b in pairs}:
        here = np.array([i for i, (a, b) in enumerate(pairs) if polarity.forward(b, a) == way], dtype=np.int64)
        network = dead_network(circuit, state, Corner.low, forward=way)
        table = fault_dictionary(circuit, state, Corner.low, fault_modes, network=network)
        there = columns[here]
        sound[here] = table.sound[there]
        faulty_low[np.ix_(kept, here)] = table.faulty[np.ix_(kept, there)]
    return (sound, high[columns]), (faulty_low, faulty_high[:, columns]), pairs


def _read(ohms: Matrix, meter: Ohmmeter, sign: int) -> Matrix:
    """What the meter shows at most or at least; everything over its range is the same OL."""
    shown = ohms + sign * (meter.share * ohms + meter.ohms)
    return np.where(ohms >= meter.over_range, np.inf, np.minimum(shown, meter.over_range))


def continuity_pairs(
    circuit: Circuit, plug: Plug, state: State, taken: Sequence[tuple[str, str]], meter: Ohmmeter | None = None
) -> dict[tuple[str, str], str]:
    """The fewest pairs at this connector beyond those `taken`, each with the names of the parts it shows.

    Black is on a pair's first end and red on its second, where that counts.
    """
    fault_modes = [
        one
        for one in fault_modes_of(circuit, REVEALED)
        if one.mode is not Mode.shorted or one.part not in circuit.switches
    ]
    table = revealing(circuit, state, meter or Ohmmeter(), fault_modes)
    here, reachable = set(plug.terminals), _reachable(circuit, plug)
    candidates = [i for i, pair in enumerate(table.pairs) if set(pair) & here and set(pair) <= reachable]
    before = {*taken, *((b, a) for a, b in taken if not {(a, b), (b, a)} <= set(table.pairs))}
    covered = np.zeros(len(fault_modes), dtype=bool)
    for index, pair in enumerate(table.pairs):
        if pair in before:
            covered |= table.flags[:, index]
    within = [i for i in candidates if set(table.pairs[i]) <= here]
    chosen = fewest(table.flags, within, covered, table.pairs)
    covered = covered | table.flags[:, chosen].any(axis=1) if chosen else covered
    chosen += fewest(table.flags, [i for i in candidates if i not in within], covered, table.pairs)
    return {table.pairs[i]: _shown(table, i, circuit) for i in chosen}


@dataclass(frozen=True, slots=True, kw_only=True)
class Undetectable:
    """A fault that no reading between terminals reveals, and why not."""

    fault_mode: FaultMode
    why: str


def undetectable_faults(circuit: Circuit, state: State, meter: Ohmmeter | None = None) -> tuple[Undetectable, ...]:
    """Every single fault that no probe at all can show, in words a technician can act on."""
    fault_modes = fault_modes_of(circuit, REVEALED)
    table = revealing(circuit, state, meter or Ohmmeter(), fault_modes)
    nominal = fault_dictionary(circuit, state, Corner.nominal, fault_modes)
    undetectable = []
    for row, fault_mode in enumerate(fault_modes):
        if not table.flags[row].any():
            before, after = (np.minimum(ohms, OVER_RANGE) + 1.0 for ohms in (nominal.sound, nominal.faulty[row]))
            best = int(np.argmax(np.abs(np.log(after / before))))
            why = _why_undetectable(circuit, table.pairs[best], nominal, row, best)
            undetectable.append(
                Undetectable(fault_mode=fault_mode, why=_why_diode(circuit, state, fault_mode, table.pairs) or why)
            )
    return tuple(undetectable)


def _why_diode(circuit: Circuit, state: State, fault_mode: FaultMode, pairs: Sequence[tuple[str, str]]) -> str:
    """Why ohms cannot tell a broken diode from a sound one; empty where it lies between no terminals, or is none."""
    diode = fault_mode.branch >= 0 and circuit.branches[fault_mode.branch].kind.one_way
    pair = first_pair_across(circuit, state, fault_mode.branch, pairs) if diode else None
    if pair is None:
        return ""
    ends = f"{circuit.say(pair[0])} and {circuit.say(pair[1])}"
    return f"between {ends} sound diodes may read the same on an ohmmeter, whichever probe is where; test it as a diode"


def _why_undetectable(circuit: Circuit, pair: tuple[str, str], table: FaultDictionary, row: int, column: int) -> str:
    before, after = (min(float(ohms[column]), OVER_RANGE) for ohms in (table.sound, table.faulty[row]))
    if abs(after - before) < 1e-6 * (before + 1.0):
        return "no pair of terminals reads differently with it"
    ends = f"{circuit.say(pair[0])} and {circuit.say(pair[1])}"
    change = f"{show(before, Kind.resistance)} to {show(after, Kind.resistance)}"
    return f"the reading between {ends} only moves from {change}: within tolerance and what the meter tells apart"


def _reachable(circuit: Circuit, plug: Plug) -> set[str]:
    """Where red may go when black is on this connector: used pins of its own side of the mains, and bare metal.

    The contacts of a unit's own inlet are reached with its lead off alone, which is probed by itself.
    """
    others = [other for other in circuit.connectors.values() if plug.mains == other.mains]
    pins = {terminal for other in others for terminal in other.terminals if terminal not in other.unused}
    points = set(circuit.terminals) - {t for other in circuit.connectors.values() for t in other.terminals}
    contacts = {core.far for core in cores_of(circuit)} - set(circuit.exposed)
    return pins | points - contacts


def _shown(table: Revealing, pair: int, circuit: Circuit) -> str:
    parts = dict.fromkeys(one.part for one, seen in zip(table.fault_modes, table.flags[:, pair], strict=True) if seen)
    names = [circuit.part_names[part] for part in parts if part in circuit.part_names]
    return ", ".join(names) if names else "wires crossed or bridged at these pins"


def fewest(flags: Flags, candidates: list[int], covered: Flags, pairs: Sequence[tuple[str, str]]) -> list[int]:
    """The smallest set of candidates that reveals all that any of them reveals beyond `covered`.

    A greedy cover is made smaller by an exact search with a limited number of steps. Among sets of the smallest size
    one that shares a single terminal is taken where there is one, so that a probe can stay put.
    """
    wanted = flags[:, candidates].any(axis=1) & ~covered
    if not wanted.any():
        return []
    view = flags[wanted][:, candidates]
    best = _smallest(view)
    for common in sorted({terminal for index in candidates for terminal in pairs[index]}):
        own = [column for column, index in enumerate(candidates) if common in pairs[index]]
        if view[:, own].any(axis=1).all():
            standing = [own[column] for column in _smallest(view[:, own])]
            if len(standing) <= len(best):
                best = standing
                break
    return sorted(candidates[column] for column in best)


def _smallest(view: Flags) -> list[int]:
    useful = _undominated(view)
    cover = _greedy(view[:, useful])
    smaller = _exact(view[:, useful], len(cover))
    return [useful[column] for column in (smaller or cover)]


def _undominated(view: Flags) -> list[int]:
    """Columns, without those that show nothing or only part of what another shows."""
    counts = view.sum(axis=0)
    kept: list[int] = []
    for column in np.argsort(-counts, kind="stable"):
        mine = view[:, column]
        if counts[column] and not any(not (mine & ~view[:, other]).any() for other in kept):
            kept.append(int(column))
    return kept


def _greedy(view: Flags) -> list[int]:
    """Take what reveals most until all is revealed, then drop what has become needless."""
    left = np.ones(view.shape[0], dtype=bool)
    chosen: list[int] = []
    while left.any():
        best = int(np.argmax((view & left[:, None]).sum(axis=0)))
        chosen.append(best)
        left &= ~view[:, best]
    for index in list(chosen):
        others = [other for other in chosen if other != index]
        if others and view[:, others].any(axis=1).all():
            chosen = others
    return chosen


def _exact(view: Flags, size: int) -> list[int] | None:
    """A cover smaller than `size`, or None when there is none or the search has taken its steps."""
    rows = [frozenset(int(i) for i in np.flatnonzero(row)) for row in np.unique(view, axis=0)]
    rows = sorted({row for row in rows if not any(other < row for other in rows)}, key=len)
    steps = 0

    def search(chosen: list[int], limit: int) -> list[int] | None:
        nonlocal steps
        steps += 1
        open_rows = [row for row in rows if not row & set(chosen)]
        if not open_rows:
            return chosen
        if len(chosen) >= limit or steps > SEARCHED:
            return None
        tightest = min(open_rows, key=len)
        for column in sorted(tightest):
            found = search([*chosen, int(column)], limit)
            if found is not None:
                return found
        return None

    best = None
    for limit in range(size - 1, 0, -1):
        found = search([], limit)
        if found is None:
            break
        best = found
    return best
