"""What is due next: the first thing in the order of the route that is not settled.

A technician may also take one stage across the lot, or choose a step: then the same is asked of that alone.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from benchapp.sequences.answering.instruments import functions_of, meters_for, meters_on_offer
from benchapp.sequences.history.faults import fault_status, is_taken_back, open_faults
from benchapp.sequences.history.ledger import Fault
from benchapp.sequences.history.retest import may_reach_inside
from benchapp.sequences.history.step_evaluation import WANTED, StepEvaluation, waits_for_mains
from benchapp.sequences.interlock.dispositions import current_disposition
from benchapp.sequences.interlock.live_conditions import AT_HAND, acknowledged, cautions_of
from benchapp.sequences.interlock.mains_conditions import SETTING
from benchapp.sequences.interlock.old_hazards import stops_here, what_to_do
from benchapp.sequences.interlock.set_up import is_set_up, items_due
from benchapp.sequences.interlock.way_back import is_energised, must_go_back_first, next_step_back, reservoir_to_read
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import Condition, Due, DueKind, FaultStatus, StepStatus
from benchapp.sequences.planning.step_names import name_within
from benchapp.sequences.planning.terminals import say_set_up
from benchapp.words import say

SETTLED = frozenset({"for sale", "spares or repair", "scrap", "keep"})
"""Dispositions that leave nothing to do."""

AT_REST = SETTLED - {"for sale"}
"""Of these, those that time does not move: dead tests under a sale grow old."""

Rows = Mapping[Supply, tuple[Condition, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineState:
    """What the question rests on: the steps, and the interlock's rows."""

    evaluation: StepEvaluation
    rows: Rows

    @property
    def disposition(self) -> str:
        """The disposition that stands."""
        return current_disposition(self.evaluation)

    @property
    def withdrawn(self) -> Collection[int]:
        """The numbers of the answers that were taken back."""
        return self.evaluation.ledger.withdrawn


def find_due(engine: EngineState, *, stage: str = "", address: str = "") -> Due:
    """The next thing to do: of the whole route, of one stage, or what the step of that address still needs."""
    evaluation = engine.evaluation
    chosen = evaluation.plan.by_address.get(address)
    if chosen is not None:
        return _chosen(engine, chosen)
    disposition = engine.disposition
    if disposition in SETTLED:
        return Due(
            kind=DueKind.finished, words=say("Its disposition is settled: {disposition}.", disposition=disposition)
        )
    if _set_on_hold(evaluation) and not is_energised(evaluation):
        return Due(kind=DueKind.held, words=say("It is on hold. A supervisor decides what becomes of it."))
    stopped = stops_here(evaluation)
    if stopped and not is_energised(evaluation):
        return Due(kind=DueKind.held, words=what_to_do(evaluation.plan, stopped))
    for due in _things_left(engine, stage):
        return due
    if is_energised(evaluation):
        return _way_back(evaluation)
    if stage:
        return Due(kind=DueKind.finished, words=say("This stage has nothing left to do on this unit."))
    return Due(kind=DueKind.finished, words=say("Everything is done. Give it its disposition, grade and price."))


def _chosen(engine: EngineState, step: PlannedStep) -> Due:
    """What stands between the technician and a step of his choice: a condition, the way back, a caution, a meter."""
    evaluation = engine.evaluation
    if evaluation.status(step) is StepStatus.shut:
        return _shut(engine, step)
    if must_go_back_first(evaluation, step):
        return _way_back(evaluation)
    kind = DueKind.way_back if step.way_back else DueKind.step
    return what_is_needed(evaluation, step) or _do(evaluation, step, kind)


def _things_left(engine: EngineState, stage: str) -> Iterator[Due]:
    evaluation = engine.evaluation
    steps = [step for step in evaluation.plan.steps if stage in ("", step.stage)]
    faults = [one for one in open_faults(evaluation) if fault_status(evaluation, one) is FaultStatus.open]
    addresses = {step.address for step in evaluation.plan.steps}
    for fault in faults:
        if (fault.hazard or fault.address not in addresses) and not stage:
            yield _repair(evaluation, fault)
    for step in steps:
        mine = next((one for one in faults if one.address == step.address), None)
        if mine is not None and not _is_looked_at_again(evaluation, mine, step):
            yield _repair(evaluation, mine)
        elif evaluation.status(step) in WANTED:
            yield _step_due(engine, step)
        elif evaluation.status(step) is StepStatus.shut:
            yield _shut(engine, step)
        elif row := _misfit_at(engine, step):
            yield _kept_away(engine, step, (row,))


