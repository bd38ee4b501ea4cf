"""What can go wrong on the way to paper, as sentences."""

from benchapp.errors import BenchError


class PaperProblem(BenchError):
    """A page that cannot be printed as asked: what is wrong, on which tag or sheet, and what to do."""
