"""What can be taken back by a withdrawal: what was said of a unit, never what happened to it."""

from benchapp.sequences.history.probes import is_probe
from benchapp.sequences.planning.answer_content import is_answer
from benchapp.sequences.planning.entries import Entry, is_of
from benchapp.sequences.planning.entry_contents import UnitPhotosContent


def can_be_withdrawn(entry: Entry) -> bool:
    """Whether it is an answer, a reading beside the route, or photos that may be of another unit."""
    return is_answer(entry) or is_probe(entry) or is_of(entry, UnitPhotosContent)
