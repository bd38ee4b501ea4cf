"""The whole way of a sound unit, and that the fold is pure."""

import json

import pytest

from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.planning.contents import content_json, read_content
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind, StageStatus, StepStatus
from tests.sequences.bench import Unit, plan_of

ROUTES = [("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1"), ("loudspeaker", "tb-ls1")]


@pytest.mark.parametrize(("route", "equipment"), ROUTES)
def test_sound_unit_of_every_shipped_design_comes_to_its_end(route, equipment):
    unit = Unit(plan_of(route, equipment))
    due = unit.finish()
    state = unit.state
    assert due.kind is DueKind.finished
    assert state.complete
    assert not state.energised
    assert state.may_sell == ""
    assert {stage.status for stage in state.stages} == {StageStatus.done}


def test_fresh_unit_is_in_quarantine_with_its_live_stages_shut(unit):
    state = unit.state
    assert state.disposition == "quarantine"
    shut = {stage.id for stage in state.stages if stage.status is StageStatus.shut}
    assert shut == {"first-power", "live-voltage"}


def test_every_prefix_of_a_history_leads_to_the_step_that_was_taken_next(checked):
    """Resume is replay: whoever reopens the workbook after any entry is sent to the very next thing."""
    for number, entry in enumerate(checked.entries):
        due = fold(checked.plan, checked.entries[:number], at=entry.at).due
        if entry.kind is EntryKind.answer:
            assert due.address == entry.address
        else:
            assert due.kind.value == entry.kind.value


def test_fold_gives_the_same_value_each_time_and_leaves_the_entries_alone(checked):
    before = json.dumps([content_json(entry.content) for entry in checked.entries], sort_keys=True)
    assert fold(checked.plan, checked.entries, at=checked.at) == fold(checked.plan, checked.entries, at=checked.at)
    assert json.dumps([content_json(entry.content) for entry in checked.entries], sort_keys=True) == before


def test_contents_of_entries_are_plain_json(checked):
    for entry in checked.entries:
        said = json.loads(json.dumps(content_json(entry.content)))
        assert read_content(entry.kind, said) == entry.content


def test_answer_taken_again_supersedes_the_one_before(unit):
    unit.go_to("continuity.leads-before")
    unit.reads("continuity.leads-before", "5 ohm")
    assert unit.state.steps["continuity.leads-before"].status is StepStatus.failed
    unit.reads("continuity.leads-before", "0.1 ohm")
    assert unit.state.steps["continuity.leads-before"].status is StepStatus.done


def test_withdrawn_answer_is_asked_again_and_stays_on_record(unit):
    unit.go_to("visual-inspection.outside")
    entry = unit.answer("visual-inspection.outside", unit.good(unit.plan.step("visual-inspection.outside")))
    unit.withdraw(entry)
    state = unit.state
    assert state.due.address == "visual-inspection.outside"
    assert state.history["visual-inspection.outside"] == (entry,)
    assert state.withdrawn == {entry.number}


def test_earlier_good_answer_does_not_come_back_when_a_later_one_is_withdrawn(unit):
    unit.go_to("continuity.leads-before")
    unit.reads("continuity.leads-before", "0.1 ohm")
    again = unit.reads("continuity.leads-before", "5 ohm")
    unit.withdraw(again)
    assert unit.state.steps["continuity.leads-before"].status is StepStatus.open


def test_moulded_plug_is_looked_at_from_outside_and_its_fuse_alone(unit):
    unit.settle(unit.due)
    from benchapp.sequences.kinds.ask import AskAnswer

    unit.answer("visual-inspection.plug", AskAnswer(answer="moulded"))
    unit.record(EntryKind.fact, "", "MH", facts={"plug": "moulded"})
    state = unit.state
    assert state.facts["plug"] == "moulded"
    skipped = {a for a, s in state.steps.items() if s.status is StepStatus.skipped and a.startswith("plug-rewire")}
    assert skipped == {"plug-rewire.inside", "plug-rewire.rewire", "plug-rewire.plug-inside"}


def test_step_behind_a_question_waits_for_its_answer(unit):
    unit.go_to("plug-rewire.inside")
    state = unit.state.steps["plug-rewire.rewire"]
    assert state.status is StepStatus.shut
    assert "inside" in state.why


def test_class_two_has_no_earth_step(double_insulated):
    assert "continuity.earth" not in double_insulated.plan.by_address
    double_insulated.finish()
    assert double_insulated.state.complete
