"""Made-up units with made-up faults, and a technician who reads them with an imperfect meter.

Nothing here comes from the diagnoser: sizes of faults lie off its grid, every part has its own value inside its
tolerance, leads and contacts add their ohms, and one reading in some runs is a slip. Readings come from the rebuilt
network.
"""

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.dictionary import OVER_RANGE
from benchapp.wiring.faults.fault_modes import FaultMode, exactly, fault_modes_of, with_fault_modes
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.assumptions import LINK, OPEN_AT_LEAST
from benchapp.wiring.model.circuit import Barrier, Branch, Circuit, Plug, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.model.registry import kind_named
from benchapp.wiring.network.solve import Corner, dead_network
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.diagnosis import Diagnosis
from benchapp.wiring.search.observations import Observation

SIZES = {
    Mode.high_resistance: lambda r: math.exp(r.uniform(math.log(0.3), math.log(2e5))),  # a joint partly broken too
    Mode.shorted_turns: lambda r: r.uniform(0.02, 0.98),
    Mode.leaking: lambda r: math.exp(r.uniform(math.log(200), math.log(5e5))),
    Mode.bridged: lambda r: math.exp(r.uniform(math.log(0.01), math.log(5e3))),
    Mode.drifted: lambda r: math.exp(r.uniform(math.log(1.6), math.log(50))),
    Mode.shorted: lambda r: r.uniform(0, 0.5),
}
RANGES = shipped_fault_weights().ranges()
SIZES_TRIED = 400


def made_up_unit(circuit: Circuit, rng: random.Random) -> Circuit:
    """A unit of the design: every resistance somewhere inside its tolerance."""
    branches = []
    for branch in circuit.branches:
        spread = branch.resistance
        if spread is not None:
            warm = rng.uniform(0.98, 1.05) if branch.copper else 1.0
            branch = replace(branch, resistance=exactly(rng.uniform(spread.low, spread.high) * warm))
        branches.append(branch)
    return replace(circuit, branches=tuple(branches))


def made_up_fault(circuit: Circuit, rng: random.Random) -> FaultMode:
    """Any single fault of the circuit, of a size that no grid knows."""
    fault_mode = rng.choice(fault_modes_of(circuit, {}))
    size = SIZES[fault_mode.mode](rng) if fault_mode.mode in SIZES else 0.0
    return replace(fault_mode, size=Range(low=size, high=size))


def technician(
    faulty: Circuit, rng: random.Random, *, noise: bool, slip_at: int = -1
) -> Callable[[str, str, int], Observation]:
    """Reads any pair: leads of 0.1 to 0.5 ohm, scattering contacts, a meter of 0.8 % + 0.1 ohm, perhaps one slip."""
    network = dead_network(faulty, State(), Corner.nominal, temperature=20.0)
    leads = rng.uniform(0.1, 0.5) if noise else 0.0

    def read(a: str, b: str, count: int) -> Observation:
        ends = rng.sample(faulty.terminals, 2) if count == slip_at and rng.random() < 0.5 else (a, b)
        ohms = network.resistance(*ends)
        if noise and math.isfinite(ohms):
            ohms = abs(ohms * (1 + rng.uniform(-0.008, 0.008)) + leads + rng.uniform(0, 0.1) + rng.uniform(-0.1, 0.1))
        if count == slip_at and tuple(ends) == (a, b) and math.isfinite(ohms):
            ohms *= rng.choice((0.1, 10.0))
        return Observation(a=a, b=b, kind=Kind.resistance, value=None if ohms > OVER_RANGE else ohms)

    return read


def search(
    diagnoser: Diagnoser,
    read: Callable[[str, str, int], Observation],
    before: Sequence[Observation] = (),
    most: int = 40,
) -> tuple[Diagnosis, list[Observation]]:
    """Follow the diagnoser's advice until it has no more, once taking again what nothing explains."""
    observations = list(before)
    again, count = True, 0
    while count < most:
        diagnosis = diagnoser.diagnosis(observations)
        following = diagnosis.next_probe
        if following is not None:
            read_now = read(following.a, following.b, count)
            before_it = [observation for observation in observations if observation.pair == read_now.pair]
            observations = [observation for observation in observations if observation.pair != read_now.pair]
            observations.append(taken_again(before_it[0], read_now) if before_it else read_now)
            count += 1
        elif diagnosis.inconsistent and again:
            for odd in diagnosis.inconsistent:
                observations[observations.index(odd)] = taken_again(odd, read(odd.a, odd.b, count))
                count += 1
            again = False
        else:
            break
    return diagnosis, observations


def taken_again(first: Observation, second: Observation) -> Observation:
    """The second reading; it counts twice when it came out like the first."""
    if first.value is None or second.value is None:
        alike = first.value is second.value
    else:
        alike = math.isclose(first.value, second.value, rel_tol=0.03, abs_tol=0.4)
    return replace(second, times=2) if alike else second


