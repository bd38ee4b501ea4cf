"""What can go wrong with a circuit: single faults, and the circuit as it is with one of them.

A fault changes the resistance of one branch, adds a branch that should not be there, or swaps the wires at two
pins. Where the size of a fault is open (a joint of 3 to 10 ohm), it stands for the whole range.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, product

from benchapp.wiring.model.circuit import CONDUCTOR, Barrier, Branch, Circuit, Toleranced
from benchapp.wiring.model.groups import groups_of
from benchapp.wiring.model.modes import NO_SIZE, Mode, Range
from benchapp.wiring.network.solve import FLOOR

MOST_PLACES = 12  # of a leak through one insulation
METAL = 0.5  # ohm up to which a leak at one end of a branch reads as one at the other


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultMode:
    """One thing wrong: the part (or a pair of pins), how, and how badly.

    `branch` is the number of the branch that changes; -1 when a branch from `a` to `b` is added, or the wires at the
    pins `a` and `b` are swapped.
    """

    part: str
    mode: Mode
    branch: int = -1
    a: str = ""
    b: str = ""
    size: Range = NO_SIZE

    def words(self, circuit: Circuit) -> str:
        """The fault as a technician would say it."""
        if self.mode is Mode.crossed:
            return f"the wires at {circuit.say(self.a)} and {circuit.say(self.b)} are crossed"
        if self.mode is Mode.bridged:
            return f"{circuit.say(self.a)} and {circuit.say(self.b)} are bridged"
        name = circuit.part_names.get(self.part, self.part)
        words = {
            Mode.open: "is open",
            Mode.high_resistance: "has a high resistance",
            Mode.drifted: "has drifted high",
            Mode.shorted: "is shorted",
            Mode.shorted_turns: f"has about {self.size.middle * 100:.0f} % of its turns shorted",
            Mode.leaking: "leaks",
        }
        return f"{name} {words[self.mode]}"


def fault_modes_of(
    circuit: Circuit, sizes: dict[Mode, tuple[Range, ...]], *, everywhere: bool = False
) -> tuple[FaultMode, ...]:
    """Every single fault of the circuit, one for each size that the mode has in `sizes` (else without size).

    Insulation may fail anywhere between its two sides: `everywhere` gives a fault for each place that reads otherwise
    (at most MOST_PLACES), else one between their first nodes.
    """
    fault_modes = [
        FaultMode(part=branch.part, mode=mode, branch=index, a=branch.a, b=branch.b, size=size)
        for index, branch in enumerate(circuit.branches)
        for mode in branch.kind.fault_modes
        for size in sizes.get(mode, (NO_SIZE,))
    ]
    fault_modes += _through_barriers(circuit, sizes, MOST_PLACES if everywhere else 1)
    fault_modes += _between_pins(circuit, sizes)
    return tuple(fault_modes)


def _through_barriers(circuit: Circuit, sizes: dict[Mode, tuple[Range, ...]], most: int) -> Iterator[FaultMode]:
    for barrier in circuit.barriers:
        for a, b in _places(circuit, barrier)[:most]:
            for mode in circuit.parts[barrier.part].fault_modes:
                for size in sizes.get(mode, (NO_SIZE,)):
                    yield FaultMode(part=barrier.part, mode=mode, a=a, b=b, size=size)


def _places(circuit: Circuit, barrier: Barrier) -> list[tuple[str, str]]:
    """Where it may leak: between the first node of each side, then from each of the others to there, then the rest.

    Nodes that sound metal joins are one.
    """
    order, piece = {node: index for index, node in enumerate(circuit.nodes)}, groups_of(circuit, _is_metal(circuit))
    sides: list[list[str]] = []
    for side in (barrier.side_a, barrier.side_b):
        first: dict[int, str] = {}
        for node in sorted(side, key=order.__getitem__):
            first.setdefault(piece[node], node)
        sides.append(list(first.values()))
    one, other = sides
    return sorted(product(one, other), key=lambda ends: (ends[0] != one[0]) + (ends[1] != other[0]))


def _is_metal(circuit: Circuit) -> Callable[[Branch], bool]:
    """Whether a branch of a sound unit is a joint, a core or a closed contact, of hardly any resistance."""

    def is_metal(branch: Branch) -> bool:
        closed = branch.switch is None or circuit.switches[branch.switch].usual in branch.closed_in
        ohms = branch.resistance
        return closed and ohms is not None and branch.emf is None and ohms.nominal <= METAL

    return is_metal


def _between_pins(circuit: Circuit, sizes: dict[Mode, tuple[Range, ...]]) -> Iterator[FaultMode]:
    """Wires crossed at two pins of a connector, and bridges between neighbouring pins."""
    for plug in circuit.connectors.values():
        pins = plug.terminals
        for index, a in enumerate(pins):
            for b in pins[index + 1 :]:
                if not {a, b} <= plug.unused:
                    yield FaultMode(part=f"{a}, {b}", mode=Mode.crossed, a=a, b=b)
        for a, b in plug.neighbours:
            for size in sizes.get(Mode.bridged, (NO_SIZE,)):
                yield FaultMode(part=f"{a}, {b}", mode=Mode.bridged, a=a, b=b, size=size)


def ohms_with(fault_mode: FaultMode, sound: float, end: str) -> float:
    """The branch's resistance (ohm, infinite when open) with the fault, at the "low", "middle" or "high" end of it."""
    size: float = getattr(fault_mode.size, end)
    if fault_mode.mode is Mode.open:
        return math.inf
    if fault_mode.mode is Mode.high_resistance:
        return sound + size
    if fault_mode.mode is Mode.drifted:
        return sound * size
    if fault_mode.mode is Mode.shorted and math.isfinite(sound):
        across = max(sound, FLOOR), max(size, FLOOR)
        return max(across[0] * across[1] / sum(across), FLOOR)  # the short lies across a part that still conducts
    if fault_mode.mode is Mode.shorted_turns:
        share = {"low": fault_mode.size.high, "middle": fault_mode.size.middle, "high": fault_mode.size.low}[end]
        return max(sound * (1 - share), FLOOR)
    return max(size, FLOOR)


