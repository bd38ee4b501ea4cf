"""A fault as a small update of the solved circuit: the same voltages as the faulty circuit solved as a whole."""

import random
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

from benchapp.actions.standalone.circuits import read_circuit
from benchapp.wiring.faults.fault_modes import FaultMode, at_end, with_fault_modes
from benchapp.wiring.faults.live_change import SolvedCircuit
from benchapp.wiring.faults.weights import shipped_fault_weights, weigh
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.live import solve_live, supply_of
from tests.wiring.made_up_equipment import equipment_text

MAINS = 243.0
SETTLED = 1e-3
"""of the volts or of one volt: the whole solution is rounded by a tenth of that where megohms stand beside joints"""


def circuits(folder: Path) -> list[Circuit]:
    made = []
    for seed in range(8):
        path = folder / f"made-up-{seed}.yaml"
        path.write_text(equipment_text(random.Random(seed), path.stem), encoding="utf-8")
        made.append(read_circuit(str(path)))
    return [*made, *(read_circuit(name) for name in ("tb-mu1", "tb-mu2", "tb-rec1"))]


def whole(circuit: Circuit, faults: tuple[FaultMode, ...]) -> tuple[np.ndarray, np.ndarray]:
    solved = solve_live(with_fault_modes(circuit, faults), supply_of(circuit), MAINS, state=State())
    names = circuit.terminals
    return np.array([solved.voltages[n] for n in names]), np.array([solved.groups[n] for n in names])


def same(one: tuple[np.ndarray, np.ndarray], other: tuple[np.ndarray, np.ndarray]) -> bool:
    """The same volts between every two terminals that hang together, and the same ones hanging together."""
    ties = [groups[:, None] == groups[None, :] for _, groups in (one, other)]
    volts = [np.abs(phasors[:, None] - phasors[None, :]) for phasors, _ in (one, other)]
    close = np.abs(volts[0] - volts[1]) <= SETTLED * np.maximum(1.0, volts[1])
    return bool(np.array_equal(*ties) and np.all(close | ~ties[1]))


def test_every_single_fault_reads_as_the_faulty_circuit_solved_as_a_whole(tmp_path: Path) -> None:
    counted: Counter[bool] = Counter()
    for circuit in circuits(tmp_path):
        base = SolvedCircuit(circuit, State(), MAINS)
        assert same(base.as_it_is(), whole(circuit, ()))
        for fault_mode in weigh(circuit, shipped_fault_weights()).fault_modes:
            for end in ("low", "high"):
                sized = at_end(fault_mode, end)
                found = base.with_fault_mode(sized)
                counted[found is not None] += 1
                assert found is None or same(found, whole(circuit, (sized,))), (circuit.title, sized)
    assert counted[True] > 5 * counted[False]


@pytest.mark.parametrize("seed", range(4))
def test_a_second_fault_reads_as_both_solved_together(seed: int) -> None:
    circuit, rng = read_circuit("tb-mu1"), random.Random(seed)
    fault_modes = weigh(circuit, shipped_fault_weights()).fault_modes
    for first in rng.sample(fault_modes, 12):
        base = SolvedCircuit(with_fault_modes(circuit, (at_end(first, "low"),)), State(), MAINS)
        for second in (one for one in rng.sample(fault_modes, 12) if one.part != first.part):
            both = (at_end(first, "low"), at_end(second, "low"))
            found = base.with_fault_mode(both[1])
            assert found is None or same(found, whole(circuit, both)), both
