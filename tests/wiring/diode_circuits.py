"""Circuits of resistors, links and diodes written at random, for what an ohmmeter shows across them."""

import random
from collections.abc import Iterator
from dataclasses import replace

from benchapp.wiring.faults.fault_modes import exactly
from benchapp.wiring.model.circuit import Branch, Circuit
from benchapp.wiring.model.registry import kind_named

PINS = ("p0", "p1", "p2", "p3")


def circuit_of(branches: tuple[Branch, ...]) -> Circuit:
    """A circuit of these branches; the nodes p0 to p3 are its terminals."""
    nodes = dict.fromkeys((*PINS, *(node for branch in branches for node in (branch.a, branch.b))))
    return Circuit(
        equipment="made-up",
        title="Made up",
        nodes=tuple(nodes),
        terminals=PINS,
        spoken={},
        branches=branches,
        barriers=(),
        switches={},
        connectors={},
        parts={branch.part: branch.kind for branch in branches},
        part_names={branch.part: branch.part for branch in branches},
        supply=None,
        outputs=(),
    )


def resistor(part: str, a: str, b: str, ohms: float) -> Branch:
    return Branch(part=part, kind=kind_named("resistor"), a=a, b=b, resistance=exactly(ohms))


def diode(part: str, anode: str, cathode: str) -> Branch:
    return Branch(part=part, kind=kind_named("diode"), a=anode, b=cathode)


def made_up(rng: random.Random, diodes: int) -> Circuit:
    """A tree of resistors over pins and inner nodes, a few more across it, and so many diodes anywhere."""
    nodes = [*PINS, *(f"i{n}" for n in range(rng.randint(0, 2)))]
    order = rng.sample(nodes, len(nodes))
    ends = [(rng.choice(order[:at]), node) for at, node in enumerate(order) if at and rng.random() < 0.75]
    ends += [(a, b) for a, b in (rng.sample(nodes, 2) for _ in range(rng.randint(0, 2)))]
    branches = [resistor(f"r{n}", a, b, rng.choice([0.5, 3, 22, 150, 1e3, 4.7e3])) for n, (a, b) in enumerate(ends)]
    branches += [diode(f"d{n}", *rng.sample(nodes, 2)) for n in range(diodes)]
    return circuit_of(tuple(branches))


def behind_links(circuit: Circuit) -> Circuit:
    """The same circuit with a joint of next to nothing in each lead of every diode."""
    return circuit_of(tuple(one for branch in circuit.branches for one in _joined(branch)))


def _joined(branch: Branch) -> Iterator[Branch]:
    if branch.kind is not kind_named("diode"):
        yield branch
        return
    inner = [f"{branch.part}.{end}" for end in "ab"]
    yield replace(branch, a=inner[0], b=inner[1])
    for node, outer in zip(inner, (branch.a, branch.b), strict=True):
        name = f"joint-{node}"
        yield Branch(part=name, kind=kind_named("link"), a=outer, b=node, resistance=exactly(1e-3))
