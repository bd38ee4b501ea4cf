"""Photos are counted."""

from benchapp.sequences.kinds.photo import PhotoAnswer
from tests.sequences.every_kind import tried


def test_photos_are_counted(each):
    assert "1 more" in tried(each, "every-kind.plate", PhotoAnswer(photos=("a",))).complaint
    assert tried(each, "every-kind.plate", PhotoAnswer(photos=("a", "b"))).judgement == "pass"
