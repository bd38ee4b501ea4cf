"""Checkpoints, each marked."""

from benchapp.sequences.kinds.inspect import InspectAnswer
from tests.sequences.every_kind import tried


def test_every_checkpoint_must_be_marked(unit):
    step = unit.plan.step("visual-inspection.outside")
    marks = dict(unit.good(step).marks)
    assert "Still to look at" in tried(unit, step.address, InspectAnswer(marks={})).complaint
    assert "no checkpoint" in tried(unit, step.address, InspectAnswer(marks={**marks, "wings": "good"})).complaint
    assert (
        "applies to every unit"
        in tried(unit, step.address, InspectAnswer(marks={**marks, "cord": "does not apply"})).complaint
    )
    assert "no mark" in tried(unit, step.address, InspectAnswer(marks={**marks, "cord": "fine"})).complaint
