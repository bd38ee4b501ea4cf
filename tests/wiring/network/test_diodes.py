"""A diode counts wherever it lies in the network; polarity decides what it can do to a reading."""

import random
from collections.abc import Callable, Mapping
from itertools import combinations, permutations

import numpy as np
import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.network.diodes import BEWARE, NOTICED, Polarity
from tests.wiring.diode_circuits import PINS, behind_links, made_up
from tests.wiring.made_up_equipment import equipment_text

DC = "outputs: [{output: dc, between: [out.1, out.2], volts: 1 V, source: made up}]\n"
ABSENT = 1e8


def ohms_between(circuit: Circuit, a: str, b: str, diode_ohms: float) -> float:
    """The reading with every diode of that resistance, by the pseudo-inverse of the Laplacian: numpy alone."""
    number = {node: index for index, node in enumerate(circuit.nodes)}
    laplacian = np.zeros((len(number), len(number)))
    for branch in circuit.branches:
        ohms = diode_ohms if branch.resistance is None else branch.resistance.nominal
        i, j = number[branch.a], number[branch.b]
        for row, column, sign in ((i, i, 1), (j, j, 1), (i, j, -1), (j, i, -1)):
            laplacian[row, column] += sign / ohms
    laplacian += np.eye(len(number)) / ABSENT / 100
    z = np.linalg.inv(laplacian)
    return float(z[number[a], number[a]] + z[number[b], number[b]] - 2 * z[number[a], number[b]])


def warned(circuit: Circuit) -> set[tuple[str, str]]:
    return {(a, b) for a, b in combinations(PINS, 2) if BEWARE in expected_resistance(circuit, a, b).cautions}


@pytest.mark.parametrize("seed", range(60))
def test_a_diode_is_warned_of_exactly_where_it_moves_the_reading(seed: int) -> None:
    circuit = made_up(random.Random(seed), diodes=1)
    moved = set()
    for a, b in combinations(PINS, 2):
        without, conducting = (ohms_between(circuit, a, b, ohms) for ohms in (ABSENT, 1.0))
        if conducting < (1 - NOTICED) * without and conducting < ABSENT / 100:
            moved.add((a, b))
    assert warned(circuit) == moved


@pytest.mark.parametrize("seed", range(60))
def test_a_joint_between_a_diode_and_its_terminal_changes_no_caution(seed: int) -> None:
    circuit = made_up(random.Random(seed), diodes=2)
    assert warned(behind_links(circuit)) == warned(circuit)


RECTIFIED = [seed for seed in range(60) if "diode: rectifier" in equipment_text(random.Random(seed))]


@pytest.mark.parametrize("seed", RECTIFIED)
def test_a_live_reading_beside_a_rectifier_is_warned_of_though_links_lie_between(
    seed: int, connectors: Mapping[str, Connector]
) -> None:
    text = equipment_text(random.Random(seed))
    circuit = compile_circuit(build_model(parse_document(text, "made-up.yaml"), Equipment), connectors)
    pin = {branch.a: branch.b for branch in circuit.branches if branch.part.startswith("to-s")}
    rectifier, bleeder = (next(b for b in circuit.branches if b.part == part) for part in ("rectifier", "bleeder"))
    mains = KnownQuantity(value_si=240.0, what="mains", source="made up", kind=Kind.voltage)
    band = expected_voltage(circuit, pin[rectifier.a], pin[bleeder.b], mains=mains)
    assert "A diode lies here: the linear model does not see it." in band.cautions, text


def test_a_short_across_opposed_diodes_is_not_passed_as_sound(written: Callable[..., Circuit]) -> None:
    parts = "- {diode: one, between: [out.1, m]}\n- {diode: other, between: [out.2, m]}\n"
    band = expected_resistance(written(parts, more=DC), "out.1", "out.2")
    assert band.lower is not None
    assert band.lower > 1e3  # one of them blocks, whichever way


def test_a_short_across_the_ends_of_a_winding_with_two_rectifiers_is_not_passed_as_sound(
    written: Callable[..., Circuit],
) -> None:
    parts = """
        - {winding: first, between: [out.1, out.3], rated: 9 V off load, resistance: 20 ohm ± 10 %}
        - {winding: second, between: [out.3, out.2], rated: 9 V off load, resistance: 20 ohm ± 10 %}
        - {diode: one, between: [out.1, out.4]}
        - {diode: other, between: [out.2, out.4]}
        - {resistor: load, between: [out.4, out.3], resistance: 4.7 kohm}
    """
    more = "outputs: [{output: dc, between: [out.4, out.3], volts: 9 V, source: made up}]\n"
    band = expected_resistance(written(parts, more=more), "out.1", "out.2")
    assert band.lower is not None
    assert 30 < band.lower < 40  # both diodes at once are no path: one of them blocks


@pytest.mark.parametrize("seed", range(40))
def test_what_can_conduct_is_never_less_than_a_walk_along_every_path_finds(seed: int) -> None:
    circuit = made_up(random.Random(seed), diodes=3)
    polarity = Polarity(circuit, State())
    for red, black in permutations(PINS, 2):
        assert walked(circuit, red, black) <= polarity.forward(red, black)


def walked(circuit: Circuit, red: str, black: str) -> set[int]:
    """Diodes on any way from red to black that touches no node twice and passes every diode from its anode."""
    found: set[int] = set()

    def walk(node: str, been: frozenset[str], passed: frozenset[int]) -> None:
        if node == black:
            found.update(passed)
            return
        for number, branch in enumerate(circuit.branches):
            one_way = branch.resistance is None
            ends = [(branch.a, branch.b)] if one_way else [(branch.a, branch.b), (branch.b, branch.a)]
            for start, end in ends:
                if start == node and end not in been:
                    walk(end, been | {end}, passed | {number} if one_way else passed)

    walk(red, frozenset({red}), frozenset())
    return found
