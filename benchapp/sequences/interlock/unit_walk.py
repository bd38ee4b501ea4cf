"""One walk along a unit's history that gives its state before every entry, for answers to be judged and the gate asked.

At every entry it says what a fold of the entries before would say; no entry is taken more than once under one plan.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from benchapp.sequences.history.unit_history import UnitHistory
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.interlock.due import EngineState
from benchapp.sequences.interlock.fold import answering_state, look
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.planned import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The unit right before an entry, at the entry's time; it may be asked until the walk goes on."""

    plan: Plan
    state: AnsweringState
    engine: EngineState


class UnitWalk:
    """Goes along one unit's entries, oldest first; each may be looked at under a plan of its own."""

    def __init__(self) -> None:
        self._entries: list[Entry] = []
        self._histories: dict[int, UnitHistory] = {}
        self._taken: dict[int, int] = {}

    def before(self, plan: Plan, at: str) -> Standing:
        """The unit after all that was taken so far, at that time, under that plan."""
        engine = look(self._history(plan), at=at)
        return Standing(plan=plan, state=answering_state(engine), engine=engine)

    def take(self, entry: Entry) -> None:
        """Go on by one entry."""
        self._entries.append(entry)

    def _history(self, plan: Plan) -> UnitHistory:
        """The history under that plan, brought up to here; one plan is one object, however often it comes."""
        key = id(plan)
        history = self._histories.get(key) or self._histories.setdefault(key, UnitHistory(plan))
        for entry in self._entries[self._taken.get(key, 0) :]:
            self._taken[key] = self._taken.get(key, 0) + 1  # never twice, even where it cannot be taken
            history.take(entry)
        return history


def walk(plan_of: Callable[[Entry], Plan], entries: Iterable[Entry]) -> Iterator[tuple[Entry, Standing]]:
    """Each entry with the unit right before it, under the entry's own plan."""
    along = UnitWalk()
    for entry in entries:
        yield entry, along.before(plan_of(entry), entry.at)
        along.take(entry)
