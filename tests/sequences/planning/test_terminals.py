"""Which terminals a step means, and what a set-up does to the circuit."""

import pytest

from benchapp.errors import BenchError
from benchapp.sequences.planning.terminals import TerminalProblem, circuit_state, loads_of, terminal_of
from tests.sequences.bench import plan_of

MAINS_UNIT = plan_of().circuit
RECORDER = plan_of("recorder", "tb-rec1").circuit
SPEAKER = plan_of("loudspeaker", "tb-ls1").circuit


@pytest.mark.parametrize(
    ("circuit", "word", "terminal"),
    [
        (MAINS_UNIT, "supply.L", "plug.L"),
        (MAINS_UNIT, "supply.N", "plug.N"),
        (MAINS_UNIT, "supply.E", "plug.E"),
        (MAINS_UNIT, "case", "case"),
        (MAINS_UNIT, "outputs", "outlet.1"),
        (RECORDER, "outputs", "line.1"),
        (SPEAKER, "case", "basket"),
        (MAINS_UNIT, "outlet.4", "outlet.4"),
    ],
)
def test_words_for_many_designs_find_the_terminal_of_this_one(circuit, word, terminal):
    assert terminal_of(circuit, word) == terminal


@pytest.mark.parametrize(
    ("circuit", "word"),
    [(SPEAKER, "supply.L"), (plan_of(equipment="tb-mu2").circuit, "case"), (MAINS_UNIT, "outlet.9"), (SPEAKER, "")],
)
def test_terminal_that_is_not_there_is_a_sentence(circuit, word):
    with pytest.raises(TerminalProblem, match="it has"):
        terminal_of(circuit, word)


def test_set_up_puts_the_circuit_in_its_state():
    state = circuit_state(RECORDER, ("switch off", "fuse out", "L and N joined", "selector at 220 V", "cover closed"))
    assert dict(state.switches) == {"power": "off"}
    assert state.fuses_in == frozenset({"inside-fuse"})
    assert state.joined == (("plug.L", "plug.N"),)
    assert state.selector == "220 V"


def test_words_that_the_circuit_does_not_know_change_nothing():
    assert circuit_state(MAINS_UNIT, ("cover closed",)) == circuit_state(MAINS_UNIT, ())


def test_load_is_laid_across_its_terminals():
    (load,) = loads_of(MAINS_UNIT, ("load of 15 ohm on outlet.1 and outlet.2 for at most 20 s",))
    assert (load.a, load.b, load.ohms) == ("outlet.1", "outlet.2", 15.0)
    with pytest.raises(BenchError):
        loads_of(MAINS_UNIT, ("load of 15 V on outlet.1 and outlet.2",))
    with pytest.raises(BenchError):
        loads_of(MAINS_UNIT, ("load of 15 ohm on outlet.1 and outlet.9",))
