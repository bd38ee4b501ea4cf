"""How long is "10 min"? Spans of time as authors write them, in seconds."""

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity


def seconds_of(text: str) -> float:
    """The span in seconds; raises EntryProblem for a text that is none."""
    return read_quantity(text, kind=Kind.time).si
