"""What a printer, or the printing system, does not do, as sentences."""

from benchapp.errors import BenchError


class PrinterProblem(BenchError):
    """A document did not come onto paper: why, and what to do."""


NOTHING_RECORDED = "Nothing was recorded as printed."
