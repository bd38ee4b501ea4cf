"""What a unit is made for, or set at, is held against this place's mains before any power comes on."""

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import Accepted, EntryKind
from benchapp.sequences.planning.state import DueKind
from tests.sequences.bench import Refused, Unit, plan_of
from tests.sequences.interlock.edits import EDITS
from tests.sequences.interlock.walking import (
    CLASS_ONE,
    LIMITED,
    assert_open,
    assert_shut,
    make_ready,
    place_of,
    prepare,
    ready,
    retake,
)

SELECTOR = "visual-inspection.selector"


def row(unit, name):
    return next(one for one in unit.state.interlock[Supply.limited] if one.id == name)


def recorder_at(position):
    unit = Unit(plan_of("recorder", "tb-rec1"))
    unit.go_to(SELECTOR)
    unit.answer(SELECTOR, AskAnswer(answer=position))
    return unit


def test_the_shipped_designs_are_for_the_mains_of_great_britain():
    for route, design in (("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1")):
        unit = Unit(plan_of(route, design))
        assert row(unit, "setting").holds
        assert row(unit, "frequency").holds


def test_a_design_for_120_v_is_never_taken_to_230_v_and_is_told_the_way_on():
    unit = Unit(place_of(CLASS_ONE, EDITS["a plate for 120 V"]).plan)
    found = row(unit, "setting")
    assert not found.holds
    assert found.why.startswith("It is made for 120 V, and mains here is 230 V, by law up to 253 V.")
    assert "a transformer of its own" in found.why


def test_a_selector_at_220_v_does_not_fit_230_v_and_the_way_on_is_to_set_it():
    unit = recorder_at("220 V")
    found = row(unit, "setting")
    assert (found.holds, found.go_to) == (False, SELECTOR)
    assert "only a named supervisor accepts it" in found.why
    unit.answer(SELECTOR, AskAnswer(answer="240 V"))
    assert row(unit, "setting").holds


def test_whoever_answers_220_v_is_told_at_once():
    unit = Unit(plan_of("recorder", "tb-rec1"))
    unit.go_to(SELECTOR)
    tried = evaluate(unit.plan, unit.state, SELECTOR, AskAnswer(answer="220 V"), at=unit.at)
    assert any("stands at 220 V" in question for question in tried.questions)
    assert not evaluate(unit.plan, unit.state, SELECTOR, AskAnswer(answer="240 V"), at=unit.at).questions


def test_a_setting_that_does_not_fit_is_due_at_once_until_it_is_set_or_accepted():
    unit = recorder_at("220 V")
    due = unit.due
    assert (due.kind, due.address) == (DueKind.shut, SELECTOR)
    assert "stands at 220 V" in due.words
    assert [one.accepts for one in due.missing] == [Accepted.lower_rating.value]
    again = recorder_at("220 V")
    unit.record(EntryKind.acceptance, "", "MH", what=Accepted.lower_rating.value, reason="has always run so")
    again.answer(SELECTOR, AskAnswer(answer="240 V"))
    assert unit.due.address == again.due.address == "visual-inspection.inside-fuse"


def test_the_answers_of_a_selector_are_its_positions_and_none_of_them():
    step = plan_of("recorder", "tb-rec1").step(SELECTOR)
    assert [one.answer for one in step.model.answers] == [
        "240 V",
        "220 V",
        "none of these, or between two, loose or burnt",
    ]
    unit = Unit(plan_of("recorder", "tb-rec1"))
    unit.go_to(SELECTOR)
    with pytest.raises(Refused, match="none of the answers"):
        unit.answer(SELECTOR, AskAnswer(answer="120 V"))


def test_a_selector_at_no_position_settles_no_setting_and_is_a_fault():
    unit = recorder_at("none of these, or between two, loose or burnt")
    assert "selector setting" not in unit.state.facts
    assert [fault.part for fault in unit.state.faults] == ["selector"]


def test_iron_for_60_hz_is_not_taken_to_50_hz():
    unit = Unit(place_of(CLASS_ONE, EDITS["a plate for 60 Hz"]).plan)
    found = row(unit, "frequency")
    assert not found.holds
    assert "60 Hz" in found.why
    assert "runs hot" in found.why


def test_a_question_with_words_of_its_own_confirms_no_selector():
    unit = Unit(place_of("with a selector", EDITS["a selector that any word settles"]).plan)
    found = row(unit, "selector")
    assert not found.holds
    assert found.why == "no step of this route shows it"


def test_a_supervisor_on_the_list_accepts_220_v_by_name_and_with_a_reason():
    unit = recorder_at("220 V")
    what = Accepted.lower_rating.value
    with pytest.raises(Refused, match="may not do what a supervisor does"):
        unit.record(EntryKind.acceptance, what=what, reason="has always run so")
    with pytest.raises(Refused, match="Say why"):
        unit.record(EntryKind.acceptance, "", "MH", what=what, reason=" ")
    unit.record(EntryKind.acceptance, "", "MH", what=what, reason="has always run so")
    assert row(unit, "setting").holds


def test_nobody_accepts_120_v_on_230_v():
    unit = Unit(place_of(CLASS_ONE, EDITS["a plate for 120 V"]).plan)
    unit.record(EntryKind.acceptance, "", "MH", what=Accepted.lower_rating.value, reason="in a hurry")
    assert not row(unit, "setting").holds


def test_a_supervisor_accepts_iron_for_60_hz_on_50_hz_by_name():
    unit = Unit(place_of(CLASS_ONE, EDITS["a plate for 60 Hz"]).plan)
    assert "named supervisor accepts it" in row(unit, "frequency").why
    unit.record(EntryKind.acceptance, "", "MH", what=Accepted.frequency.value, reason="cool after an hour")
    assert row(unit, "frequency").holds


def test_another_plug_keeps_mains_away_until_one_of_this_place_is_fitted():
    unit = ready(CLASS_ONE)
    another = "another kind, in an adaptor, or for a lampholder"
    unit.answer("visual-inspection.plug", AskAnswer(answer=another))
    assert_shut(unit, LIMITED, "plug", "faults")
    fault = next(one for one in unit.state.faults if one.status.value == "open")
    unit.record(EntryKind.repair, part="plug", done="a 13 A plug fitted", opened=["plug"], fault=fault.entry)
    prepare(unit, "visual-inspection.plug")
    unit.answer("visual-inspection.plug", AskAnswer(answer="rewirable"))
    retake(unit)
    make_ready(unit)
    assert_open(unit, LIMITED)
