"""The one base of every error that a person reads.

A subclass takes facts and composes the sentence: what is wrong with the value quoted, where, and what to do next.
A unit that fails a test is a result, not an error.
"""


class BenchError(ValueError):
    """A sentence for people; shown as it stands by screens and by the console (exit code 2).

    A ValueError, so that a validator of a file's model may raise it and the reader of files adds the line.
    """

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


class Cancelled(BenchError):
    """Long work was stopped by the person who asked for it."""

    def __init__(self, what: str) -> None:
        super().__init__(f"{what} was stopped; nothing was kept of it.")
