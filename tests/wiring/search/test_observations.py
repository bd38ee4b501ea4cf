"""What a reading says to the search: insulation that its own limit passes counts as open, less than that as a leak."""

from collections.abc import Mapping

import pytest

from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.observations import read_observation


@pytest.mark.parametrize("typed", ["2 Mohm", "3 Mohm", "10 Mohm", "OL"])
def test_insulation_that_its_limit_passes_is_no_evidence_of_a_leak(shipped: Mapping[str, Circuit], typed: str) -> None:
    # the file of tb-mu1 asks for at least 2 Mohm between plug and outlet
    circuit = shipped["tb-mu1"]
    observation = read_observation(f"plug.L,outlet.1={typed}", circuit)
    assert observation.value is None
    assert observation.words(circuit).startswith(typed)
    found = Diagnoser(circuit, shipped_fault_weights()).diagnosis([observation])
    assert found.inconsistent == ()
    assert "mains-to-outlet" not in {one.part for one in found.suspects[:5]}


@pytest.mark.parametrize("typed", ["1.9 Mohm", "100 kohm"])
def test_less_than_the_limit_points_at_the_insulation(shipped: Mapping[str, Circuit], typed: str) -> None:
    circuit = shipped["tb-mu1"]
    observation = read_observation(f"plug.L,outlet.1={typed}", circuit)
    assert observation.value is not None
    assert Diagnoser(circuit, shipped_fault_weights()).diagnosis([observation]).suspects[0].part == "mains-to-outlet"


def test_a_resistance_inside_one_group_stays_what_it_is(shipped: Mapping[str, Circuit]) -> None:
    assert read_observation("plug.L,plug.N=3 Mohm", shipped["tb-mu1"]).value == pytest.approx(3e6)
