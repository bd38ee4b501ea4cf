"""An answer counts only for the step that it was given at; another revision inherits nothing that it did not ask."""

import pytest

from benchapp.sequences import StepStatus
from tests.sequences.bench import Refused, Unit, plan_of
from tests.sequences.weakened import plan_with

CONTINUITY = "sequences/continuity.yaml"
DRY_ENOUGH = "      - answer: dry\n      - answer: dry enough\n"


def changed(unit: Unit, plan) -> Unit:
    """The same history under the texts of another run."""
    return Unit(plan=plan, entries=list(unit.entries), now=unit.now)


@pytest.mark.parametrize(
    ("name", "edit", "address"),
    [
        (CONTINUITY, ("keep: highest", "keep: lowest"), "continuity.earth"),
        (CONTINUITY, ("set up: [switch on, fuse out]", "set up: [switch on]"), "continuity.fuse-out"),
        (CONTINUITY, ("at: [supply.L, supply.E]", "at: [supply.N, supply.E]"), "continuity.live-earth"),
        ("sequences/plug-rewire.yaml", ("      - check: grip\n", "      - check: hold\n"), "plug-rewire.plug-outside"),
        ("sequences/insulation.yaml", ("      - answer: dry\n", DRY_ENOUGH), "insulation.dry"),
    ],
)
def test_an_answer_to_a_weaker_step_is_not_inherited(tmp_path, name, edit, address):
    weak = Unit(plan=plan_with(tmp_path, name, edit))
    weak.go_to("first-power.plug-in")
    strict = changed(weak, plan_of())
    assert strict.state.steps[address].status is StepStatus.stale
    assert strict.state.steps[address].why == "this step has changed since"
    with pytest.raises(Refused):
        strict.answer("first-power.plug-in", strict.good(strict.plan.step("first-power.plug-in")))


def test_answers_to_the_same_step_stand_in_a_new_run():
    unit = Unit(plan=plan_of())
    unit.go_to("first-power.plug-in")
    again = changed(unit, plan_of())
    assert again.state.steps["continuity.earth"].holds
    assert again.due.address == "first-power.plug-in"


def test_other_words_of_advice_change_no_step(tmp_path):
    edit = ("why: A broken lead reads OL", "why: A broken lead shows OL")
    assert plan_with(tmp_path, CONTINUITY, edit).step("continuity.leads-before").digest == (
        plan_of().step("continuity.leads-before").digest
    )


def test_the_way_back_by_a_weaker_file_does_not_make_it_safe(tmp_path):
    plan = plan_with(tmp_path, "sequences/make-safe.yaml", ("      - Off at the wall.\n", ""))
    weak = Unit(plan=plan)
    weak.go(lambda due: due.address == "first-power.plug-in")
    assert not weak.state.energised
    assert changed(weak, plan_of()).state.energised
