"""A wait is over when its whole span has passed."""

from benchapp.sequences.kinds.wait import WaitAnswer
from tests.sequences.every_kind import tried


def test_wait_lasts_its_whole_span(each):
    assert "to go" in tried(each, "every-kind.cool", WaitAnswer(seconds=60)).complaint
    assert "cut short" in tried(each, "every-kind.cool", WaitAnswer(seconds=60, stopped=True)).complaint
    assert tried(each, "every-kind.cool", WaitAnswer(seconds=120)).judgement == "pass"
