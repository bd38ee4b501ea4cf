"""Voltages and resistances of random winding networks against ngspice, a circuit simulator of other authors.

Debian package ngspice. There a transformer is coupled inductors at 50 Hz, here it is ampere-turns that balance: two
formulations, one answer. Dead, one ampere is driven through two terminals of the same coils and resistors. Skipped with
its reason where the program is not installed; nothing is installed by a test. The run's last lines say how many
networks were compared.
"""

import random
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from benchapp.wiring.faults.fault_modes import exactly
from benchapp.wiring.model.circuit import Branch, Circuit, Load, State, Supply
from benchapp.wiring.model.registry import kind_named
from benchapp.wiring.network.live import solve_live
from benchapp.wiring.network.solve import Corner, dead_network
from tests.published.circuit_simulator import magnitudes, needs_simulator, printed

HENRY_PER_VOLT_SQUARED = 2.0  # so much that the magnetising current moves no voltage by a part in ten thousand
COUPLING = 0.999999999

pytestmark = needs_simulator


def made_up(rng: random.Random) -> tuple[Circuit, tuple[Load, ...]]:
    """A primary, two to five secondaries joined anyhow in phase or against it, and up to three loads."""
    windings = [("primary", "L", "N", 240.0, rng.uniform(20, 500))]
    nodes = ["s0"]
    for index in range(rng.randint(2, 5)):
        start, end = rng.choice(nodes), f"s{len(nodes)}"
        nodes.append(end)
        ends = (start, end) if rng.random() < 0.5 else (end, start)
        windings.append((f"w{index}", *ends, rng.uniform(3, 60), rng.uniform(0.2, 20)))
    pairs = [rng.sample(nodes, 2) for _ in range(rng.randint(0, 3))]
    loads = tuple(Load(a=a, b=b, ohms=rng.uniform(30, 2000)) for a, b in pairs)
    branches = tuple(
        Branch(
            part=n,
            kind=kind_named("winding"),
            a=a,
            b=b,
            resistance=exactly(r),
            emf=exactly(v),
            core="core",
            copper=True,
        )
        for n, a, b, v, r in windings
    )
    supply = Supply(voltage=240.0, frequency=50.0, power=10.0, live="L", neutral="N", stated="240 V")
    circuit = Circuit(
        equipment="made-up",
        title="Made up",
        nodes=("L", "N", *nodes),
        terminals=("L", "N", *nodes),
        spoken={},
        branches=branches,
        barriers=(),
        switches={},
        connectors={},
        parts={branch.part: branch.kind for branch in branches},
        part_names={},
        supply=supply,
        outputs=(),
    )
    return circuit, loads


def deck(circuit: Circuit, loads: tuple[Load, ...], mains: float) -> str:
    """The same network as a SPICE deck; node s0 and N are tied to ground by a very large resistor."""
    lines = ["* random winding network", f"Vmains L N AC {mains!r}", "Rground N 0 1", "Rtie s0 0 1g"]
    for branch in circuit.branches:
        assert branch.emf is not None
        assert branch.resistance is not None
        lines.append(f"L{branch.part} {branch.a} x{branch.part} {HENRY_PER_VOLT_SQUARED * branch.emf.nominal**2!r}")
        lines.append(f"R{branch.part} x{branch.part} {branch.b} {branch.resistance.nominal!r}")
    names = [branch.part for branch in circuit.branches]
    for index, one in enumerate(names):
        lines += [f"K{one}{other} L{one} L{other} {COUPLING}" for other in names[index + 1 :]]
    lines += [f"Rload{index} {load.a} {load.b} {load.ohms!r}" for index, load in enumerate(loads)]
    shown = " ".join(f"vm({node},s0)" for node in circuit.nodes if node.startswith("s") and node != "s0")
    return "\n".join([*lines, ".ac lin 1 50 50", f".print ac {shown}", ".end", ""])


@pytest.mark.parametrize("seed", range(40))
def test_a_random_winding_network_reads_what_the_simulator_reads(
    seed: int, tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    rng = random.Random(seed)
    circuit, loads = made_up(rng)
    assert circuit.supply is not None
    mains = rng.uniform(200, 260)
    theirs = magnitudes(deck(circuit, loads, mains), tmp_path)
    ours = solve_live(circuit, circuit.supply, mains, state=State(), loads=loads)
    nodes = [node for node in circuit.nodes if node.startswith("s") and node != "s0"]
    assert len(theirs) == len(nodes)
    for node, volts in zip(nodes, theirs, strict=True):
        between = ours.between(node, "s0")
        assert between is not None
        assert abs(between) == pytest.approx(volts, rel=2e-3, abs=2e-3)
    record_property("compared with ngspice, voltages of networks", 1)


def dead_deck(circuit: Circuit, loads: tuple[Load, ...], pair: tuple[str, str]) -> str:
    """The same coils and loads without a supply, one ampere from the second terminal to the first."""
    lines = ["* resistance between two terminals", f"Ione {pair[1]} {pair[0]} DC 1", f"Rground {pair[1]} 0 1"]
    for branch in circuit.branches:
        assert branch.resistance is not None
        lines.append(f"R{branch.part} {branch.a} {branch.b} {branch.resistance.nominal!r}")
    lines += [f"Rload{index} {load.a} {load.b} {load.ohms!r}" for index, load in enumerate(loads)]
    lines += [f"Rtie{index} {node} 0 1e12" for index, node in enumerate(circuit.nodes)]
    return "\n".join([*lines, ".op", f".print op v({pair[0]},{pair[1]})", ".end", ""])


@pytest.mark.parametrize("seed", range(40))
def test_a_random_winding_network_has_the_resistances_of_the_simulator(
    seed: int, tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    rng = random.Random(1000 + seed)
    circuit, loads = made_up(rng)
    across = tuple(
        Branch(part=f"load{index}", kind=kind_named("resistor"), a=load.a, b=load.b, resistance=exactly(load.ohms))
        for index, load in enumerate(loads)
    )
    network = dead_network(
        replace(circuit, branches=(*circuit.branches, *across)), State(), Corner.nominal, temperature=20.0
    )
    pair = tuple(rng.sample([node for node in circuit.nodes if node.startswith("s")], 2))
    said = printed(dead_deck(circuit, loads, pair), tmp_path)
    found = re.search(r"^v\(.*?\) = (\S+)|^0\t(\S+)\t?$", said, re.MULTILINE)
    assert found, said
    assert network.resistance(*pair) == pytest.approx(float(found[1] or found[2]), rel=1e-5, abs=1e-6)
    record_property("compared with ngspice, resistances of networks", 1)
