"""The current at first power as evidence: which faults it speaks for, and that it never asks for power again."""

import pytest

from benchapp.actions.standalone.circuits import read_circuit
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.expected.limiters import Lamp, Limiter, Variable
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.diagnosis import Diagnosis
from benchapp.wiring.search.observations import Observation

LAMP, TURNED = Lamp(watts=100, mains=230), Variable(volts=57, mains=230)
SHARE = {"tb-mu1": (0.015, 0.06, 0.43), "tb-mu2": (0.015, 0.12, 0.43), "tb-rec1": (0.1, 0.38, 0.43)}
"""A behind the lamp: sound, an output winding shorted, a short behind it"""


def found(name: str, amps: float, limiter: Limiter = LAMP) -> Diagnosis:
    circuit = read_circuit(name)
    supply = circuit.supply
    assert supply is not None
    read = Observation(
        a=supply.live, b=supply.neutral, kind=Kind.current, value=amps, uncertainty=0.002, limiter=limiter
    )
    return Diagnoser(circuit, shipped_fault_weights()).diagnosis([read])


def modes(diagnosis: Diagnosis, most: int = 6) -> list[tuple[str, str]]:
    return [(one.part, str(one.faults[0].mode)) for one in diagnosis.suspects[:most] if one.faults]


@pytest.mark.parametrize("limiter", [LAMP, TURNED])
@pytest.mark.parametrize("name", SHARE)
def test_no_current_at_all_is_an_open_path_to_the_primary(name: str, limiter: Limiter) -> None:
    first = modes(found(name, 0.0, limiter), 2)
    assert {mode for _, mode in first} == {"open"}
    assert all("low" not in part and "line" not in part for part, _ in first)


@pytest.mark.parametrize("name", SHARE)
def test_the_lamps_own_short_current_is_a_short_behind_it(name: str) -> None:
    first = modes(found(name, SHARE[name][2]), 3)
    assert {mode for _, mode in first} <= {"shorted", "bridged", "shorted turns"}


def test_some_times_the_sound_current_is_shorted_turns() -> None:
    first = modes(found("tb-mu1", 0.06), 3)
    assert {mode for _, mode in first} == {"shorted turns"}
    assert {part for part, _ in first} == {"low", "high", "primary"}


def test_a_sound_current_speaks_for_no_winding() -> None:
    suspects = modes(found("tb-mu1", 0.015))
    assert not [mode for _, mode in suspects if mode.startswith("shorted")]


@pytest.mark.parametrize("amps", [0.0, 0.015, 0.06, 0.43])
def test_the_next_probe_is_dead_and_no_current_is_read_again(amps: float) -> None:
    diagnosis = found("tb-mu1", amps)
    assert diagnosis.next_probe is not None
    assert not diagnosis.next_probe.live
    assert not diagnosis.next_probe.again
    assert diagnosis.single_support is None
