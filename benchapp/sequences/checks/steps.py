"""Whether each step of a sequence makes sense: its set-up, roles, names of facts, and what its kind checks.

Everything that can be known without a unit at hand is checked here, when the file is read, never when a technician
holds the probes.
"""

from collections.abc import Iterator

from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key
from benchapp.judgement.meters.functions import Function
from benchapp.sequences.checks.checked_kind import CheckedKind, reading_kind
from benchapp.sequences.checks.facts import check_wanted
from benchapp.sequences.checks.sequence_context import CheckContext, Walk
from benchapp.sequences.checks.set_up import check_set_up
from benchapp.sequences.checks.written_values import check_fault
from benchapp.sequences.language.models import SequenceFile, Step, id_of
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.place_words import NAMES, names_in
from benchapp.sequences.planning.role_eligibility import why_not


def check_steps(sequence: SequenceFile, document: Document, known: CheckContext) -> Iterator[Complaint]:
    """Every complaint about the steps of one sequence."""
    walk = Walk(sequence=sequence, document=document, known=known)
    yield from _check_header(walk)
    yield from check_wanted(walk, ("fits",), sequence.fits)
    for number, step in enumerate(sequence.steps):
        key: Key = ("steps", number)
        if id_of(step) in walk.seen:
            where = (*key, CheckedKind.of(step).name)
            yield walk.complain(where, f"there is a step “{id_of(step)}” already", "an id of its own")
        yield from _check_step(walk, key, step)
        walk.seen[id_of(step)] = reading_kind(step)
        walk.done[id_of(step)] = step


def readings_named(sequence: SequenceFile) -> Iterator[tuple[Key, str]]:
    """Every value that a formula of the sequence names, with the key of the formula; none of a formula in error."""
    for number, step in enumerate(sequence.steps):
        for field, names in CheckedKind.of(step).names_used(step).items():
            yield from ((("steps", number, field), name) for name in sorted(names))


def _check_step(walk: Walk, key: Key, step: Step) -> Iterator[Complaint]:
    yield from check_wanted(walk, (*key, "when"), step.when)
    yield from check_set_up(walk, (*key, "set up"), step)
    yield from check_fault(walk, key, getattr(step, "fault", None), planned=bool(getattr(step, "path", "")))
    for number, role in enumerate(step.shows):
        reason = why_not(walk.sequence, step, role)
        if reason:
            yield walk.complain((*key, "shows", number), f"this step cannot show “{role}”: {reason}")
    for name in dict.fromkeys(names_in(step)):
        if name not in NAMES:
            yield walk.unknown(key, f"“{{{name}}}” stands for no word of a place", name, NAMES)
    yield from CheckedKind.of(step).check(walk, key, step)


def _check_header(walk: Walk) -> Iterator[Complaint]:
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