def _is_looked_at_again(evaluation: StepEvaluation, fault: Fault, step: PlannedStep) -> bool:
    """Whether its answer was taken back, so that the step is asked again before anything is mended."""
    return is_taken_back(evaluation.ledger, fault) and evaluation.status(step) is not StepStatus.skipped


def _look_again(evaluation: StepEvaluation, step: PlannedStep) -> str:
    """What was found at the step and taken back, and is to be looked for again; empty for nothing."""
    found = (
        (fault.words or fault.part).rstrip(".")
        for fault in open_faults(evaluation)
        if fault.address == step.address and is_taken_back(evaluation.ledger, fault)
    )
    words = "; ".join(found)
    return (
        say("Found here, and taken back: {words}. Look again: it stays open until then.", words=words) if words else ""
    )


def _set_on_hold(evaluation: StepEvaluation) -> bool:
    """Whether a person has put it on hold; one that the engine holds for a hazard waits for its repair instead."""
    entry = evaluation.ledger.disposition
    return entry is not None and entry.content.disposition == "hold"


def _shut(engine: EngineState, step: PlannedStep) -> Due:
    missing = missing_for(engine.rows, step)
    if not missing:
        return Due(kind=DueKind.shut, address=step.address, words=engine.evaluation.steps[step.address].why)
    return _kept_away(engine, step, missing)


def _misfit_at(engine: EngineState, step: PlannedStep) -> Condition | None:
    """A setting that does not fit this place's mains is said where it was seen, not only before power."""
    if Role.selector not in step.shows:
        return None
    rows = (row for supply in engine.rows.values() for row in supply)
    return next((row for row in rows if row.id == SETTING and not row.holds and row.go_to == step.address), None)


def _kept_away(engine: EngineState, step: PlannedStep, missing: tuple[Condition, ...]) -> Due:
    if is_energised(engine.evaluation):
        return _way_back(engine.evaluation)
    why = "; ".join((row.why or row.words).rstrip(".") for row in missing)
    words = say("Mains stays away from this unit: {why}.", why=why)
    return Due(kind=DueKind.shut, address=step.address, words=words, missing=missing)


def _repair(evaluation: StepEvaluation, fault: Fault) -> Due:
    inside = may_reach_inside(evaluation.plan, fault.part, ())
    if is_energised(evaluation) or (inside and reservoir_to_read(evaluation) is not None):
        return _way_back(evaluation)
    words = say("{what}. Mend it, or settle the unit's disposition.", what=(fault.words or fault.part).rstrip("."))
    if fault.hazard:
        words = say(
            "{what}. It gets no power again before the cause is found: search for it, plug out. If "
            "nothing is found it stays as it is: do not use.",
            what=(fault.words or fault.part).rstrip("."),
        )
    return Due(kind=DueKind.repair, address=fault.address, words=words, subject=str(fault.entry))


def _step_due(engine: EngineState, step: PlannedStep) -> Due:
    evaluation = engine.evaluation
    failed = evaluation.status(step) is StepStatus.failed
    if failed and Role.leads not in step.shows:
        words = say("{why} Take it again, or record the fault.", why=evaluation.steps[step.address].why or "It failed.")
        return Due(kind=DueKind.fault, address=step.address, words=words)
    early = too_early(evaluation, step)
    if early is not None:
        return Due(kind=DueKind.shut, address=step.address, words=early.why, missing=(early,))
    if must_go_back_first(evaluation, step):
        return _way_back(evaluation)
    return what_is_needed(evaluation, step) or _do(evaluation, step, DueKind.step)


def _way_back(evaluation: StepEvaluation) -> Due:
    step = next_step_back(evaluation) or reservoir_to_read(evaluation)
    if step is None:
        words = say("Unplug it and keep the plug in sight. This route has no way back: ask the supervisor.")
        return Due(kind=DueKind.way_back, words=words)
    return what_is_needed(evaluation, step) or _do(evaluation, step, DueKind.way_back)


