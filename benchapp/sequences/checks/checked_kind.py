"""What checking a file asks of every kind of step."""

from abc import abstractmethod
from collections.abc import Iterator, Mapping

from benchapp.errors import BenchError
from benchapp.files.locations import Complaint, Key
from benchapp.quantities.dimensions import Kind
from benchapp.sequences.answering.evaluate import JudgedKind
from benchapp.sequences.checks.fit import Fit
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.language.step_kind import Written
from benchapp.sequences.language.steps import StepBase
from benchapp.sequences.language.vocabulary import Facts, FactValue
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.entries import StepAnswer


class CheckedKind(JudgedKind, asks=True):
    """A kind as the checks of files know it."""

    gives_answer = False
    """whether the `when` of a later step may compare with the answer"""

    @abstractmethod
    def check(self, walk: Walk, key: Key, step: Written) -> Iterator[Complaint]:
        """Complaints about the step, which stands under `key`, beside those about what every step has."""

    @abstractmethod
    def case_answer(self, step: Written, line: CaseLine, facts: Facts) -> StepAnswer:
        """The answer that a line of a worked case stands for, on a unit with these facts."""

    def check_fit(self, fit: Fit, step: Written) -> Iterator[Complaint]:  # noqa: ARG002
        """Complaints about the step on one design."""
        yield from ()

    def places(self, step: Written) -> Iterator[tuple[str, Key, str]]:  # noqa: ARG002
        """What of a design the step names: "terminal" or "connector", its key below the step, and the name."""
        yield from ()

    def reading_kind(self, step: Written) -> Kind | None:  # noqa: ARG002
        """The kind of the reading that the step leaves to later formulas; raises BenchError or ValueError."""
        return None

    def names_used(self, step: Written) -> Mapping[str, frozenset[str]]:  # noqa: ARG002
        """The values that formulas of the step name, by the key of the formula; none of one in error."""
        return {}

    def answers(self, step: Written) -> frozenset[str] | None:  # noqa: ARG002
        """What a later `when` can compare with; None where it can be any text."""
        return None

    def fact_values(self, step: Written) -> frozenset[FactValue] | None:  # noqa: ARG002
        """What the fact that the step settles can become; None where it can be anything."""
        return None


def reading_kind(step: StepBase) -> Kind | None:
    """The kind of the reading that a step leaves behind; None when it leaves none or its function is unknown."""
    try:
        return CheckedKind.of(step).reading_kind(step)
    except (BenchError, ValueError):
        return None


def nothing_more(_kind: CheckedKind, walk: Walk, key: Key, step: Written) -> Iterator[Complaint]:  # noqa: ARG001
    """The check of a step whose model has said all there is to complain about."""
    yield from ()
