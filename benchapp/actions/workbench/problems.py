"""What a person asked for and cannot have, as sentences."""

from benchapp.errors import BenchError


class Refused(BenchError):
    """The record does not allow it; nothing was recorded."""


class IntakeProblem(BenchError):
    """A lot cannot be taken in as asked; nothing was recorded."""


class ExportProblem(BenchError):
    """A file cannot be written as asked; no half of it is left behind."""
