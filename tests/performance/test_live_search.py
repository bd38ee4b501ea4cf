"""How long does it take to weigh a first live reading on a large circuit, against solving every faulty circuit whole?

37 pins and 150 parts, 24 windings among them, all single faults. Run by tests/start.py --performance.
"""

import random
import time
from pathlib import Path

import pytest

from benchapp.actions.standalone.circuits import read_circuit
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.fault_modes import with_fault_modes
from benchapp.wiring.faults.weights import shipped_fault_weights, weigh
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.live import solve_live, supply_of
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.live_table import LiveChoice
from benchapp.wiring.search.observations import Observation
from tests.desktop.large import write_workshop

pytestmark = pytest.mark.performance

MAINS, SAMPLE, TIMES = 243.0, 100, 5
AT_MOST_SECONDS = 1.0
WINDINGS, WIRES, PARTS = 24, 35, 150
HEAD = """\
equipment: large-live
title: Large unit with mains
class: II
supply: {voltage: 240 V, frequency: 50 Hz, power: 100 VA}
cord: {length: 2 m, area: 0.75 mm², cores: 2}
plug: rewirable
connectors: {plug: gb-13a-plug, socket: rows-37}
circuit:
  - {fuse: plug-fuse, between: [plug.L, cord.L], rating: 3 A, place: plug}
  - {link: cord-live, between: [cord.L, mains.L], cord core: true}
  - {link: cord-neutral, between: [plug.N, mains.N], cord core: true}
  - {winding: primary, between: [mains.L, mains.N], rated: 240 V supply, resistance: 40 ohm ± 10 %}
  - {barrier: wall, between: [mains, socket], at least: 2 Mohm}
"""


def large_live(folder: Path) -> Circuit:
    """A wire to each pin, a chain of windings and resistors along them, and resistors across."""
    rng = random.Random(4)
    parts = [f"  - {{link: wire-{n}, between: [n.{n}, socket.{n}]}}" for n in range(1, WIRES + 1)]
    for n in range(1, WIRES):
        rated = f"rated: {rng.choice([3, 6, 9, 12])} V off load, resistance: {rng.choice([0.5, 2, 4])} ohm"
        value = f"winding: w{n}, {rated}" if n <= WINDINGS else f"resistor: r{n}, resistance: 220 ohm"
        parts.append(f"  - {{{value}, between: [n.{n}, n.{n + 1}]}}")
    while len(parts) < PARTS - HEAD.count("  - "):
        a, b = sorted(rng.sample(range(1, WIRES + 1), 2))
        if b - a > 1:
            value = f"{rng.choice([470, 1000, 2200])} ohm"
            parts.append(f"  - {{resistor: across-{len(parts)}, between: [n.{a}, n.{b}], resistance: {value}}}")
    path = write_workshop(folder) / "large-live.yaml"
    path.write_text(HEAD + "\n".join(parts) + "\n", encoding="utf-8")
    return read_circuit(str(path))


def test_a_first_live_reading_is_weighed_within_a_second(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    circuit = large_live(tmp_path)
    pins = tuple(terminal for terminal in circuit.terminals if terminal.startswith("socket."))
    observation = Observation(a=pins[0], b=pins[7], kind=Kind.voltage, value=40.0, uncertainty=0.05, mains=MAINS)
    taken = min(_first_diagnosis(circuit, observation, pins) for _ in range(TIMES))
    fault_modes = weigh(circuit, shipped_fault_weights()).fault_modes
    began = time.perf_counter()
    for fault_mode in random.Random(1).sample(fault_modes, SAMPLE):
        solve_live(with_fault_modes(circuit, [fault_mode]), supply_of(circuit), MAINS, state=State())
    whole = (time.perf_counter() - began) / SAMPLE * len(fault_modes)
    with capsys.disabled():
        print(
            f"\n{len(circuit.parts)} parts, {len(fault_modes)} faults: first live reading weighed in {taken:.2f} s,",
            end="",
        )
        print(f" {taken / whole:.2f} × each fault once in a circuit solved whole")
    assert len(circuit.parts) == PARTS
    assert taken <= AT_MOST_SECONDS
    assert taken <= 0.6 * whole


def _first_diagnosis(circuit: Circuit, observation: Observation, pins: tuple[str, ...]) -> float:
    """Seconds for a search of its own, nothing kept from another."""
    diagnoser = Diagnoser(circuit, shipped_fault_weights())
    began = time.perf_counter()
    assert diagnoser.diagnosis([observation], LiveChoice(mains=MAINS, terminals=pins)).suspects
    return time.perf_counter() - began
