"""A diagnosis that rests on one reading alone says so, and asks for that reading once more."""

import random
from collections.abc import Mapping
from dataclasses import replace

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.probing.probes import probe_plan
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.diagnosis import Diagnosis
from benchapp.wiring.search.observations import Observation
from tests.wiring.simulator import technician

MODES = shipped_fault_weights()
TWIN = ("outlet.1", "outlet.4")  # two pins of one end: 0.04 ohm


def observation(pair: tuple[str, str], ohms: float | None, times: int = 1) -> Observation:
    return Observation(a=pair[0], b=pair[1], kind=Kind.resistance, value=ohms, times=times)


def found(circuit: Circuit, *more: Observation) -> Diagnosis:
    """All pairs of a sound unit's two plugs read, but those at pin 4, and `more`."""
    read = technician(circuit, random.Random(1), noise=False)
    probes = (probe for plug in circuit.connectors for probe in probe_plan(circuit, plug))
    pairs = {frozenset((probe.a, probe.b)): (probe.a, probe.b) for probe in probes}
    sound = [read(*pair, 99) for pair in pairs.values() if "outlet.4" not in pair]
    return Diagnoser(circuit, MODES).diagnosis([*sound, *more])


def test_one_open_reading_among_sound_ones_is_asked_for_once_more(shipped: Mapping[str, Circuit]) -> None:
    diagnosis = found(shipped["tb-mu1"], observation(TWIN, None))
    assert diagnosis.next_probe is None
    assert diagnosis.single_support is not None
    assert {diagnosis.single_support.a, diagnosis.single_support.b} == set(TWIN)
    assert diagnosis.single_support.again
    assert diagnosis.single_support.say.startswith("Once more, to be sure")


def test_taken_twice_it_rests_on_more_than_one(shipped: Mapping[str, Circuit]) -> None:
    diagnosis = found(shipped["tb-mu1"], observation(TWIN, None, times=2))
    assert diagnosis.found
    assert diagnosis.single_support is None


def test_two_readings_that_show_the_same_part_rest_on_each_other(shipped: Mapping[str, Circuit]) -> None:
    pairs = (TWIN, ("outlet.2", "outlet.4"))
    diagnosis = found(shipped["tb-mu1"], *(observation(pair, None) for pair in pairs))
    assert diagnosis.found == ("low-a-twin",)
    assert diagnosis.single_support is None


def test_where_nothing_is_found_nothing_rests_on_a_reading(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    assert found(circuit, observation(TWIN, 0.3)).single_support is None


def test_a_reading_in_another_set_up_is_not_asked_for_again(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    joined = replace(observation(TWIN, None), state=State(joined=(("plug.L", "plug.N"),)))
    assert found(circuit, joined).single_support is None


def test_suspects_of_equal_chance_are_named_together(shipped: Mapping[str, Circuit]) -> None:
    diagnosis = Diagnoser(shipped["tb-mu1"], MODES).diagnosis([observation(("outlet.1", "outlet.2"), 13.3)])
    assert diagnosis.sentence.startswith("So far as likely as each other: ")
    assert diagnosis.suspects[0].words in diagnosis.sentence
    assert diagnosis.suspects[1].words in diagnosis.sentence
