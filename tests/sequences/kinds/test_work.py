"""Actions, each confirmed."""

from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.language.vocabulary import Supply
from tests.sequences.every_kind import tried


def test_every_action_must_be_confirmed(unit):
    step = next(one for one in unit.plan.steps if one.kind == "work" and one.supply is Supply.none)
    first, *others = step.model.do
    assert f"Still to do: {first}" in tried(unit, step.address, WorkAnswer(done=())).complaint
    assert tried(unit, step.address, WorkAnswer(done=(first, *others))).judgement == "pass"
