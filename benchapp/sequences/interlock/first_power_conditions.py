"""Conditions of first power: what drew too much was found, and what no lamp can judge fits its plate by resistance."""

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.limiters import goes_by_resistance
from benchapp.sequences.planning.state import Condition
from benchapp.wiring.model.assumptions import HEATER_SHARE
from benchapp.wiring.model.kind_of_load import KindOfLoad
from benchapp.words import say


def cause_found(evaluation: StepEvaluation) -> Condition:
    """After it drew too much or tripped, a part of its circuit was found and mended: no second try before that."""
    ledger = evaluation.ledger
    holds = ledger.overdrawn <= ledger.cause_found
    why = "" if holds else say("it drew too much, smelt or tripped: find the part, plug out")
    words = "the cause of too much current, smell or a trip was found in its circuit"
    return Condition(id="cause", words=words, holds=holds, why=why)


def element_fits(evaluation: StepEvaluation) -> Condition:
    """A heater that goes on mains by its resistance has the power of its plate, by what was read of its element."""
    why = _why_not_by_plate(evaluation) if goes_by_resistance(evaluation.plan) else ""
    words = "the element's resistance fits the power of its plate"
    return Condition(id="element", words=words, holds=not why, why=why)


def _why_not_by_plate(evaluation: StepEvaluation) -> str:
    supply = evaluation.plan.circuit.supply
    if supply is None or supply.kind_of_load is not KindOfLoad.heater:
        return ""
    if supply.power is None:
        return "nobody has stated the power of its plate"
    steps = [step for step in evaluation.plan.showing(Role.primary) if evaluation.holding(step)]
    read = [evaluation.ledger.readings.get(step.address) for step in steps]
    ohms = [entry.content.value for entry in read if entry is not None and entry.content.value]
    if not ohms:
        return "its element was not read"
    wrong = next((one for one in ohms if not _as_rated(supply.ends, one, supply.power)), None)
    if wrong is None:
        return ""
    stated = show(supply.power, Kind.power)
    return say(
        "its element would draw about {wrong:.0f} W, and its plate says {stated}: not its own, or shorted in part",
        wrong=supply.voltage**2 / wrong,
        stated=stated,
    )


def _as_rated(volts: tuple[float, float], ohms: float, rated: float) -> bool:
    """Whether the element draws the plate's power at a voltage of its range: nobody knows at which it is stated."""
    low, high = HEATER_SHARE
    least, most = (one**2 / ohms for one in volts)
    return low * rated <= most and least <= high * rated
