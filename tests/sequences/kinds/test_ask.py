"""A question, and what its answer settles."""

from benchapp.sequences.kinds.ask import AskAnswer
from tests.sequences.every_kind import tried


def test_value_that_is_told_becomes_a_fact(each):
    each.answer("every-kind.length", AskAnswer(answer="2.5"))
    assert each.state.facts["cord length"] == 2.5
    assert each.state.steps["every-kind.length"].status.value == "done"


def test_answer_that_is_merely_noted_passes(each):
    found = tried(each, "every-kind.note-only", AskAnswer(answer="No"))
    assert found.judgement == "pass"
    assert not found.content.faults


def test_answer_must_be_one_of_those_offered(each):
    assert "none of the answers" in tried(each, "every-kind.note-only", AskAnswer(answer="perhaps")).complaint
