"""A unit's history under one plan, entry by entry: the ledger, and how the steps stand at any time."""

from collections.abc import Iterable

from benchapp.sequences.history.bookkeeping import take_entry
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.step_evaluation import StepEvaluation, evaluate_steps
from benchapp.sequences.history.step_states import StepStates
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.planned import Plan


class UnitHistory:
    """Entries are taken oldest first. What an entry does not touch is not worked out again."""

    def __init__(self, plan: Plan, entries: Iterable[Entry] = ()) -> None:
        self.plan = plan
        self.ledger = Ledger()
        self._states = StepStates(plan, self.ledger)
        for entry in entries:
            self.take(entry)

    def take(self, entry: Entry) -> None:
        """Go on by one entry; what was asked before is no longer true of the unit."""
        take_entry(self.ledger, self.plan, entry)

    def evaluation(self, at: str) -> StepEvaluation:
        """How every step stands at that time; to be used before the next entry is taken."""
        self._states.bring_up_to_date()
        return evaluate_steps(self._states.view, at)
