"""Dispositions that a unit may have: nothing mains-fed is sold half tested, or goes for spares with its plug on."""

from benchapp.sequences.history.faults import open_faults
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.step_evaluation import RESTED_ON, StepEvaluation
from benchapp.sequences.interlock.live_conditions import roles_needed
from benchapp.sequences.interlock.way_back import is_energised
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.limiters import goes_by_resistance
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import StepStatus


def _powered(plan: Plan) -> tuple[Role, ...]:
    """A mains unit is sold after it was on limited supply and on full mains, at a mains voltage that was read."""
    return (Role.mains,) if goes_by_resistance(plan) else (Role.limited_power, Role.mains)


def is_complete(evaluation: StepEvaluation) -> bool:
    """Whether every step that applies is done, no fault is open and nothing is left energised."""
    ended = (StepStatus.done, StepStatus.skipped)
    done = all(evaluation.status(step) in ended for step in evaluation.plan.steps)
    return done and not is_energised(evaluation) and next(open_faults(evaluation), None) is None


def why_not_for_sale(evaluation: StepEvaluation) -> str:
    """Why the unit may not be offered for sale; empty when it may."""
    fault = next(open_faults(evaluation), None)
    if fault is not None:
        return f"a fault is open: {fault.words or fault.part}"
    if evaluation.ledger.destroyed:
        return "its plug was cut off and destroyed"
    if evaluation.plan.looser:
        return evaluation.plan.looser.rstrip(".")
    aged = next((step for step in evaluation.plan.steps if _has_grown_old(evaluation, step)), None)
    if aged is not None:
        return f"{aged.address} was {evaluation.steps[aged.address].why}"
    if evaluation.facts.get("mains fed", evaluation.plan.mains_fed) and not _insulation_shown(evaluation):
        return "it takes mains and its insulation was not tested"
    if is_energised(evaluation):
        return "the way back was not gone: unplug it, discharge it, prove the voltage low"
    left = [
        step for step in evaluation.plan.steps if evaluation.status(step) not in (StepStatus.done, StepStatus.skipped)
    ]
    if left:
        return f"{len(left)} step{'s are' if len(left) > 1 else ' is'} still to do, first {left[0].address}"
    if evaluation.facts.get("mains fed", evaluation.plan.mains_fed):
        unshown = next(
            (role for role in (*roles_needed(evaluation), *_powered(evaluation.plan)) if not _shown(evaluation, role)),
            None,
        )
        if unshown is not None:
            return f"it takes mains and this was not shown: {unshown}"
    return ""


def _has_grown_old(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    return evaluation.status(step) is StepStatus.stale and bool(step.shows & RESTED_ON) and evaluation.aged(step)


def _insulation_shown(evaluation: StepEvaluation) -> bool:
    return _shown(evaluation, Role.insulation)


def _shown(evaluation: StepEvaluation, role: Role) -> bool:
    steps = evaluation.showing(role)
    return bool(steps) and all(evaluation.status(step) is StepStatus.done for step in steps)


def current_disposition(evaluation: StepEvaluation) -> str:
    """The disposition that stands: "for sale" lapses when the record no longer bears it out."""
    entry = evaluation.ledger.disposition
    word = entry.content.disposition if entry else "quarantine"
    if word == "for sale" and why_not_for_sale(evaluation):
        return "quarantine"
    return _held_by_hazard(evaluation.ledger, word)


def _held_by_hazard(ledger: Ledger, word: str) -> str:
    open_hazard = any(one.hazard and one.repair is None and one.false_alarm is None for one in ledger.faults)
    return "hold" if open_hazard and word in ("quarantine", "for sale", "keep") else word


def why_not(evaluation: StepEvaluation, word: str) -> str:
    """Why the unit may not be given this disposition; empty when it may."""
    if word == "for sale":
        return why_not_for_sale(evaluation)
    mains_fed = evaluation.facts.get("mains fed", evaluation.plan.mains_fed)
    if word == "spares or repair" and mains_fed and not evaluation.ledger.destroyed:
        return "its mains plug must first be cut off and destroyed"
    if word in ("keep", "scrap") and is_energised(evaluation):
        return "the way back was not gone: unplug it, discharge it, prove the voltage low"
    return ""
