"""A state of a circuit is a key: what is set up alike is equal, however it was written down."""

from dataclasses import replace

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.model.circuit import State
from benchapp.wiring.search.observations import Observation

ONE = State(switches=frozenset([("power", "on"), ("speed", "19")]), fuses_in=frozenset(["inner", "outer"]))
OTHER = State(switches=frozenset([("speed", "19"), ("power", "on")]), fuses_in=frozenset(["outer", "inner"]))


def test_two_states_that_are_set_up_alike_are_one_key() -> None:
    assert {ONE: "kept"}[OTHER] == "kept"


def test_states_that_differ_in_one_switch_are_two_keys() -> None:
    assert replace(ONE, switches=frozenset([("power", "off"), ("speed", "19")])) not in {ONE}


def test_a_reading_taken_in_an_equal_state_is_the_same_reading() -> None:
    read = Observation(a="in.1", b="in.2", kind=Kind.resistance, value=12.0, state=ONE)
    assert {read: 1}[replace(read, state=OTHER)] == 1
