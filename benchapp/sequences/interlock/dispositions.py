"""What may become of a unit? Nothing mains-fed leaves for sale half tested, nothing for spares with its plug on."""

from benchapp.sequences.history.faults import open_faults
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.interlock.live_conditions import roles_needed
from benchapp.sequences.interlock.way_back import is_energised
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.state import StepStatus

POWERED = (Role.limited_power, Role.mains)
"""A mains unit is sold after it was on limited supply and on full mains, at a mains voltage that was read."""


def is_complete(standing: StepEvaluation) -> bool:
    """Whether every step that applies is done, no fault is open and nothing is left energised."""
    ended = (StepStatus.done, StepStatus.skipped)
    done = all(standing.status(step) in ended for step in standing.plan.steps)
    return done and not is_energised(standing) and next(open_faults(standing), None) is None


def why_not_for_sale(standing: StepEvaluation) -> str:
    """Why the unit may not be offered for sale; empty when it may."""
    trouble = next(open_faults(standing), None)
    if trouble is not None:
        return f"a fault is open: {trouble.words or trouble.part}"
    if standing.ledger.destroyed:
        return "its plug was cut off and destroyed"
    if standing.facts.get("mains fed", standing.plan.mains_fed) and not _insulation_shown(standing):
        return "it takes mains and its insulation was not tested"
    if is_energised(standing):
        return "the way back was not gone: unplug it, discharge it, prove the voltage low"
    left = [step for step in standing.plan.steps if standing.status(step) not in (StepStatus.done, StepStatus.skipped)]
    if left:
        return f"{len(left)} step{'s are' if len(left) > 1 else ' is'} still to do, first {left[0].address}"
    if standing.facts.get("mains fed", standing.plan.mains_fed):
        unshown = next((role for role in (*roles_needed(standing), *POWERED) if not _shown(standing, role)), None)
        if unshown is not None:
            return f"it takes mains and this was not shown: {unshown}"
    return ""


def _insulation_shown(standing: StepEvaluation) -> bool:
    return _shown(standing, Role.insulation)


def _shown(standing: StepEvaluation, role: Role) -> bool:
    steps = standing.showing(role)
    return bool(steps) and all(standing.status(step) is StepStatus.done for step in steps)


def standing_disposition(standing: StepEvaluation) -> str:
    """The disposition that stands: "for sale" lapses when the record no longer bears it out."""
    entry = standing.ledger.disposition
    word = str(entry.content.get("disposition", "quarantine")) if entry else "quarantine"
    if word == "for sale" and why_not_for_sale(standing):
        return "quarantine"
    return _held_by_hazard(standing.ledger, word)


def _held_by_hazard(ledger: Ledger, word: str) -> str:
    open_hazard = any(one.hazard and one.repair is None for one in ledger.troubles)
    return "hold" if open_hazard and word in ("quarantine", "for sale", "keep") else word


def why_not(standing: StepEvaluation, word: str) -> str:
    """Why the unit may not be given this disposition; empty when it may."""
    if word == "for sale":
        return why_not_for_sale(standing)
    mains_fed = standing.facts.get("mains fed", standing.plan.mains_fed)
    if word == "spares or repair" and mains_fed and not standing.ledger.destroyed:
        return "its mains plug must first be cut off and destroyed"
    if word in ("keep", "scrap") and is_energised(standing):
        return "the way back was not gone: unplug it, discharge it, prove the voltage low"
    return ""
