"""Windings that drive current through each other though nothing is connected to the outputs.

In parallel the wrong way round, or with unlike voltages, they heat the transformer until something gives.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.assembly.ratings import Winding, is_primary
from benchapp.wiring.model.circuit import Circuit, Problem, State
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.groups import carries_voltage_on, groups_of
from benchapp.wiring.network.live import Equations, nominal_value

OF_SHORT = 0.25  # of what a winding drives into a short: so much counts where no rated current is stated


def check_circulating(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Windings that are not for the supply and carry more than their rated current with the outputs open."""
    parts = {p.id: (i, p) for i, p in enumerate(equipment.circuit) if isinstance(p, Winding)}
    over: dict[str, float] = {}
    for part, amps in _currents(circuit).items():
        written = parts[part][1]
        if amps > _allowed(written, circuit) and not is_primary(written):
            over[part] = amps
    if over:
        first, named = next(iter(over)), ", ".join(f"'{part}'" for part in over)
        most = show(float(f"{max(over.values()):.2g}"), Kind.current)
        windings = "the windings" if len(over) > 1 else "the winding"
        alike = "in parallel only windings that are alike, first ends together and last ends together"
        yield Problem(
            key=("circuit", parts[first][0], "between"),
            what=f"with nothing connected {most} runs through {windings} {named}",
            expected=alike if len(over) > 1 else _apart(circuit, first),
        )


def _apart(circuit: Circuit, part: str) -> str:
    """What to do about a winding whose ends are joined: often both its wires were written to one pin."""
    wires = groups_of(circuit, carries_voltage_on)
    section = next(branch for branch in circuit.branches if branch.part == part)
    ends = Counter(node for b in circuit.branches if b.kind.carries_voltage_on for node in (b.a, b.b))
    both = [pin for pin in circuit.terminals if ends[pin] > 1 and wires[pin] == wires[section.a] == wires[section.b]]
    return f"its two wires on two pins: both are on {both[0]}" if both else "nothing that joins its ends"


def _currents(circuit: Circuit) -> dict[str, float]:
    """The largest current (A) in any section of each winding at the rated supply, with no load outside or inside."""
    if circuit.supply is None:
        return {}
    wires = tuple(one for one in circuit.branches if one.kind.carries_voltage_on or one.kind.couples)
    equations = Equations(replace(circuit, branches=wires), circuit.supply, State(), ())
    matrix, right = equations.assemble(circuit.supply.voltage, nominal_value)
    nodes = len(equations.number)
    solved = np.abs(np.linalg.solve(matrix, right)[nodes : nodes + len(equations.windings)])
    found: dict[str, float] = {}
    for winding, amps in zip(equations.windings, solved.tolist(), strict=True):
        found[winding.part] = max(found.get(winding.part, 0.0), amps)
    return found


def _allowed(part: Winding, circuit: Circuit) -> float:
    """A: its rated current, else a share of what it would drive into a short."""
    if part.rated is not None and part.rated.amps is not None:
        return part.rated.amps
    sections = [branch for branch in circuit.branches if branch.part == part.id and branch.emf is not None]
    volts = sum(abs(branch.emf.nominal) for branch in sections if branch.emf is not None)
    ohms = sum(nominal_value(branch, "ohms") for branch in sections)
    return OF_SHORT * volts / ohms if ohms else float("inf")
