"""How long does the next probe take on a large circuit, and how much memory, against plain numpy on the same matrices?

37 pins and 150 parts, all single faults. Run by tests/start.py --performance; ratios, and the one bound in seconds
and megabytes that is promised.
"""

import random
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np
import pytest

from benchapp.wiring.faults.weights import shipped_fault_weights, weigh
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.solve import Corner, dead_network
from benchapp.wiring.search.diagnoser import Diagnoser
from tests.wiring.simulator import made_up_circuit, technician

pytestmark = pytest.mark.performance

ROOT = Path(__file__).parents[2]
AT_MOST_SECONDS, AT_MOST_MEGABYTES = 0.1, 200.0
SEARCH = """\
import random
def peak():  # getrusage would count what the process was before it became this one
    return next(int(line.split()[1]) / 1024 for line in open("/proc/self/status") if line.startswith("VmHWM"))
import numpy
print(peak())
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.search.diagnoser import Diagnoser
from tests.wiring.simulator import made_up_circuit, technician
import benchapp.wiring.search.diagnoser
print(peak())
circuit = made_up_circuit(150, random.Random(2), most_pins=37)
diagnoser, observations = Diagnoser(circuit, shipped_fault_weights()), []
read = technician(circuit, random.Random(1), noise=True)
for count in range(4):
    probe = diagnoser.diagnosis(observations).next_probe
    observations.append(read(probe.a, probe.b, count))
print(peak())
"""


def quickest(work: Callable[[], object], times: int = 5) -> float:
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def test_the_next_probe_keeps_up_with_the_hand(capsys: pytest.CaptureFixture[str]) -> None:
    lines = []
    for parts in (50, 100, 150):
        circuit = made_up_circuit(parts, random.Random(2), most_pins=37)
        plain = quickest(partial(plain_updates, circuit))
        for observations, ours in seconds_of(circuit).items():
            lines.append(
                f"{parts} parts, after {observations} readings: next probe {ours * 1e3:.0f} ms = {ours / plain:.2f} × "
                "plain rank-one updates"
            )
    with capsys.disabled():
        print("\n" + "\n".join(lines))
    assert ours <= 4 * plain
    assert ours <= AT_MOST_SECONDS


def seconds_of(circuit: Circuit) -> dict[int, float]:
    """Seconds from a new reading to the next probe, after one and after four readings, on a unit with nothing wrong."""
    diagnoser = Diagnoser(circuit, shipped_fault_weights())
    read, observations, taken = technician(circuit, random.Random(1), noise=True), [], {}
    for count in range(4):
        probe = diagnoser.diagnosis(observations).next_probe
        assert probe is not None
        observations.append(read(probe.a, probe.b, count))
        if count in (0, 3):
            taken[count + 1] = quickest(partial(diagnoser.diagnosis, list(observations)))
    return taken


def plain_updates(circuit: Circuit) -> float:
    """One rank-one update of the terminals' resistance matrix for every single fault, and nothing else."""
    network = dead_network(circuit, State(), Corner.nominal)
    rows = [network.number[name] for name in circuit.terminals]
    z = network.impedance[np.ix_(rows, rows)]
    total = 0.0
    for fault_mode in weigh(circuit, shipped_fault_weights()).fault_modes:
        a, b = network.number[fault_mode.a], network.number[fault_mode.b]
        c = network.impedance[rows, a] - network.impedance[rows, b]
        total += float((z - 0.5 * np.outer(c, c))[0, 0])
    return total


def test_the_search_stays_small(capsys: pytest.CaptureFixture[str]) -> None:
    """The peak of a process of its own: what Python and numpy take alone, with the program loaded, and searching."""
    done = subprocess.run([sys.executable, "-c", SEARCH], cwd=ROOT, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    bare, loaded, searching = (float(line) for line in done.stdout.split())
    with capsys.disabled():
        print(
            f"\n150 parts at 37 pins, peak memory: Python with numpy {bare:.0f} MB, program loaded {loaded:.0f} MB, "
            f"after four readings {searching:.0f} MB"
        )
    assert searching < AT_MOST_MEGABYTES
