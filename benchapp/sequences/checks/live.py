"""What a sequence that can hurt must say before its first step."""

from collections.abc import Iterator

from benchapp.files.locations import Complaint
from benchapp.judgement.meters.functions import Function
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.language.models import SequenceFile
from benchapp.sequences.language.vocabulary import Supply


def check_header(walk: Walk) -> Iterator[Complaint]:
    """A sequence that can hurt has a caution, which is read and acknowledged before its first step."""
    sequence = walk.sequence
    if sequence.cautions:
        return
    if sequence.supply is not Supply.none:
        what = f"this sequence works on {sequence.supply} supply and names no caution"
        yield walk.complain(("supply",), what, "cautions: [mains-live]")
    elif tests_insulation(sequence):
        what = "this sequence tests insulation with some hundred volts and names no caution"
        yield walk.complain(("steps",), what, "cautions: [insulation-test]")


def tests_insulation(sequence: SequenceFile) -> bool:
    """Whether a step of it charges the unit with the some hundred volts of an insulation test."""
    return any(getattr(step, "function", "") == Function.insulation for step in sequence.steps)
