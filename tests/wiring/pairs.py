"""Two faults at once: which pairs can be told apart, and how often both are among the first three suspects.

`python3 -m tests.wiring.pairs --circuits 50` prints the count; test_pairs.py holds a smaller one to its bar.
"""

import argparse
import random
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from statistics import mean

import numpy as np

from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of, with_fault_modes
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.solve import Corner
from benchapp.wiring.probing.probes import probe_plan
from benchapp.wiring.search.diagnoser import Diagnoser
from tests.wiring.figures import faults_of
from tests.wiring.simulator import can_be_seen, made_up_circuit, made_up_unit, readings, search, technician

MODES = shipped_fault_weights()
FIRST = 3  # suspects among which both must be


def pairs_of(circuit: Circuit, rng: random.Random, count: int) -> list[tuple[FaultMode, FaultMode]]:
    """Pairs of faults that can be told apart: each is seen beside the other, and nothing else reads like it."""
    single = [one for one in faults_of(circuit, rng) if one.mode not in (Mode.crossed, Mode.bridged)]
    seen = [fault_mode for fault_mode in single if can_be_seen(circuit, fault_mode)]
    alone = told_from_all_others(circuit, seen)
    every = [pair for pair in combinations(alone, 2) if apart(*pair) and both_show(circuit, *pair)]
    return rng.sample(every, min(count, len(every)))


def told_from_all_others(circuit: Circuit, fault_modes: Sequence[FaultMode]) -> list[FaultMode]:
    """Those that some pair of terminals tells from every fault of every other part, of whatever size."""
    others = [one for one in fault_modes_of(circuit, MODES.ranges()) if one.mode not in (Mode.crossed, Mode.bridged)]
    boxes = [(other.part, *box_of(circuit, other)) for other in others]
    kept = []
    for fault_mode in fault_modes:
        low, high = box_of(circuit, fault_mode)
        if all(
            part == fault_mode.part or bool(np.any((low > most * 1.03 + 1.0) | (high < least * 0.97 - 1.0)))
            for part, least, most in boxes
        ):
            kept.append(fault_mode)
    return kept


def box_of(circuit: Circuit, fault_mode: FaultMode) -> tuple[np.ndarray, np.ndarray]:
    """Lowest and highest reading between every two terminals over tolerances and the size of the fault."""
    ends = [
        readings(with_fault_modes(circuit, [replace(fault_mode, size=Range(low=size, high=size))]), corner)
        for size in dict.fromkeys((fault_mode.size.low, fault_mode.size.high))
        for corner in (Corner.low, Corner.high)
    ]
    return np.min(ends, axis=0), np.max(ends, axis=0)


def apart(one: FaultMode, other: FaultMode) -> bool:
    return one.part != other.part and not {one.a, one.b} & {other.a, other.b}


def both_show(circuit: Circuit, one: FaultMode, other: FaultMode) -> bool:
    """Whether each still moves some reading once the other is there: behind an open joint nothing can be told."""
    return all(
        can_be_seen(with_fault_modes(circuit, [first]), second) for first, second in ((one, other), (other, one))
    )


def searched(
    circuits: int, most_parts: int, of_each: int, seed: int
) -> Iterator[tuple[tuple[FaultMode, FaultMode], bool]]:
    """Pairs put into made-up circuits, whether the search has both among its first suspects when it ends.

    The technician takes the whole plan, then follows the search; meter, leads and parts err.
    """
    rng, made_up = random.Random(seed), random.Random(seed + 1)
    for circuit in (made_up_circuit(made_up.randint(5, most_parts), made_up) for _ in range(circuits)):
        diagnoser, plan = Diagnoser(circuit, MODES), probe_plan(circuit, "pin")
        for two in pairs_of(circuit, rng, of_each):
            read = technician(with_fault_modes(made_up_unit(circuit, rng), two), rng, noise=True)
            found, _ = search(diagnoser, read, [read(probe.a, probe.b, 99) for probe in plan])
            yield two, {one.part for one in two} <= {suspect.part for suspect in found.suspects[:FIRST]}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--circuits", type=int, default=50, help="made-up circuits of 5 to 20 parts")
    parser.add_argument("--of-each", type=int, default=6, help="pairs put into each")
    parser.add_argument("--misses", action="store_true", help="name every pair that was not found")
    asked = parser.parse_args()
    right = []
    for two, found in searched(asked.circuits, 20, asked.of_each, 21):
        right.append(found)
        if asked.misses and not found:
            print("   missed:", " and ".join(f"{one.part} {one.mode} {one.size.low:.4g}" for one in two), flush=True)
    print(f"{len(right)} pairs: {mean(right):.1%} with both among the first {FIRST} suspects")


if __name__ == "__main__":
    sys.exit(main())
