"""What a repair makes stale, on generated equipment with every kind of part: no reading that it moves is left standing.

The judge is independent of the rule that it judges: each part is changed in every way that a repair could change it,
the whole circuit is solved anew, dead and live, and whatever reads otherwise must name the part.
"""

import random
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.expected.influence import parts_behind
from benchapp.wiring.faults.fault_modes import exactly
from benchapp.wiring.model.circuit import Branch, Circuit, State
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.registry import kind_named, part_kinds
from benchapp.wiring.network.live import Solution, solve_live
from benchapp.wiring.network.solve import Corner, Network, dead_network
from tests.wiring.made_up_equipment import equipment_text

SAME = 1e-6
"""relative; less is rounding"""
Reader = Mapping[Corner, Network]


def circuit_of(seed: int, connectors: Mapping[str, Connector]) -> Circuit:
    text = equipment_text(random.Random(seed))
    return compile_circuit(build_model(parse_document(text, "made-up.yaml"), Equipment), connectors)


def states_of(circuit: Circuit) -> list[State]:
    """Every position of every switch and selector, each with all fuses in, and with each fuse out."""
    names = list(circuit.switches)
    settings_ = [
        frozenset(zip(names, positions, strict=True))
        for positions in product(*(circuit.switches[name].positions for name in names))
    ]
    fuses = frozenset(part for part, kind in circuit.parts.items() if kind is kind_named("fuse"))
    ins = [None, *(fuses - {fuse} for fuse in sorted(fuses))]
    return [State(switches=switches, fuses_in=some) for switches in settings_ for some in ins]


def changed(circuit: Circuit, part: str) -> Iterator[Circuit]:
    """The circuit with the part otherwise than it was: other values, open, shorted, leaking."""
    numbers = [i for i, branch in enumerate(circuit.branches) if branch.part == part]
    for number in numbers:
        for other in _others(circuit.branches[number]):
            branches = list(circuit.branches)
            branches[number] = other
            yield replace(circuit, branches=tuple(branches))
    for barrier in circuit.barriers:
        if barrier.part == part:
            for a, b in product(sorted(barrier.side_a), sorted(barrier.side_b)):
                leak = Branch(part=part, kind=kind_named("resistor"), a=a, b=b, resistance=exactly(33.0))
                yield replace(circuit, branches=(*circuit.branches, leak))


def _others(branch: Branch) -> Iterator[Branch]:
    nothing = replace(branch, kind=kind_named("link"), resistance=None, farads=None, emf=None, core=None, working=None)
    yield nothing
    yield replace(nothing, kind=kind_named("resistor"), resistance=exactly(0.002), switch=None)
    if branch.resistance is not None:
        yield replace(branch, resistance=exactly(branch.resistance.nominal * 3 + 0.7), working=None)
    if branch.emf is not None:
        yield replace(branch, emf=exactly(branch.emf.nominal * 0.6))
    if branch.farads is not None:
        yield replace(branch, farads=branch.farads * 7)
        yield replace(nothing, kind=kind_named("resistor"), resistance=exactly(220.0))


def dead(circuit: Circuit, state: State) -> Reader:
    return {corner: dead_network(circuit, state, corner) for corner in Corner}


def live(circuit: Circuit, state: State) -> Solution:
    assert circuit.supply is not None
    return solve_live(circuit, circuit.supply, 240.0, state=state)


def reads_otherwise_dead(one: Reader, other: Reader, a: str, b: str) -> bool:
    return any(not same(one[corner].resistance(a, b), other[corner].resistance(a, b)) for corner in Corner)


def reads_otherwise_live(one: Solution, other: Solution, a: str, b: str) -> bool:
    before, after = one.between(a, b), other.between(a, b)
    if before is None or after is None:
        return before is not after
    return abs(before - after) > SAME * 240.0


def same(one: float, other: float) -> bool:
    return one == other or abs(one - other) <= SAME * (1.0 + min(one, other))


@settings(max_examples=60)
@given(seed=st.integers(0, 10**6), which=st.randoms(use_true_random=False))
def test_no_reading_stands_that_a_repair_of_any_part_could_have_moved(
    connectors: Mapping[str, Connector], seed: int, which: random.Random
) -> None:
    circuit = circuit_of(seed, connectors)
    state = which.choice(states_of(circuit))
    sound_dead, sound_live = dead(circuit, state), live(circuit, state)
    behind = {
        (a, b, on): parts_behind(circuit, a, b, live=on, state=state)
        for a, b in combinations(circuit.terminals, 2)
        for on in (False, True)
    }
    for part in which.sample(sorted(circuit.parts), 5):
        for other in changed(circuit, part):
            now_dead, now_live = dead(other, state), live(other, state)
            for a, b in combinations(circuit.terminals, 2):
                if reads_otherwise_dead(sound_dead, now_dead, a, b):
                    assert part in behind[a, b, False], (seed, part, a, b, "dead", state)
                if reads_otherwise_live(sound_live, now_live, a, b):
                    assert part in behind[a, b, True], (seed, part, a, b, "live", state)


def test_the_generated_equipment_has_every_kind_of_part(connectors: Mapping[str, Connector]) -> None:
    kinds = {kind for seed in range(40) for kind in circuit_of(seed, connectors).parts.values()}
    assert kinds == set(part_kinds().values())


@pytest.mark.parametrize("part", ["plug-fuse", "cord-live"])
def test_the_judge_itself_sees_a_part_that_does_move_a_reading(connectors: Mapping[str, Connector], part: str) -> None:
    # else the property above could hold because nothing ever moves
    circuit = circuit_of(3, connectors)
    sound = dead(circuit, State())
    moved = [
        (a, b)
        for other in changed(circuit, part)
        for a, b in combinations(circuit.terminals, 2)
        if reads_otherwise_dead(sound, dead(other, State()), a, b)
    ]
    assert ("plug.L", "plug.N") in moved or ("plug.N", "plug.L") in moved