def can_be_seen(circuit: Circuit, fault_mode: FaultMode) -> bool:
    """Whether some pair reads outside what any sound unit could show, by more than meter and leads blur."""
    faulty = readings(with_fault_modes(circuit, [fault_mode]), Corner.nominal)
    low, high = readings(circuit, Corner.low), readings(circuit, Corner.high)
    return bool(np.any((faulty > high * 1.03 + 1.0) | (faulty < low * 0.97 - 1.0)))


def readings(circuit: Circuit, corner: Corner) -> np.ndarray:
    """Ohm between every two terminals in the corner, rebuilt from the whole network; ten times over range for OL."""
    network = dead_network(circuit, State(), corner)
    rows = np.array([network.number[name] for name in circuit.terminals])
    z, group = network.impedance[np.ix_(rows, rows)], network.group[rows]
    first, second = np.triu_indices(len(rows), k=1)
    ohms = z[first, first] + z[second, second] - 2 * z[first, second]
    return np.minimum(np.where(group[first] == group[second], ohms, np.inf), 10 * OVER_RANGE)


def can_be_split(circuit: Circuit, one: FaultMode, other: FaultMode) -> bool:
    """Whether, with the one, some pair reads otherwise than with the other of whatever size its kind may have.

    The size that a search holds likeliest for the other is not asked: it may be wrong, and the part no less alike.
    """
    low, high = (readings(with_fault_modes(circuit, [one]), corner) for corner in (Corner.low, Corner.high))
    for size in _sizes_of(other):
        of_size = replace(other, size=Range(low=size, high=size))
        least, most = (readings(with_fault_modes(circuit, [of_size]), corner) for corner in (Corner.low, Corner.high))
        least, most = np.minimum(least, most), np.maximum(least, most)
        if not np.any((low > most * 1.03 + 1.0) | (high < least * 0.97 - 1.0)):
            return False
    return True


def _sizes_of(fault_mode: FaultMode) -> list[float]:
    """Sizes closer to each other than a meter tells apart, from the smallest to the largest that the search knows."""
    ranges = RANGES.get(fault_mode.mode, ())
    if not ranges:
        return [fault_mode.size.low]
    steps = np.geomspace(max(ranges[0].low, 0.01), ranges[-1].high, SIZES_TRIED)
    return sorted({*steps.tolist(), fault_mode.size.low, fault_mode.size.high})


def reported_parts(diagnosis: Diagnosis) -> tuple[str, ...]:
    """What the technician is told: the found part, else the group that no probe can tell apart."""
    return (*diagnosis.found, *diagnosis.ambiguity_group)


def made_up_circuit(parts: int, rng: random.Random, most_pins: int = 1000) -> Circuit:
    """A design of about so many parts: windings and resistors wired to pins, some nodes shared, one pin free.

    Once the pins are used up, further parts join nodes that are there already.
    """
    branches: list[Branch] = []
    pins: list[str] = []
    inner: list[str] = []
    while len(branches) < parts:
        shared = bool(inner) and rng.random() < 0.4
        start = rng.choice(inner) if shared else f"node{len(inner)}"
        full = len(pins) >= most_pins - 2
        start, shared = (rng.choice(inner), True) if full else (start, shared)
        ends = [start, rng.choice([n for n in inner if n != start]) if full else f"node{len(inner) + 1}"]
        winding = rng.random() < 0.5
        ohms = math.exp(rng.uniform(math.log(0.8), math.log(2000)))
        by = 0.15 if winding else 0.05
        spread = replace(exactly(ohms), low=ohms * (1 - by), high=ohms * (1 + by))
        kind = kind_named("winding") if winding else kind_named("resistor")
        branches.append(
            Branch(part=f"p{len(branches)}", kind=kind, a=ends[0], b=ends[1], resistance=spread, copper=winding)
        )
        for end in () if full else ends[1:] if shared else ends:
            inner.append(end)
            pins.append(f"pin.{len(pins) + 1}")
            branches.append(Branch(part=f"j{len(pins)}", kind=kind_named("link"), a=end, b=pins[-1], resistance=LINK))
    pins.append(f"pin.{len(pins) + 1}")
    return _circuit(branches, tuple(pins))


def _circuit(branches: list[Branch], pins: tuple[str, ...]) -> Circuit:
    nodes = tuple(dict.fromkeys((*pins, "case", *(n for b in branches for n in (b.a, b.b)))))
    plug = Plug(
        name="pin",
        title="Made up",
        terminals=pins,
        unused=frozenset({pins[-1]}),
        mains=False,
        neighbours=tuple(pairwise(pins)),
    )
    wall = Barrier(
        part="wall", side_a=frozenset(pins[:-1]), side_b=frozenset({"case"}), at_least=OPEN_AT_LEAST, stated="made up"
    )
    kinds = {branch.part: branch.kind for branch in branches} | {"wall": kind_named("barrier")}
    return Circuit(
        equipment="made-up",
        title="Made up",
        nodes=nodes,
        terminals=(*pins, "case"),
        spoken={},
        branches=tuple(branches),
        barriers=(wall,),
        switches={},
        connectors={"pin": plug},
        parts=kinds,
        part_names={part: part for part in kinds},
        supply=None,
        outputs=(),
    )
