"""An answer counts only for the step that it was given at; another revision inherits nothing that it did not ask."""

from dataclasses import replace

import pytest

from benchapp.sequences.planning.contents import read_content
from benchapp.sequences.planning.state import DueKind, StepStatus
from benchapp.sequences.planning.step_digest import has_changed
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
    weak.go(lambda due: due.kind is DueKind.shut or due.address == "first-power.plug-in")
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
    plan = plan_with(
        tmp_path,
        "sequences/make-safe.yaml",
        ("      - Off at the wall where it has a switch, plug out of the socket, in sight on the bench.\n", ""),
    )
    weak = Unit(plan=plan)
    weak.go(lambda due: due.address == "first-power.plug-in")
    assert not weak.state.energised
    assert changed(weak, plan_of()).state.energised


# What lies behind a step ----------------------------------------------------------------------------------------------

EQUIPMENT, LIMITS = "resources/equipment/tb-mu1.yaml", "resources/limits/gb.yaml"


@pytest.mark.parametrize(
    ("name", "edit", "address"),
    [
        (EQUIPMENT, ("resistance: 480 ohm ± 10 %", "resistance: 480 ohm ± 60 %"), "continuity.primary"),
        (EQUIPMENT, ("area: 0.75 mm²", "area: 0.5 mm²"), "continuity.earth"),
        (LIMITS, ("  base:\n    value: 0.1\n", "  base:\n    value: 0.5\n"), "continuity.earth"),
        (LIMITS, ("    I:\n      value: 1.0\n", "    I:\n      value: 0.3\n"), "insulation.live-to-case"),
        (CONTINUITY, ("when: {plug fuse: true}", "when: {class: [I, II]}"), "continuity.fuse-out"),
        (CONTINUITY, ("Touch the two probe tips together and read.", "Look at the meter."), "continuity.leads-before"),
    ],
    ids=["circuit", "cord", "earth limit", "insulation limit", "when", "words without terminals"],
)
def test_an_answer_rests_on_circuit_limits_and_conditions_too(tmp_path, name, edit, address):
    weak = Unit(plan=plan_with(tmp_path, name, edit))
    weak.go_to("first-power.plug-in")
    strict = changed(weak, plan_of())
    assert strict.state.steps[address].why == "this step has changed since"
    with pytest.raises(Refused, match=r"Mains stays away|Go the way back first"):
        strict.answer("first-power.plug-in", strict.good(strict.plan.step("first-power.plug-in")))


@pytest.mark.parametrize(
    ("name", "edit"),
    [
        (EQUIPMENT, ("title: Mains unit, two AC outputs", "title: Mains unit with two outputs")),
        (EQUIPMENT, ("say: the primary winding", "say: the winding on the mains side")),
        (EQUIPMENT, ("resistance: 480 ohm ± 10 %", "resistance: 480ohm ±10%")),
        (LIMITS, ("title: Great Britain\n", "title: Britain\n")),
    ],
)
def test_other_words_for_the_same_circuit_and_limits_change_no_step(tmp_path, name, edit):
    theirs, ours = plan_with(tmp_path, name, edit), plan_of()
    assert [step.digest for step in theirs.steps] == [step.digest for step in ours.steps]


def test_another_design_leaves_a_unit_that_was_made_safe_safe(tmp_path):
    edit = ("resistance: 480 ohm ± 10 %", "resistance: 480 ohm ± 60 %")
    weak = Unit(plan=plan_with(tmp_path, EQUIPMENT, edit))
    weak.go_to("first-power.plug-in")
    assert not changed(weak, plan_of()).state.energised


def test_an_answer_without_the_digest_of_its_step_was_given_at_another():
    step = plan_of().step("continuity.earth")
    answer = read_content("answer", {"step": "wait", "judgement": "pass", "seconds": 1.0})
    assert not has_changed(step, replace(answer, step_digest=step.digest))
    assert has_changed(step, replace(answer, step_digest=step.digest.removeprefix("1:")))
    assert has_changed(step, replace(answer, step_digest="1:" + "0" * 16))
    assert has_changed(step, answer)


def test_the_digests_of_the_first_rules_are_these():
    """Whatever changes them makes every answer of a stored run stale: then the version of the digests changes too."""
    plan = plan_of("recorder", "tb-rec1")
    assert plan.step("continuity.primary").digest == "1:60416a485a520fc2"
    assert plan.step("continuity.earth").digest == "1:af70b9b7e2a35e72"


def test_a_capacitor_of_another_tolerance_is_another_circuit(tmp_path):
    edit = ("capacitance: 2200 µF", "capacitance: 2200 µF ± 5 %")
    other = plan_with(tmp_path, "resources/equipment/tb-rec1.yaml", edit, route="recorder", equipment="tb-rec1")
    usual = plan_of("recorder", "tb-rec1")
    assert other.step("continuity.primary").digest != usual.step("continuity.primary").digest
