"""May this meter take this reading? It must have the function and be in hand today; for mains, more than that.

Live work needs a measurement category for circuits plugged into the installation: CAT II (BS EN 61010-2-030; HSE GS38,
4th ed. 2015, footnote: confirmed). The voltage to earth is the nearest standard rating above 253 V.
"""

from datetime import date

from benchapp.sequences.moments import is_todays
from benchapp.sequences.planned import PlannedStep, Role, Supply
from benchapp.sequences.standing import Standing

CATEGORY = 2
VOLTS_TO_EARTH = 300.0


def trouble_with(standing: Standing, meter: str, function: str, *, live: bool) -> str:
    """Why this meter may not be used for the function; empty when it may."""
    record = standing.plan.meters.get(meter)
    entry = standing.ledger.meters.get(meter)
    if record is None:
        return f"there is no record of a meter “{meter}”"
    if function not in record.functions:
        return f"{meter} has no function {function}; it has {', '.join(record.functions)}"
    if entry is None or not is_todays(entry.at, standing.at):
        return f"{meter} was not taken in hand today: choose it first"
    if not live:
        return ""
    if not is_todays(str(entry.content.get("proved", "")), standing.at):
        return f"{meter} was not proved at today's bench opening"
    if not record.is_rated_for(CATEGORY, VOLTS_TO_EARTH):
        return f"{meter} is not rated for mains circuits: CAT II 300 V at least"
    if record.is_overdue(date.fromisoformat(standing.at[:10])) and not entry.content.get("overdue_accepted"):
        return f"{meter}'s calibration was due on {record.due}: choose another, or accept it knowingly"
    return ""


def meters_for(standing: Standing, step: PlannedStep) -> tuple[str, ...]:
    """The meters in hand that may take the step's reading."""
    live = needs_proof(step)
    return tuple(m for m in standing.ledger.meters if not trouble_with(standing, m, step.function, live=live))


def needs_proof(step: PlannedStep) -> bool:
    """Whether the step's meter must have been proved and rated: live steps, and "voltage low" on the way back."""
    return step.supply is not Supply.none or Role.voltage_low in step.shows
