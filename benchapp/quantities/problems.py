"""What can be wrong with a typed value or a formula, as sentences."""

from benchapp.errors import BenchError


class EntryProblem(BenchError):
    """A typed text that is no value the bench can use; nothing was changed by it."""


class FormulaProblem(BenchError):
    """A formula that cannot be read or worked out; `position` is the offending character, counted from 0."""

    def __init__(self, sentence: str, *, position: int) -> None:
        super().__init__(sentence)
        self.position = position
