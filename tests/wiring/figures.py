"""How well does the search do? Faults put into circuits one by one, found by a made-up technician, and counted.

`python3 -m tests.wiring.figures --circuits 200` prints the whole count; tests/performance runs a smaller one.
"""

import argparse
import heapq
import math
import random
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import mean

import numpy as np

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of, with_fault_modes
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.solve import Corner
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.diagnosis import Diagnosis
from tests.wiring.simulator import (
    SIZES,
    can_be_seen,
    can_be_split,
    made_up_circuit,
    made_up_unit,
    readings,
    reported_parts,
    search,
    technician,
)

MODES = shipped_fault_weights()
MOST_AS_FOUND = 3
"""parts that may be left together and still count as found"""
WAYS = ("on the grid", "off the grid", "with a slip in a fifth")


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One fault and what came of the search for it."""

    circuit: Circuit
    fault_mode: FaultMode
    seen: bool  # some reading between terminals could show it
    right: bool = False
    group: int = 0  # parts that are left and cannot be told apart
    probes: int = 0


def shipped_circuits() -> dict[str, Circuit]:
    folders = {
        name: sorted((shipped_folder("resources") / name).glob("*.yaml")) for name in ("connectors", "equipment")
    }
    models = [build_model(read_document(path), Connector) for path in folders["connectors"]]
    connectors = {model.connector: model for model in models}
    equipment = [build_model(read_document(path), Equipment) for path in folders["equipment"]]
    return {model.equipment: compile_circuit(model, connectors) for model in equipment}


def made_up_circuits(count: int, seed: int) -> list[Circuit]:
    """Designs of 5 to 40 parts."""
    rng = random.Random(seed)
    return [made_up_circuit(rng.randint(5, 40), rng) for _ in range(count)]


def faults_of(circuit: Circuit, rng: random.Random, most: int | None = None) -> list[FaultMode]:
    """Every single fault of every part, with a size that no grid knows; of crossed and bridged pins as many as parts.

    With `most`, a random choice of so many.
    """
    every = fault_modes_of(circuit, {})
    of_parts = [fault_mode for fault_mode in every if fault_mode.mode not in (Mode.crossed, Mode.bridged)]
    of_pins = [fault_mode for fault_mode in every if fault_mode.mode in (Mode.crossed, Mode.bridged)]
    chosen = of_parts + rng.sample(of_pins, min(len(of_pins), len(circuit.parts)))
    chosen = chosen if most is None else rng.sample(chosen, min(most, len(chosen)))
    return [_sized(fault_mode, rng) for fault_mode in chosen]


def _sized(fault_mode: FaultMode, rng: random.Random) -> FaultMode:
    size = SIZES[fault_mode.mode](rng) if fault_mode.mode in SIZES else 0.0
    return replace(fault_mode, size=Range(low=size, high=size))


def on_the_grid(fault_mode: FaultMode) -> FaultMode:
    """The same fault with the size in the middle of the range of the grid that holds it."""
    ranges = MODES.ranges().get(fault_mode.mode, ())
    near = min(ranges, key=lambda one: abs(math.log((one.middle + 0.1) / (fault_mode.size.low + 0.1))), default=None)
    return fault_mode if near is None else replace(fault_mode, size=Range(low=near.middle, high=near.middle))


def run_one(diagnoser: Diagnoser, fault_mode: FaultMode, rng: random.Random, *, noise: bool, slips: bool) -> Run:
    """Put the fault into a unit of the design, follow the search to its end, and see whether it names the part."""
    circuit = diagnoser.circuit
    if not can_be_seen(circuit, fault_mode):
        return Run(circuit=circuit, fault_mode=fault_mode, seen=False)
    unit = made_up_unit(circuit, rng) if noise else circuit
    slip_at = rng.randrange(4) if slips and rng.random() < 0.2 else -1
    read = technician(with_fault_modes(unit, [fault_mode]), rng, noise=noise, slip_at=slip_at)
    found, observations = search(diagnoser, read)
    taken = sum(observation.times for observation in observations)
    return Run(
        circuit=circuit,
        fault_mode=fault_mode,
        seen=True,
        right=is_right(circuit, fault_mode, found),
        group=len(reported_parts(found)),
        probes=taken,
    )


def is_right(circuit: Circuit, fault_mode: FaultMode, found: Diagnosis) -> bool:
    """Named, and among at most three parts, or among more that no probe at all could split from it."""
    named = reported_parts(found)
    if fault_mode.part not in named:
        return False
    if len(named) <= MOST_AS_FOUND:
        return True
    rivals = [
        one.faults[0] for one in found.suspects if one.part in named and one.part != fault_mode.part and one.faults
    ]
    return not any(can_be_split(circuit, fault_mode, rival) for rival in rivals)


def runs_over(circuits: Iterable[Circuit], way: str, seed: int, most: int | None = None) -> Iterator[Run]:
    """Every single fault of these circuits, searched for in one of the WAYS."""
    rng = random.Random(seed)
    for circuit in circuits:
        diagnoser = Diagnoser(circuit, MODES)
        for fault_mode in faults_of(circuit, rng, most):
            put = on_the_grid(fault_mode) if way == WAYS[0] else fault_mode
            yield run_one(diagnoser, put, rng, noise=way != WAYS[0], slips=way == WAYS[2])


def least_probes(circuit: Circuit, runs: Sequence[Run]) -> tuple[float, float]:
    """Bounds on the mean number of probes that tell the faulty parts of these runs apart: Shannon's and Huffman's.

    Every fault is as likely as the others; one probe tells at most as many apart as the pair with the most different
    readings does. Huffman 1952, Proc. IRE 40, 1098: no code of that many symbols is shorter on average.
    """
    counts: dict[str, int] = {}
    for run in runs:
        counts[run.fault_mode.part] = counts.get(run.fault_mode.part, 0) + 1
    shares = [count / len(runs) for count in counts.values()]
    if len(shares) < 2:
        return 0.0, 0.0
    table = np.array([readings(with_fault_modes(circuit, [run.fault_mode]), Corner.nominal) for run in runs])
    told = np.round(np.log(table + 1.0) / math.log(1.1))
    symbols = max(2, max(len(np.unique(column)) for column in told.T))
    entropy = -sum(share * math.log(share) for share in shares)
    return entropy / math.log(symbols), huffman_mean(shares, symbols)


def huffman_mean(shares: Sequence[float], symbols: int) -> float:
    """Mean length of the shortest code words of `symbols` letters for these chances."""
    heap = list(shares) + [0.0] * ((1 - len(shares)) % (symbols - 1))
    heapq.heapify(heap)
    total = 0.0
    while len(heap) > 1:
        joined = sum(heapq.heappop(heap) for _ in range(min(symbols, len(heap))))
        total += joined
        heapq.heappush(heap, joined)
    return total


def summary(name: str, circuits: Sequence[Circuit], runs: Sequence[Run]) -> str:
    """One line: found right, groups, what no reading shows, probes, bounds."""
    seen = [run for run in runs if run.seen]
    if not seen:
        return f"{name}: {len(runs)} faults, none can be seen"
    groups = [run.group for run in seen if run.right]
    bounds = []
    for circuit in circuits:
        own = [run for run in seen if run.circuit is circuit]
        if own and len(circuits) < 20:
            bounds.append((len(own), *least_probes(circuit, own)))
    total = sum(count for count, _, _ in bounds)
    least = [sum(count * bound[i] for count, *bound in bounds) / total for i in (0, 1)] if total else []
    told = f", bound {least[0]:.2f} (Shannon) {least[1]:.2f} (Huffman)" if least else ""
    sizes = ", ".join(f"{size}: {groups.count(size) / len(groups):.1%}" for size in sorted(set(groups)))
    return (
        f"{name}: {len(runs)} faults, {1 - len(seen) / len(runs):.1%} no reading shows; of the rest "
        f"{mean(run.right for run in seen):.1%} found right (parts left together {sizes}), "
        f"{mean(run.probes for run in seen):.2f} probes{told}"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--circuits", type=int, default=20, help="made-up circuits of 5 to 40 parts")
    parser.add_argument("--skip", type=int, default=0, help="of these leave out so many at the start")
    parser.add_argument("--most", type=int, default=None, help="faults of each circuit; all unless given")
    parser.add_argument("--ways", nargs="*", type=int, default=[0, 1, 2])
    parser.add_argument("--misses", action="store_true", help="name every fault that was not found")
    asked = parser.parse_args()
    shipped, made_up = list(shipped_circuits().values()), made_up_circuits(asked.circuits, 1)[asked.skip :]
    for way in (WAYS[number] for number in asked.ways):
        for name, circuits in [] if asked.skip else [(one.equipment, [one]) for one in shipped]:
            show(f"{name}, {way}", circuits, way, asked)
        if made_up:
            show(f"{len(made_up)} made-up circuits, {way}", made_up, way, asked)


def show(name: str, circuits: Sequence[Circuit], way: str, asked: argparse.Namespace) -> None:
    runs = list(runs_over(circuits, way, 5, asked.most))
    print(summary(name, circuits, runs), flush=True)
    for run in runs if asked.misses else ():
        if run.seen and not run.right:
            one = run.fault_mode
            size = f"{one.size.low:.4g}"
            print(f"   missed: {one.part} {one.mode} {size} after {run.probes}, {run.group} left")


if __name__ == "__main__":
    sys.exit(main())
