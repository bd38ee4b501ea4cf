"""Meters that may take a reading: they have the function and are in hand today; for mains, more than that.

Live work needs a measurement category for circuits plugged into the installation: CAT II (BS EN 61010-2-030; HSE GS38,
4th ed. 2015, footnote: confirmed). The voltage to earth is the nearest standard rating above 253 V.
"""

from datetime import date
from typing import TYPE_CHECKING

from benchapp.judgement.meters.functions import OL_NEEDS_LEADS, Function
from benchapp.sequences.answering.tester_settings import voltage_needed
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.entry_times import is_todays
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.sequences.planning.said import said_meter

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord

CATEGORY = 2
"""CAT II for what is plugged into the installation: confirmed (HSE GS38 footnote)"""
VOLTS_TO_EARTH = 300.0
"""the nearest standard rating above 253 V to earth: the list of ratings is from memory, the choice common practice"""
AT_THE_PLUG = frozenset({Function.mains_voltage, Function.ac_current, Function.power, Function.frequency})
"""Functions that are read between the socket and the item."""


def functions_of(evaluation: StepEvaluation, step: PlannedStep) -> tuple[Function, ...]:
    """The functions that the step's meter must have; leads are proved on the meter that then reads through them."""
    also = getattr(step.model, "also", "")
    if Role.leads not in step.shows:
        return (*((step.function,) if step.function else ()), *((Function(also),) if also else ()))
    stage = next(stage for stage in evaluation.plan.stages if stage.id == step.stage)
    others = {s.function for s in stage.steps if s.function in OL_NEEDS_LEADS and Role.leads not in s.shows}
    # An earth path is never good at "OL": its meter's leads need no proof.
    left = others - {step.function, Function.earth_continuity}
    return tuple(one for one in (step.function, *sorted(filter(None, left))) if one)


def unfit_for_step(evaluation: StepEvaluation, meter: str, step: PlannedStep) -> str:
    """Why this meter may not take the step's reading; empty when it may."""
    reasons = (
        unfit_for_function(evaluation, meter, one, live=needs_proof(step)) for one in functions_of(evaluation, step)
    )
    found = next((reason for reason in reasons if reason), "")
    return found or _overdue(evaluation, meter, step) or _mains_with_probes(evaluation, meter, step)


def _overdue(evaluation: StepEvaluation, meter: str, step: PlannedStep) -> str:
    """The author of a sequence may take no overdue meter at all, whoever accepts it."""
    record = evaluation.plan.meters[meter]
    if not step.overdue_refused or not record.is_overdue(date.fromisoformat(evaluation.at[:10])):
        return ""
    title, name = evaluation.plan.stage(step.stage).title, said_meter(evaluation.plan, meter)
    return f"the calibration of {name} was due on {record.due}, and “{title}” takes no reading of an overdue meter"


def _mains_with_probes(evaluation: StepEvaluation, meter: str, step: PlannedStep) -> str:
    """What the mains gives is read at a plug-in meter, never with probes or in series with a hand meter."""
    if step.supply is Supply.none or step.terminals or step.function not in AT_THE_PLUG:
        return ""
    if Function.mains_voltage in evaluation.plan.meters[meter].functions:
        return ""
    name = said_meter(evaluation.plan, meter)
    return f"{name} is no plug-in mains meter: {step.function} is read between socket and item, never with probes"


def unfit_for_function(evaluation: StepEvaluation, meter: str, function: Function, *, live: bool) -> str:
    """Why this meter may not be used for the function; empty when it may."""
    record, name = evaluation.plan.meters.get(meter), said_meter(evaluation.plan, meter)
    entry = evaluation.ledger.meters.get(meter)
    if record is None:
        return f"there is no record of a meter “{meter}”"
    if function not in record.functions:
        return f"{name} has no function {function}; it has {', '.join(record.functions)}"
    if entry is None or not is_todays(entry.at, evaluation.at):
        return f"{name} was not taken in hand today: choose it first"
    if function is Function.insulation and (unfit := _unfit_for_insulation(evaluation, meter)):
        return unfit
    return _unfit_for_mains(evaluation, meter) if live else ""


def _unfit_for_insulation(evaluation: StepEvaluation, meter: str) -> str:
    volts = voltage_needed(evaluation.plan, evaluation.facts)
    fit = volts in _voltages(evaluation.plan.meters[meter])
    return "" if fit else f"{said_meter(evaluation.plan, meter)} does not test insulation at {volts:g} V"


def _voltages(record: "MeterRecord") -> set[float]:
    return {one.si for one in record.functions[Function.insulation].test_voltages}


def _unfit_for_mains(evaluation: StepEvaluation, meter: str) -> str:
    record, entry = evaluation.plan.meters[meter], evaluation.ledger.meters[meter]
    name = said_meter(evaluation.plan, meter)
    if not is_todays(entry.content.proved, evaluation.at):
        return f"{name} was not proved at today's bench opening"
    if not record.is_rated_for(CATEGORY, VOLTS_TO_EARTH):
        return f"{name} is not rated for mains circuits: CAT II 300 V at least"
    if record.is_overdue(date.fromisoformat(evaluation.at[:10])) and not entry.content.overdue_accepted:
        return f"the calibration of {name} was due on {record.due}: choose another, or accept it knowingly"
    return ""


def meters_for(evaluation: StepEvaluation, step: PlannedStep) -> tuple[str, ...]:
    """The meters in hand that may take the step's reading."""
    return tuple(meter for meter in evaluation.ledger.meters if not unfit_for_step(evaluation, meter, step))


def meters_on_offer(evaluation: StepEvaluation, step: PlannedStep) -> tuple[tuple[str, str], ...]:
    """The meters that have the step's functions, with why one would not do even when taken in hand; fit ones first."""
    needed = functions_of(evaluation, step)
    able = [meter for meter, record in evaluation.plan.meters.items() if all(one in record.functions for one in needed)]
    offers = [(meter, _unfit(evaluation, meter, step)) for meter in able]
    return tuple(sorted(offers, key=lambda offer: bool(offer[1])))


def would_do(evaluation: StepEvaluation, meter: str, step: PlannedStep) -> bool:
    """Whether a meter could take the step's reading, in hand or not; "OL" is proved on a meter with all functions."""
    has_all = all(one in evaluation.plan.meters[meter].functions for one in functions_of(evaluation, step))
    return has_all and not _unfit(evaluation, meter, step)


def _unfit(evaluation: StepEvaluation, meter: str, step: PlannedStep) -> str:
    """Why a meter that has the step's functions would not do even when taken in hand; empty when it would."""
    record = evaluation.plan.meters[meter]
    if Function.insulation in functions_of(evaluation, step) and (unfit := _unfit_for_insulation(evaluation, meter)):
        return unfit
    if needs_proof(step) and not record.is_rated_for(CATEGORY, VOLTS_TO_EARTH):
        return f"{said_meter(evaluation.plan, meter)} is not rated for mains circuits: CAT II 300 V at least"
    return _overdue(evaluation, meter, step) or _mains_with_probes(evaluation, meter, step)


def needs_proof(step: PlannedStep) -> bool:
    """Whether the step's meter must have been proved and rated: live steps, and every reading of the way back."""
    return step.supply is not Supply.none or (step.way_back and bool(step.function))