def _do(evaluation: StepEvaluation, step: PlannedStep, kind: DueKind) -> Due:
    """The step itself, with the meters that could take it: the one in hand may be changed for a better one."""
    offers = meters_on_offer(evaluation, step) if step.function else ()
    words = " ".join(filter(None, (waits_for_mains(evaluation, step), _look_again(evaluation, step), step.say)))
    return Due(kind=kind, address=step.address, words=words, meters=offers)


def what_is_needed(evaluation: StepEvaluation, step: PlannedStep) -> Due | None:
    """What has to be settled before the step can be done: a caution, a meter, its set-up."""
    # Nothing stands before the plug comes out.
    cautions = () if Role.plug_out in step.shows else evaluation.plan.stage(step.stage).cautions
    for caution in cautions_of(cautions, step.supply):
        if not acknowledged(evaluation, caution):
            known = evaluation.plan.cautions.get(caution)
            words = say("Read the caution: {title}.", title=known.title if known else caution)
            return Due(kind=DueKind.caution, address=step.address, words=words, subject=caution)
    if step.function and not meters_for(evaluation, step):
        return _no_meter(evaluation, step)
    if step.supply is not Supply.none and not step.way_back:
        unmet = next((one for one in _read_on(evaluation, step.supply) if not meters_for(evaluation, one)), None)
        if unmet is not None:
            return replace(_no_meter(evaluation, unmet), address=step.address)
    if not is_set_up(evaluation, step):
        items = items_due(evaluation, step)
        words = "Set up: " + ", ".join(say_set_up(one) for one in items) + "."
        return Due(kind=DueKind.set_up, address=step.address, words=words, items=items)
    return None


def _read_on(evaluation: StepEvaluation, supply: Supply) -> Iterator[PlannedStep]:
    """The steps that take a reading on this supply: their meters are in hand before mains comes on."""
    stages = (stage for stage in evaluation.plan.stages if stage.supply is supply)
    steps = (step for stage in stages for step in stage.steps if step.function)
    return (step for step in steps if evaluation.status(step) is not StepStatus.skipped)


def _no_meter(evaluation: StepEvaluation, step: PlannedStep) -> Due:
    """The last of the functions is the rarest: a tester of insulation proves its leads on a function that many have."""
    functions = functions_of(evaluation, step)
    words = say("Take a meter in hand for {listed}.", listed=" and ".join(functions))
    offers = meters_on_offer(evaluation, step)
    return Due(kind=DueKind.meter, address=step.address, words=words, subject=functions[-1], meters=offers)


def caution_words(plan: Plan, caution: str) -> str:
    """The text of a caution, as the page shows it."""
    known = plan.cautions.get(caution)
    if known is None:
        return say("Mains can kill. Follow local codes; leave what you are not trained for to licensed people.")
    return " ".join(known.words)


def missing_for(rows: Rows, step: PlannedStep) -> tuple[Condition, ...]:
    """The conditions of the interlock that keep this step shut."""
    if step.supply is Supply.none:
        return ()
    return shutting(rows[step.supply])


def shutting(rows: Sequence[Condition]) -> tuple[Condition, ...]:
    """Those that mark a step as shut."""
    return tuple(row for row in rows if not row.holds and row.id not in AT_HAND)


def too_early(evaluation: StepEvaluation, step: PlannedStep) -> Condition | None:
    """The stage that has to be settled before this step's own, as its file asks; None when none has."""
    if step.way_back:
        return None
    for name in evaluation.plan.stage(step.stage).needs_before:
        stage = next((stage for stage in evaluation.plan.stages if stage.id == name), None)
        if stage is None:
            why = say("“{name}” is needed before this, and this route does not have it.", name=name)
            return Condition(id="before", words=name, holds=False, why=why)
        left = next((before for before in stage.steps if not _is_settled(evaluation, before)), None)
        if left is not None:
            why = say(
                "“{title}” is needed before this; {step} is still to do.", title=stage.title, step=name_within(left)
            )
            return Condition(
                id="before", words=say("{title} is done", title=stage.title), holds=False, go_to=left.address, why=why
            )
    return None


def _is_settled(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    """Done, not for this unit, or its fault recorded: a dead sequence may go on past a fault that is known."""
    status = evaluation.status(step)
    if status in (StepStatus.done, StepStatus.skipped):
        return True
    known = any(one.address == step.address for one in evaluation.ledger.faults)
    return status is StepStatus.failed and known
