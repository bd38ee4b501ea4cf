"""What a person asked for and cannot have, as sentences."""

from benchapp.errors import BenchError


class Refused(BenchError):
    """The record does not allow it; nothing was recorded."""


class TooSoon(Refused):
    """It could be recorded but for the time that it takes at least: in so many seconds it can."""

    def __init__(self, sentence: str, seconds: float) -> None:
        super().__init__(sentence)
        self.seconds = seconds


class IntakeProblem(BenchError):
    """A lot cannot be taken in as asked; nothing was recorded."""


class ExportProblem(BenchError):
    """A file cannot be written as asked; no half of it is left behind."""
