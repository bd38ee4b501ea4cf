"""Things of a plan as a person says them inside a sentence: a step, a meter, a caution; never an id.

What a plan does not know keeps the word by which it was asked for.
"""

from benchapp.judgement.meters.names import meter_name
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.step_names import step_name


def said_step(plan: Plan, address: str) -> str:
    """A step with its stage: "“Continuity: earth continuity”"."""
    step = plan.by_address.get(address)
    if step is None:
        return f"“{address}”"
    name = step_name(step)
    return f"“{plan.stage(step.stage).title}: {name[:1].lower()}{name[1:]}”"


def said_meter(plan: Plan, meter: str) -> str:
    """A meter by as much of its title as tells it from the others: "“Hand meter, true RMS”"."""
    record = plan.meters.get(meter)
    return meter_name(record, plan.meters.values()) if record is not None else f"“{meter}”"


def said_caution(plan: Plan, caution: str) -> str:
    """A caution by its title."""
    known = plan.cautions.get(caution)
    return f"“{known.title if known is not None else caution}”"
