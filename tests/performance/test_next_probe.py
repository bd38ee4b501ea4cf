"""How long does the next probe take on a large circuit, against the plain rank-one updates of the same matrices?

37 pins and 150 parts, all single defects. Run by tests/start.py --performance; ratios, not seconds.
"""

import importlib.util
import random
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from benchapp.wiring import Circuit, Locator, State
from benchapp.wiring.faults import shipped_fault_modes, weigh
from benchapp.wiring.solve import Corner, dead_network

pytestmark = pytest.mark.performance


def quickest(work: Callable[[], object], times: int = 5) -> float:
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def test_the_next_probe_keeps_up_with_the_hand(capsys: pytest.CaptureFixture[str]) -> None:
    spec = importlib.util.spec_from_file_location("simulator", Path(__file__).parents[1] / "wiring" / "simulator.py")
    assert spec is not None
    assert spec.loader is not None
    simulator = importlib.util.module_from_spec(spec)
    sys.modules["simulator"] = simulator
    spec.loader.exec_module(simulator)
    lines = []
    for parts in (50, 100, 150):
        circuit = simulator.made_up_circuit(parts, random.Random(2), most_pins=37)
        ours, plain = seconds_of(circuit, simulator), quickest(partial(plain_updates, circuit))
        lines.append(f"{parts} parts: next probe {ours * 1e3:.0f} ms = {ours / plain:.2f} × plain rank-one updates")
    with capsys.disabled():
        print("\n" + "\n".join(lines))
    assert ours <= 4 * plain


def seconds_of(circuit: Circuit, simulator: ModuleType) -> float:
    """Seconds from one reading to the next probe, on a unit with nothing wrong."""
    locator = Locator(circuit, shipped_fault_modes())
    first = locator.findings([]).next_probe
    assert first is not None
    clue = simulator.technician(circuit, random.Random(1), noise=True)(first.a, first.b, 0)
    return quickest(partial(locator.findings, [clue]))


def plain_updates(circuit: Circuit) -> float:
    """One rank-one update of the terminals' resistance matrix for every single defect, and nothing else."""
    network = dead_network(circuit, State(), Corner.nominal)
    rows = [network.number[name] for name in circuit.terminals]
    z = network.impedance[np.ix_(rows, rows)]
    total = 0.0
    for defect in weigh(circuit, shipped_fault_modes()).defects:
        a, b = network.number[defect.a], network.number[defect.b]
        c = network.impedance[rows, a] - network.impedance[rows, b]
        total += float((z - 0.5 * np.outer(c, c))[0, 0])
    return total
