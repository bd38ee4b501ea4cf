"""First power has a second sign beside the current: the lamp's brightness, or the volts across the item."""

import pytest

from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.state import StepStatus
from tests.sequences.bench import Unit, plan_of

SIGNS = {"lamp": "first-power.lamp", "variable transformer": "first-power.volts-across"}


@pytest.mark.parametrize("limiter", SIGNS)
def test_each_limiter_has_its_own_second_sign(limiter):
    unit = Unit(plan=plan_of())
    unit.go_to("first-power.limiter")
    unit.answer("first-power.limiter", AskAnswer(answer=limiter))
    unit.go_to("first-power.signs")
    steps = unit.state.steps
    assert [steps[one].status for one in SIGNS.values() if one != SIGNS[limiter]] == [StepStatus.skipped]
    assert steps[SIGNS[limiter]].status is StepStatus.done


def test_volts_that_fall_shut_power():
    unit = Unit(plan=plan_of())
    unit.go_to("first-power.limiter")
    unit.answer("first-power.limiter", AskAnswer(answer="variable transformer"))
    unit.go_to("first-power.volts-across")
    fell = "more than a tenth less, or they fall while you look"
    unit.answer("first-power.volts-across", AskAnswer(answer=fell))
    rows = {row.id: row for row in unit.state.interlock[Supply.full]}
    assert rows["faults"].why == "The volts across it fell at first power."
