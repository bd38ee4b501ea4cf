"""How each step stands by its answers, whatever the time: skipped, shut, open, done, failed or stale.

What readings before and after it make of an answer is added here too; what time makes of it, in `step_evaluation`.
"""

from collections.abc import Mapping
from dataclasses import replace

from benchapp.judgement.meters.functions import Function
from benchapp.sequences.history.lead_proofs import doubt_open_leads
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.on_demand import OnDemand
from benchapp.sequences.history.step_view import StepView, doubted, without_good
from benchapp.sequences.language.step_kind import known_kinds
from benchapp.sequences.language.vocabulary import FactValue, Role
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import StepState, StepStatus

CHANGED = "this step has changed since"
"""Said of an answer that another revision of the sequence asked for."""
OF_THE_SITE = (
    "That is this place's mains, no fault of this unit: the live work waits. Off at the wall or plug out; read it "
    "again when the mains is back."
)
"""Said of a mains reading that does not do: whatever hangs on that socket would read it so."""


class StepStates:
    """The states of a plan's steps at any time; each is kept until the ledger says that something has touched it."""

    def __init__(self, plan: Plan, ledger: Ledger) -> None:
        self._plan = plan
        self._ledger = ledger
        self._facts = ledger.facts(plan)
        self._is_begun = False
        self._answers = OnDemand({stage.id: stage for stage in plan.stages}, self._known_in)
        self._answered = OnDemand(plan.by_address, self._state)
        answered = StepView(plan=plan, ledger=ledger, steps=self._answered)
        self._insulated = doubted(((_doubt_insulation, answered),))
        insulated = StepView(plan=plan, ledger=ledger, steps=self._insulated)
        self._proved = doubted(((_doubt_insulation, answered), (doubt_open_leads, insulated)))
        self.view = StepView(plan=plan, ledger=ledger, steps=self._proved)

    def bring_up_to_date(self) -> None:
        """Forget what the entries since the last time have touched."""
        facts, touched = self._ledger.facts(self._plan), self._ledger.touched
        if not self._is_begun:
            self._facts, self._is_begun = facts, True
            touched.clear()
            return
        if facts is not self._facts:
            before, self._facts = self._facts, facts
            self._answers.forget(*self._answers)
            touched.update(address for name in _changed(before, facts) for address in self._plan.waiting_for(name))
        for address in tuple(touched):
            stage, _, name = address.partition(".")
            self._answers.forget(stage)
            touched.update(self._plan.waiting_for(name))
        self._answered.forget(*touched)
        beside = set().union(*(self._plan.judged_with(address) for address in touched))
        self._insulated.forget(*beside)
        self._proved.forget(*beside)
        touched.clear()

    def _known_in(self, stage: str) -> Mapping[str, FactValue]:
        """Facts of the unit, and the answers in that stage that later steps of it may wait for."""
        known = dict(self._facts)
        for step in self._plan.stage(stage).steps:
            _note_answer(known, self._facts, step, self._ledger)
        return known

    def _state(self, address: str) -> StepState:
        step = self._plan.by_address[address]
        known = self._facts if step.way_back or not step.when else self._answers[step.stage]
        return _step_state(self._plan, self._ledger, step, known)


def _changed(before: Mapping[str, FactValue], now: Mapping[str, FactValue]) -> list[str]:
    """Names of the facts that came, went or are otherwise now; yes is not 1 here."""
    gone = [name for name in before if name not in now]
    said = [name for name, value in now.items() if name not in before or not _alike(before[name], value)]
    return gone + said


def _alike(before: FactValue, now: FactValue) -> bool:
    return type(before) is type(now) and before == now


def _note_answer(
    known: dict[str, FactValue], facts: Mapping[str, FactValue], step: PlannedStep, ledger: Ledger
) -> None:
    """Let later steps of the sequence ask for this one's answer by its id; a fact of the same name is the fact's."""
    latest, name = ledger.latest(step.address), step.address.partition(".")[2]
    if latest is None or latest.number in ledger.withdrawn or latest.content.compared is None or name in facts:
        return
    known[name] = latest.content.compared


def _step_state(plan: Plan, ledger: Ledger, step: PlannedStep, known: Mapping[str, FactValue]) -> StepState:
    does, why = applies(step.when, known)
    if does is False:
        return StepState(address=step.address, status=StepStatus.skipped, why=why)
    if step.function is Function.insulation and not plan.workshop.insulation_tester:
        return StepState(address=step.address, status=StepStatus.skipped, why="this workshop has no insulation tester")
    if why_not := plan.cannot_read(step):
        return StepState(address=step.address, status=StepStatus.skipped, why=why_not)
    if step.kind not in known_kinds():
        why = f"this program knows no kind of step “{step.kind}”"
    if does is None or step.kind not in known_kinds():
        return StepState(address=step.address, status=StepStatus.shut, why=why)
    return _answered(ledger, step)


def _answered(ledger: Ledger, step: PlannedStep) -> StepState:
    latest = ledger.latest(step.address)
    if latest is None or latest.number in ledger.withdrawn:
        why = "" if latest is None else "the answer was withdrawn"
        return StepState(address=step.address, status=StepStatus.open, why=why)
    judgement = latest.content.judgement.value
    said = StepState(address=step.address, status=StepStatus.done, judgement=judgement, entry=latest.number, holds=True)
    if latest.number in ledger.outdated:
        return replace(said, status=StepStatus.stale, why=CHANGED, holds=False)
    if ledger.is_stale(step.address, latest.number):
        return replace(said, status=StepStatus.stale, why=ledger.stale[step.address].why, holds=False)
    if ledger.good(latest) or (judgement == "not judged" and not latest.content.to_judge):
        return said
    why, status = latest.content.sentence, StepStatus.failed
    if Role.mains in step.shows:
        why, status = f"{why} {OF_THE_SITE}", StepStatus.open
    elif judgement == "not judged":
        status = StepStatus.open
    return replace(said, status=status, why=why, holds=False)


def _doubt_insulation(view: StepView, step: PlannedStep, state: StepState) -> StepState:
    if step.function is not Function.insulation or Role.insulation not in step.shows:
        return state
    primary = [s for s in view.showing(Role.primary) if view.holding(s)]
    shown_at = min((view.steps[s.address].entry or 0 for s in primary), default=0)
    taken_at = state.entry or 0
    if not shown_at or taken_at < shown_at:
        return without_good(state, "the primary was not shown to be whole before it", show=bool(shown_at))
    return state
