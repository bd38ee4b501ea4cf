"""Two faults at once: found from dead readings, and from live ones that an ohmmeter cannot replace."""

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace
from statistics import mean

import pytest

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of, with_fault_modes
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.live import solve_live
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.diagnosis import Diagnosis
from benchapp.wiring.search.observations import Observation
from tests.wiring.pairs import FIRST, searched
from tests.wiring.simulator import technician

MODES = shipped_fault_weights()


def named(found: Diagnosis) -> set[str]:
    return {suspect.part for suspect in found.suspects[:FIRST]}


def test_two_faults_at_once_are_among_the_first_three_suspects() -> None:
    right = [found for _, found in searched(circuits=12, most_parts=14, of_each=4, seed=11)]
    assert len(right) >= 40
    assert mean(right) >= 0.9


def fault_of(circuit: Circuit, part: str, mode: Mode, size: float = 0.0) -> FaultMode:
    found = next(one for one in fault_modes_of(circuit, {}) if one.part == part and one.mode is mode)
    return replace(found, size=Range(low=size, high=size))


def live_observations(
    circuit: Circuit, two: Sequence[FaultMode], pairs: Sequence[tuple[str, str]]
) -> list[Observation]:
    assert circuit.supply is not None
    solved = solve_live(with_fault_modes(circuit, two), circuit.supply, 240.0, state=State())
    volts = [solved.between(a, b) for a, b in pairs]
    return [
        Observation(a=a, b=b, kind=Kind.voltage, value=round(abs(v), 2), mains=240.0)
        for (a, b), v in zip(pairs, volts, strict=True)
        if v is not None
    ]


OUTPUTS = (("outlet.1", "outlet.2"), ("outlet.2", "outlet.3"), ("outlet.4", "outlet.2"), ("outlet.4", "outlet.3"))
LIVE_PAIRS = [  # shorted turns that dead readings hardly show, beside a joint that they do
    (("low", Mode.shorted_turns, 0.2), ("high-b", Mode.high_resistance, 40.0)),
    (("high", Mode.shorted_turns, 0.15), ("low-a-twin", Mode.open, 0.0)),
    (("primary", Mode.shorted_turns, 0.3), ("low-a", Mode.open, 0.0)),
    (("low", Mode.shorted_turns, 0.3), ("cord-earth", Mode.open, 0.0)),
    (("high", Mode.shorted_turns, 0.4), ("case-bond", Mode.high_resistance, 25.0)),
]


@pytest.mark.parametrize("two", LIVE_PAIRS, ids=lambda two: " and ".join(one[0] for one in two))
def test_a_pair_of_which_only_volts_show_one_is_found_from_live_and_dead_readings(
    shipped: Mapping[str, Circuit], two: tuple[tuple[str, Mode, float], ...]
) -> None:
    circuit = shipped["tb-mu1"]
    faults = [fault_of(circuit, *one) for one in two]
    read = technician(with_fault_modes(circuit, faults), random.Random(5), noise=False)
    dead = [read(a, b, 99) for a, b in (*OUTPUTS, ("outlet.1", "outlet.4"), ("plug.E", "case"), ("plug.L", "plug.N"))]
    found = Diagnoser(circuit, MODES).diagnosis([*dead, *live_observations(circuit, faults, OUTPUTS)])
    assert {one.part for one in faults} <= named(found), found.sentence


def test_live_readings_do_not_keep_pairs_from_being_tried(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    faults = [fault_of(circuit, "high-b", Mode.open), fault_of(circuit, "case-bond", Mode.open)]
    read = technician(with_fault_modes(circuit, faults), random.Random(6), noise=False)
    pairs = [("plug.E", "case"), ("outlet.1", "outlet.2"), ("outlet.2", "outlet.3"), ("outlet.1", "outlet.3")]
    observations = [replace(read(a, b, 99), times=2) for a, b in pairs]
    observations += live_observations(circuit, faults, [("outlet.1", "outlet.2"), ("outlet.4", "outlet.2")])
    found = Diagnoser(circuit, MODES).diagnosis(observations)
    assert not found.inconsistent
    assert len(found.suspects[0].faults) == 2
