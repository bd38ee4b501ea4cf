"""What a page is shown of a unit: plan and state, the step it is about, and where that stands; Qt-free."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.sequences.history.unit_state import UnitState
    from benchapp.sequences.planning.entries import StepAnswer
    from benchapp.sequences.planning.planned import Plan, PlannedStep
    from benchapp.sequences.planning.state import Condition, Evaluation

LIVE = ("limited", "full")
WITHOUT_MAINS = ("fault", "repair")
"""what is due with the plug out, whichever step it follows from"""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitView:
    """One unit as it stands, with the step at hand (None when no step is)."""

    mark: str
    lot: str
    plan: "Plan"
    state: "UnitState"
    step: "PlannedStep | None"
    held: str = ""
    """why the unit is on hold whatever its entries say; empty when it is not"""
    record_fault: str = ""
    """what of its record does not hold, as a sentence; empty while it holds"""

    @property
    def title(self) -> str:
        """What the unit is."""
        return str(self.plan.equipment.title)

    @property
    def live(self) -> bool:
        """Whether mains is, may be or was just on the unit: the key for smoke and smell holds then."""
        return self.state.energised or self.supply in LIVE

    @property
    def may_need_off(self) -> bool:
        """Whether there may be something to switch off: the bar for smoke and smell is in sight then."""
        return self.state.energised or (self.supply in LIVE and str(self.state.due.kind) not in WITHOUT_MAINS)

    @property
    def may_be_live(self) -> bool:
        """Whether it may not be left: mains or charge may be on it, or the page at hand puts mains on it."""
        return self.state.energised or (self.supply in LIVE and str(self.state.due.kind) == "step" and self._plugs_in)

    @property
    def _plugs_in(self) -> bool:
        """Whether the step at hand is more than what is said before anything is plugged in."""
        from benchapp.sequences.planning.limiters import LIMITER_FACTS

        return self.step is not None and self.step.settles not in LIMITER_FACTS

    @property
    def on_live_page(self) -> bool:
        """Whether the page at hand is one of live work that is under way: from there the way back can be gone."""
        return self.state.energised and self.step is not None and not self.step.way_back

    @property
    def supply(self) -> str:
        """What feeds the unit at the step at hand: none, limited or full."""
        return str(self.step.supply) if self.step is not None else "none"

    @property
    def stage_title(self) -> str:
        """The stage of the step at hand."""
        if self.step is None:
            return ""
        try:
            return self.plan.stage(self.step.stage).title
        except KeyError:
            return ""

    @property
    def position(self) -> tuple[int, int]:
        """The number of the step at hand among those that apply to this unit in its stage, from 1; and how many."""
        if self.step is None:
            return 0, 0
        steps = self._steps_back() if self.step.way_back else self._stage_steps()
        addresses = [step.address for step in steps]
        here = addresses.index(self.step.address) + 1 if self.step.address in addresses else 0
        return here, len(addresses)

    def conditions_of(self, supply: str) -> "tuple[Condition, ...]":
        """The rows of the interlock for a step fed so: none, limited or full."""
        return next((rows for fed, rows in self.state.interlock.items() if str(fed) == supply), ())

    def evaluate(self, given: "StepAnswer", at: str) -> "Evaluation":
        """What an answer to the step at hand would be worth at that time; nothing is recorded."""
        from benchapp.sequences.answering.evaluate import evaluate

        assert self.step is not None
        return evaluate(self.plan, self.state, self.step.address, given, at=max(at, self.state.at))

    def _steps_back(self) -> list["PlannedStep"]:
        """What is read with the cover off counts by itself: most ways back have none of it."""
        assert self.step is not None
        return [step for step in self.plan.way_back if step.inside == self.step.inside]

    def _stage_steps(self) -> list["PlannedStep"]:
        def applies(step: "PlannedStep") -> bool:
            known = self.state.steps.get(step.address)
            return known is None or str(known.status) != "skipped"

        assert self.step is not None
        return [step for step in self.plan.steps if step.stage == self.step.stage and applies(step)]


def view_of(bench: "Bench", mark: str, *, stage: str = "", address: str = "", by: str = "") -> UnitView:
    """The unit as it stands now, with what is due of that person: of the whole route, of one stage, or at that step.

    The history is read once: plan, state and lot are of the same entries, whatever another window writes meanwhile.
    """
    history = bench.history(mark)
    plan = bench.plan_of(history)
    state = bench.state_of(history, plan, at=bench.now(history), stage=stage, address=address, by=by)
    return UnitView(
        mark=mark,
        lot=history.lot,
        plan=plan,
        state=state,
        step=plan.by_address.get(state.due.address),
        held=bench.unit(mark).held,
        record_fault=bench.record_fault(mark),
    )


def moved_on(bench: "Bench", view: UnitView) -> bool:
    """Whether another window recorded something of this unit since it was shown; false where it cannot be read."""
    from benchapp.errors import BenchError

    try:
        return len(bench.history(view.mark).entries) > view.state.last_entry
    except BenchError:
        return False


def model_field(step: "PlannedStep | None", name: str, default: Any = None) -> Any:  # noqa: ANN401
    """A field of the step's own model; `default` where this kind of step has none."""
    return getattr(step.model, name, default) if step is not None else default
