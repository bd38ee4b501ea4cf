"""What can be wrong with bands, budgets, limits and meters, as sentences."""

from benchapp.errors import BenchError


class AcceptProblem(BenchError):
    """An accept expression that cannot be used; `position` is the offending character, counted from 0."""

    def __init__(self, sentence: str, *, position: int = 0) -> None:
        super().__init__(sentence)
        self.position = position


class AccuracyProblem(BenchError):
    """An accuracy statement that cannot be read."""


class BandProblem(BenchError):
    """Limits that contradict themselves or are no numbers."""


class BudgetProblem(BenchError):
    """Sources that cannot be combined."""


class LeadsProblem(BenchError):
    """A resistance that the leads' correction brings below zero: they were not measured as they are now."""


class LimitProblem(BenchError):
    """A limit that this region does not state, or that cannot be worked out from what is known of the unit."""


class MeterProblem(BenchError):
    """A meter record that contradicts itself, or a reading that the meter cannot have given.

    `key` leads from what was checked to the spot inside it, for the complaint about a file.
    """

    def __init__(self, sentence: str, *, key: tuple[str | int, ...] = ()) -> None:
        super().__init__(sentence)
        self.key = key


class RangeProblem(BenchError):
    """A reading that this meter cannot have given, or a range that it does not have."""
