"""Dispositions that a unit may have: nothing mains-fed is sold half tested, or goes for spares with its plug on."""

from benchapp.sequences.history.faults import open_faults
from benchapp.sequences.history.step_evaluation import RESTED_ON, StepEvaluation
from benchapp.sequences.interlock.live_conditions import roles_needed
from benchapp.sequences.interlock.old_hazards import refuse_work, stops_here, why_not_sold
from benchapp.sequences.interlock.way_back import is_energised
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.limiters import goes_by_resistance
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.said import said_step
from benchapp.sequences.planning.state import StepStatus
from benchapp.words import say


def _powered(plan: Plan) -> tuple[Role, ...]:
    """A mains unit is sold after it was on limited supply and on full mains, at a mains voltage that was read."""
    return (Role.mains,) if goes_by_resistance(plan) else (Role.limited_power, Role.mains)


LEAVES_IN_PIECES = ("spares or repair", "scrap")
"""Dispositions that nobody is to undo with a socket: the mains plug goes first."""


def is_complete(evaluation: StepEvaluation) -> bool:
    """Whether every step that applies is done, no fault is open and nothing is left energised."""
    ended = (StepStatus.done, StepStatus.skipped)
    done = all(evaluation.status(step) in ended for step in evaluation.plan.steps)
    return done and not is_energised(evaluation) and next(open_faults(evaluation), None) is None


def why_not_for_sale(evaluation: StepEvaluation) -> str:
    """Why the unit may not be offered for sale; empty when it may."""
    return why_not_sold(evaluation) or _why_not_safe(evaluation) or _why_not_whole(evaluation)


def _why_not_safe(evaluation: StepEvaluation) -> str:
    """What is wrong with it, or known of it, whatever was tested."""
    fault = next(open_faults(evaluation), None)
    if fault is not None:
        return say("a fault is open: {words}", words=fault.words or fault.part)
    if evaluation.ledger.destroyed:
        return "its plug was cut off and destroyed"
    if not evaluation.facts.get("design known", True):
        return "nobody knows its design: it goes for spares, is scrapped, or stays here with its do-not-use tag"
    if evaluation.plan.looser:
        return evaluation.plan.looser.rstrip(".")
    aged = next((step for step in evaluation.plan.steps if _has_grown_old(evaluation, step)), None)
    if aged is not None:
        return f"{aged.address} was {evaluation.steps[aged.address].why}"
    return ""


def _why_not_whole(evaluation: StepEvaluation) -> str:
    """What is not shown of it, or not done."""
    if evaluation.facts.get("mains fed", evaluation.plan.mains_fed) and not _insulation_shown(evaluation):
        return "it takes mains and its insulation was not tested"
    if is_energised(evaluation):
        return "the way back was not gone: unplug it, discharge it, prove the voltage low"
    left = [
        step for step in evaluation.plan.steps if evaluation.status(step) not in (StepStatus.done, StepStatus.skipped)
    ]
    if left:
        return say(
            "{count} step{value} still to do, first {step}",
            count=len(left),
            value="s are" if len(left) > 1 else " is",
            step=said_step(evaluation.plan, left[0].address),
        )
    if evaluation.facts.get("mains fed", evaluation.plan.mains_fed):
        unshown = next(
            (role for role in (*roles_needed(evaluation), *_powered(evaluation.plan)) if not _shown(evaluation, role)),
            None,
        )
        if unshown is not None:
            return say("it takes mains and this was not shown: {unshown}", unshown=unshown)
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
    if word == "spares or repair" and evaluation.ledger.kept and _has_its_plug(evaluation):
        return "quarantine"
    return _held_by_hazard(evaluation, word)


def _held_by_hazard(evaluation: StepEvaluation, word: str) -> str:
    faults = evaluation.ledger.faults
    open_hazard = any(one.hazard and one.repair is None and one.false_alarm is None for one in faults)
    waits = open_hazard or stops_here(evaluation)
    return "hold" if waits and word in ("quarantine", "for sale", "keep") else word


def why_not(evaluation: StepEvaluation, word: str) -> str:
    """Why the unit may not be given this disposition; empty when it may."""
    if word == "for sale":
        return why_not_for_sale(evaluation)
    if word in ("keep", "scrap") and is_energised(evaluation):
        return "the way back was not gone: unplug it, discharge it, prove the voltage low"
    if word == "keep":
        return _why_not_kept(evaluation)
    if word == "spares or repair" and (untouched := refuse_work(evaluation)):
        return untouched.rstrip(".")
    if word in LEAVES_IN_PIECES and _has_its_plug(evaluation) and not refuse_work(evaluation):
        return "its mains plug must first be cut off and destroyed"
    return ""


def _has_its_plug(evaluation: StepEvaluation) -> bool:
    """Whether somebody could still put it into a socket, as far as the record says."""
    mains_fed = evaluation.facts.get("mains fed", evaluation.plan.mains_fed)
    return bool(mains_fed) and evaluation.facts.get("plug") != "none" and not evaluation.ledger.destroyed


def _why_not_kept(evaluation: StepEvaluation) -> str:
    """A collection shows and lends what it keeps: nothing stays in it that is open as do not use."""
    fault = next((one for one in open_faults(evaluation) if one.severity == "do not use"), None)
    if fault is None and not evaluation.facts.get("design known", True) and _has_its_plug(evaluation):
        return "nobody knows its design: cut its plug off and destroy it first, or put it on hold"
    if fault is None:
        return ""
    said = (fault.words or fault.part).rstrip(".")
    return say("a fault says do not use: {said}. Mend it, or put it on hold, for spares or scrap", said=said)
