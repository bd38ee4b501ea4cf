"""The names of steps as a person says them: in the foot, on paper, in a list of what was left out."""

import pytest

from benchapp.sequences.planning.step_names import step_name
from benchapp.sequences.planning.terminals import say_set_up
from tests.sequences.bench import plan_of


@pytest.mark.parametrize(
    ("address", "name"),
    [
        ("make-safe.low", "Voltage left, plug L to N"),
        ("make-safe.low-outputs", "Voltage left, outputs"),
        ("make-safe.low-to-touched/case", "Voltage left, plug L to case"),
        ("make-safe.prove-again", "Prove again"),
    ],
)
def test_a_reading_of_the_way_back_says_what_it_is_of(address, name):
    assert step_name(plan_of().by_address[address]) == name


def test_a_switch_of_a_set_up_is_the_items_own():
    assert say_set_up("switch on") == "the item's own switch on"
    assert say_set_up("switch off") == "the item's own switch off"
    assert say_set_up("fuse in") == "fuse in"
