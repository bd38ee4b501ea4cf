"""The state that the last entry of a unit left it in, kept for the page that is shown next: it is not folded twice."""

from typing import TYPE_CHECKING

from benchapp.actions.workbench.histories import History

if TYPE_CHECKING:
    from benchapp.sequences.history.unit_state import UnitState
    from benchapp.sequences.planning.planned import Plan

MOMENTS = 10.0
"""seconds for which a state still stands: what a page says of time is told to no less (own choice)"""


class JustRecorded:
    """The last state of one unit; another window's entry, another plan or a few seconds make it worth nothing."""

    def __init__(self) -> None:
        self._kept: tuple[str, UnitState] | None = None

    def keep(self, entry: str, state: "UnitState") -> None:
        """Keep the state right after the entry of that UUID; nobody goes on with the history it was made from."""
        self._kept = (entry, state)

    def state(
        self, history: History, plan: "Plan", *, at: str, stage: str = "", address: str = "", by: str = ""
    ) -> "UnitState | None":
        """What a fold of this history says at that time, where its last entry was recorded here moments ago."""
        from benchapp.sequences.interlock.fold import moments_later
        from benchapp.sequences.planning.entry_times import seconds_between

        if self._kept is None or not history.entries or history.entries[-1].uuid != self._kept[0]:
            return None
        state = self._kept[1]
        if state.evaluation is None or state.evaluation.plan is not plan:
            return None
        if not 0 <= seconds_between(state.at, at) <= MOMENTS:
            return None
        return moments_later(state, at=at, stage=stage, address=address, by=by)
