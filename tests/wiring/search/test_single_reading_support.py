"""A finding that rests on one reading alone says so, and asks for that reading once more."""

import random
from collections.abc import Mapping
from dataclasses import replace

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.weights import shipped_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.probing.probes import probe_plan
from benchapp.wiring.search.diagnoser import Locator
from benchapp.wiring.search.diagnosis import Findings
from benchapp.wiring.search.observations import Clue
from tests.wiring.simulator import technician

MODES = shipped_fault_modes()
TWIN = ("outlet.1", "outlet.4")  # two pins of one end: 0.04 ohm


def clue(pair: tuple[str, str], ohms: float | None, times: int = 1) -> Clue:
    return Clue(a=pair[0], b=pair[1], kind=Kind.resistance, value=ohms, times=times)


def found(circuit: Circuit, *more: Clue) -> Findings:
    """All pairs of a sound unit's two plugs read, but those at pin 4, and `more`."""
    read = technician(circuit, random.Random(1), noise=False)
    probes = (probe for plug in circuit.connectors for probe in probe_plan(circuit, plug))
    pairs = {frozenset((probe.a, probe.b)): (probe.a, probe.b) for probe in probes}
    sound = [read(*pair, 99) for pair in pairs.values() if "outlet.4" not in pair]
    return Locator(circuit, MODES).findings([*sound, *more])


def test_one_open_reading_among_sound_ones_is_asked_for_once_more(shipped: Mapping[str, Circuit]) -> None:
    findings = found(shipped["tb-mu1"], clue(TWIN, None))
    assert findings.next_probe is None
    assert findings.rests_on is not None
    assert {findings.rests_on.a, findings.rests_on.b} == set(TWIN)
    assert findings.rests_on.again
    assert findings.rests_on.say.startswith("Once more, to be sure")


def test_taken_twice_it_rests_on_more_than_one(shipped: Mapping[str, Circuit]) -> None:
    findings = found(shipped["tb-mu1"], clue(TWIN, None, times=2))
    assert findings.found
    assert findings.rests_on is None


def test_two_readings_that_show_the_same_part_rest_on_each_other(shipped: Mapping[str, Circuit]) -> None:
    pairs = (TWIN, ("outlet.2", "outlet.4"))
    findings = found(shipped["tb-mu1"], *(clue(pair, None) for pair in pairs))
    assert findings.found == ("low-a-twin",)
    assert findings.rests_on is None


def test_where_nothing_is_found_nothing_rests_on_a_reading(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    assert found(circuit, clue(TWIN, 0.3)).rests_on is None


def test_a_reading_in_another_set_up_is_not_asked_for_again(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    joined = replace(clue(TWIN, None), state=State(joined=(("plug.L", "plug.N"),)))
    assert found(circuit, joined).rests_on is None


def test_suspects_of_equal_chance_are_named_together(shipped: Mapping[str, Circuit]) -> None:
    findings = Locator(shipped["tb-mu1"], MODES).findings([clue(("outlet.1", "outlet.2"), 13.3)])
    assert findings.sentence.startswith("So far as likely as each other: ")
    assert findings.suspects[0].words in findings.sentence
    assert findings.suspects[1].words in findings.sentence