def with_fault_modes(circuit: Circuit, fault_modes: Iterable[FaultMode]) -> Circuit:
    """The circuit as it is with these faults, each in the middle of its range; branches keep their numbers."""
    branches = list(circuit.branches)
    for fault_mode in fault_modes:
        if fault_mode.mode is Mode.crossed:
            branches = [_crossed(branch, fault_mode.a, fault_mode.b) for branch in branches]
        elif fault_mode.branch < 0:
            branches.append(bridge_of(fault_mode))
        else:
            branches[fault_mode.branch], loops = branch_with(branches[fault_mode.branch], fault_mode)
            branches += loops
    return replace(circuit, branches=tuple(branches))


def branch_with(branch: Branch, fault_mode: FaultMode) -> tuple[Branch, list[Branch]]:
    """The branch with the fault of its own, and what closes on itself beside it: the turns that are shorted."""
    return (_parted(branch), []) if fault_mode.mode is Mode.open else _changed(branch, fault_mode)


def at_end(fault_mode: FaultMode, end: str) -> FaultMode:
    """The fault with its size fixed at the "low" or "high" end of its range."""
    size: float = getattr(fault_mode.size, end)
    return replace(fault_mode, size=Range(low=size, high=size))


def in_slices(fault_mode: FaultMode, count: int) -> tuple[FaultMode, ...]:
    """The fault with its range of size cut into so many, in equal ratios where it spans some, else evenly."""
    low, high = fault_mode.size.low, fault_mode.size.high
    if low > 0 and high > 1.5 * low:
        edges = [low * (high / low) ** (i / count) for i in range(count + 1)]
    else:
        edges = [low + (high - low) * i / count for i in range(count + 1)]
    return tuple(replace(fault_mode, size=Range(low=a, high=b)) for a, b in pairwise(edges))


def _parted(branch: Branch) -> Branch:
    """A branch that no longer joins its ends."""
    return replace(branch, kind=CONDUCTOR, resistance=None, farads=None, emf=None, core=None, working=None)


def _changed(branch: Branch, fault_mode: FaultMode) -> tuple[Branch, list[Branch]]:
    changed = replace(
        branch,
        resistance=_ohms_within(branch, fault_mode),
        working=None,
        switch=None if fault_mode.mode is Mode.shorted else branch.switch,
        kind=CONDUCTOR if branch.kind.one_way or branch.kind.charges else branch.kind,
    )
    if not branch.kind.couples or branch.emf is None or fault_mode.mode is Mode.high_resistance:
        return changed, []
    return _with_a_loop(branch, changed, fault_mode)


def _ohms_within(branch: Branch, fault_mode: FaultMode) -> Toleranced:
    """What the branch has with the fault in the middle of its range; its own tolerance stays."""
    if branch.resistance is None:
        return exactly(ohms_with(fault_mode, math.inf, "middle"))
    sound = branch.resistance
    nominal, low, high = (ohms_with(fault_mode, ohms, "middle") for ohms in (sound.nominal, sound.low, sound.high))
    return Toleranced(nominal=nominal, low=low, high=high, stated=f"{nominal:.4g}")


def _with_a_loop(branch: Branch, changed: Branch, fault_mode: FaultMode) -> tuple[Branch, list[Branch]]:
    """A winding with a short, and the winding closed on itself that loads the core with what the short takes.

    Of turns that are shorted, a share s of voltage e and copper R: s e behind s R. Of a short r across the ends: by
    Thévenin e r / (R + r) behind R r / (R + r), and its current is that of e behind R + r. Across a winding that the
    supply feeds the short takes all there is: what its fuse or the lamp leaves does not depend on a fraction of an ohm.
    """
    assert branch.emf is not None
    emf = branch.emf.nominal
    ohms = branch.resistance.nominal if branch.resistance is not None else FLOOR
    if fault_mode.mode is Mode.shorted:
        short = max(fault_mode.size.middle, FLOOR) if branch.tolerance_ranges else FLOOR
        return replace(changed, emf=exactly(emf * short / (ohms + short))), [_loop(branch, emf, ohms + short)]
    share = fault_mode.size.middle
    return replace(changed, emf=exactly(emf * (1 - share))), [_loop(branch, emf * share, ohms * share)]


def _loop(branch: Branch, emf: float, ohms: float) -> Branch:
    return replace(branch, b=branch.a, emf=exactly(emf), resistance=exactly(ohms), working=None)


def _crossed(branch: Branch, a: str, b: str) -> Branch:
    other = {a: b, b: a}
    return replace(branch, a=other.get(branch.a, branch.a), b=other.get(branch.b, branch.b))


def bridge_of(fault_mode: FaultMode) -> Branch:
    """The branch that a bridge or a leak adds."""
    ohms = max(fault_mode.size.middle, FLOOR)
    return Branch(part=fault_mode.part, kind=CONDUCTOR, a=fault_mode.a, b=fault_mode.b, resistance=exactly(ohms))


def exactly(value: float) -> Toleranced:
    """A value without tolerance."""
    return Toleranced(nominal=value, low=value, high=value, stated=f"{value:.4g}")
