"""What is a reading worth: typed text to value, uncertainty, band, decision and the content of its entry."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from benchapp.errors import BenchError
from benchapp.judgement import (
    RULES_VERSION,
    Because,
    Decision,
    Function,
    Known,
    Measured,
    advise,
    corrected,
    decide,
    disagreement,
    kind_of,
    monte_carlo,
    plain_uncertainty,
    propagate,
    uncertainty_of,
)
from benchapp.quantities import (
    Bound,
    Kind,
    Quantity,
    Reading,
    doubt_about,
    parse_formula,
    read_quantity,
    read_reading,
    unit_named,
)
from benchapp.sequences.answers import complain, fault_content, settled
from benchapp.sequences.bands import band_for
from benchapp.sequences.entries import AskGiven, ReadingGiven
from benchapp.sequences.knowns import known_values, mains_now
from benchapp.sequences.language import AskStep, ComputeStep, MeasureStep, NamedFault
from benchapp.sequences.moments import is_todays
from benchapp.sequences.planned import Plan, PlannedStep
from benchapp.sequences.state import Attempt, UnitState

if TYPE_CHECKING:
    from benchapp.judgement import Band, Derived, Uncertainty


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A reading with everything it takes to judge it; value in SI, None when over the range."""

    reading: Reading
    value: float | None
    kind: Kind
    uncertainty: "Uncertainty | None"
    corrections: tuple[Because, ...] = ()
    more: Mapping[str, Any]


def try_reading(plan: Plan, state: UnitState, step: PlannedStep, given: ReadingGiven, at: str) -> Attempt:
    """Judge a reading of a measure or probe step."""
    try:
        taken = _take(plan, state, step, given, at)
    except BenchError as problem:
        return replace(complain(problem.sentence), band=_band_to_come(plan, state, step, at))
    attempt = _advised(plan, step, given, _judge(plan, state, step, taken, at))
    if given.flickers and attempt.complaint is None:
        return _flickering(step, attempt)
    return _stopped(step, taken, attempt)


def _band_to_come(plan: Plan, state: UnitState, step: PlannedStep, at: str) -> "Band | None":
    """The band that a reading will be held against, for the gauge; None where it is not known yet."""
    try:
        return band_for(plan, state, step, kind_of(Function(step.function)), at)
    except BenchError:
        return None


def _take(plan: Plan, state: UnitState, step: PlannedStep, given: ReadingGiven, at: str) -> Taken:
    function = Function(step.function)
    kind = kind_of(function)
    readings = [read_reading(text, kind=kind, unit=step.unit) for text in (given.typed, *given.repeats)]
    meter_id = given.meter or _meter_in_hand(plan, state, step, at)
    meter = plan.meters.get(meter_id)
    if meter is None:
        raise BenchError(f"Say which meter took this reading ({step.function}).")
    leads = _leads_of(state, meter_id)
    reading, spread = _kept(step, readings)
    uncertainty = uncertainty_of(
        meter, function, reading, range_name=given.range or None, lead_resistance=leads, repeats=spread
    )
    exact = reading.bound is Bound.exact and reading.si is not None
    value: float | None = reading.si
    lines: tuple[Because, ...] = ()
    if exact and reading.si is not None:
        average = sum(spread) / len(spread) if spread else reading.si
        put_right = corrected(average, meter, function, lead_resistance=leads)
        value, lines = put_right.value, put_right.derivation
    more = {
        "meter": meter_id,
        "function": step.function,
        "range": given.range,
        "repeats": list(given.repeats),
        "lead_resistance": leads,
        "flickers": given.flickers,
        "note": given.note,
    }
    return Taken(reading=reading, value=value, kind=kind, uncertainty=uncertainty, corrections=lines, more=more)


def _meter_in_hand(plan: Plan, state: UnitState, step: PlannedStep, at: str) -> str:
    """The meter last taken in hand today that has the function; empty when there is none."""
    today = [(e.number, name) for name, e in state.meters.items() if is_todays(e.at, at) and name in plan.meters]
    fit = [pair for pair in today if step.function in plan.meters[pair[1]].functions]
    return max(fit)[1] if fit else ""


def _leads_of(state: UnitState, meter: str) -> float | None:
    entry = state.meters.get(meter)
    leads = entry.content.get("lead_resistance") if entry is not None else None
    return float(leads) if isinstance(leads, int | float) else None


def _kept(step: PlannedStep, readings: list[Reading]) -> tuple[Reading, tuple[float, ...]]:
    """The reading that is judged, and the readings whose spread counts: none where the extreme is kept."""
    model = step.model
    keep = model.keep if isinstance(model, MeasureStep) else "steady"
    values = [one.si for one in readings]
    over = next((one for one in readings if one.bound is not Bound.exact), None)
    if over is not None or len(readings) == 1:
        return over or readings[0], ()
    numbers = [value for value in values if value is not None]
    if keep == "steady":
        return readings[0], tuple(numbers)
    wanted = max(numbers) if keep == "highest" else min(numbers)
    return readings[values.index(wanted)], ()


# Judging --------------------------------------------------------------------------------------------------------------


def _judge(plan: Plan, state: UnitState, step: PlannedStep, taken: Taken, at: str) -> Attempt:
    try:
        band = band_for(plan, state, step, taken.kind, at)
    except BenchError as problem:
        return complain(problem.sentence)
    if band is None:
        return _only_recorded(step, taken)
    decision = decide(
        value=taken.value,
        bound=taken.reading.bound,
        band=band,
        uncertainty=taken.uncertainty,
        r=plan.workshop.guard_factor,
        step=taken.reading.si_step,
    )
    mains = mains_now(plan, state, step, at)
    more = {
        **_typed(taken),
        **_decided(decision, band, taken),
        **_mains(mains),
        "faults": _faults(step, decision.judgement.value, decision.sentence),
    }
    attempt = settled(step, decision.judgement.value, decision.sentence, more)
    doubt = doubt_about(taken.reading, band.lower, band.upper)
    return replace(
        attempt,
        reading=taken.reading,
        band=band,
        uncertainty=taken.uncertainty,
        decision=decision,
        questions=(doubt,) if doubt else (),
    )


def _advised(plan: Plan, step: PlannedStep, given: ReadingGiven, attempt: Attempt) -> Attempt:
    """A reading that its meter could not settle says which of the workshop's meters would."""
    if attempt.decision is None or attempt.band is None or attempt.complaint is not None:
        return attempt
    advice = advise(
        attempt.decision,
        attempt.band,
        Function(step.function),
        plan.meters.values(),
        used=plan.meters.get(str(attempt.content.get("meter", ""))),
        range_name=given.range or None,
        r=plan.workshop.guard_factor,
    )
    if not advice:
        return attempt
    sentence = f"{attempt.sentence} {advice}"
    return replace(attempt, sentence=sentence, content={**attempt.content, "sentence": sentence})


def _only_recorded(step: PlannedStep, taken: Taken) -> Attempt:
    known = taken.uncertainty
    more = {
        **_typed(taken),
        "standard_uncertainty": known.standard if known else None,
        "expanded_uncertainty": known.expanded if known else None,
        "to_judge": False,
    }
    attempt = settled(step, "not judged", "Recorded, not judged.", more)
    return replace(attempt, reading=taken.reading, uncertainty=taken.uncertainty)


def _typed(taken: Taken) -> dict[str, Any]:
    quantity = taken.reading.quantity
    return {
        "typed": taken.reading.typed,
        "value": taken.value,
        "unit": quantity.unit.symbol if quantity is not None else "",
        "kind": taken.kind.value,
        "bound": taken.reading.bound.value,
        "rules_version": RULES_VERSION,
        **{name: value for name, value in taken.more.items() if value not in ("", [], False)},
    }


def _decided(decision: Decision, band: "Band", taken: Taken) -> dict[str, Any]:
    lines = (*band.derivation, *taken.corrections)
    floating = band.lower is None and band.upper is None
    return {
        "lower": decision.lower,
        "upper": decision.upper,
        "rule": band.rule.value,
        "safety": band.safety,
        "expected": band.expected,
        "standard_uncertainty": decision.standard_uncertainty,
        "expanded_uncertainty": decision.expanded_uncertainty,
        "guard_band": decision.guard_band,
        "conformance_probability": decision.conformance_probability,
        "capable": decision.capable,
        "derivation": [[line.what, line.value, line.source] for line in lines],
        "cautions": list(band.cautions),
        "to_judge": not floating,
    }


def _mains(mains: Known | None) -> dict[str, Any]:
    return {} if mains is None else {"mains": float(mains.value_si)}


def _faults(step: PlannedStep, judgement: str, sentence: str) -> list[dict[str, str]]:
    """The fault that the author named for a reading that fails; without a name the technician records one."""
    fault: NamedFault | None = getattr(step.model, "fault", None)
    if fault is None or judgement != "fail":
        return []
    return [fault_content(fault, getattr(step.model, "grave", "mend"), sentence)]


def _flickering(step: PlannedStep, attempt: Attempt) -> Attempt:
    """A reading that will not stand still is a loose joint, whatever its value."""
    sentence = "It flickers: look for a loose joint or a broken strand."
    content = {**attempt.content, "judgement": "fail", "sentence": sentence, "faults": _faults(step, "fail", sentence)}
    return replace(attempt, judgement="fail", sentence=sentence, content=content)


def _stopped(step: PlannedStep, taken: Taken, attempt: Attempt) -> Attempt:
    """Above the step's stop value: off at once, and a fault."""
    model = step.model
    if attempt.complaint is not None or not isinstance(model, MeasureStep) or not model.stop_above:
        return attempt
    if taken.reading.bound is not Bound.above and (taken.value or 0.0) <= read_quantity(model.stop_above).si:
        return attempt
    sentence = model.stop_words or f"Above {model.stop_above}: switch off at the wall at once."
    content = {**attempt.content, "judgement": "fail", "sentence": sentence, "faults": _faults(step, "fail", sentence)}
    return replace(attempt, judgement="fail", sentence=sentence, content=content, questions=(sentence,))


# Values that no meter gives -------------------------------------------------------------------------------------------


def try_value(plan: Plan, state: UnitState, step: PlannedStep, given: AskGiven, at: str) -> Attempt:
    """Judge a value that the technician reads off and types: a fuse's rating, a cord's length."""
    model = step.model
    assert isinstance(model, AskStep)
    kind = unit_named(model.value).kind
    try:
        reading = read_reading(given.answer, kind=kind, unit=model.value)
    except BenchError as problem:
        return complain(problem.sentence)
    if reading.quantity is None or reading.bound is not Bound.exact:
        return complain(f"“{given.answer}” is no value that can be kept: type {kind.with_article} in {model.value}.")
    more: dict[str, Any] = {"answer": str(reading.quantity), "note": given.note}
    if model.fact:
        more["facts"] = {model.fact: reading.quantity.si}
    taken = Taken(reading=reading, value=reading.si, kind=kind, uncertainty=None, more=more)
    attempt = _judge(plan, state, step, taken, at)
    if attempt.judgement == "not judged" and attempt.complaint is None and not step.accept:
        # A fact is settled by being told: there is nothing to judge.
        content = {**attempt.content, "judgement": "pass", "sentence": str(reading.quantity)}
        return replace(attempt, judgement="pass", sentence=str(reading.quantity), content=content)
    return attempt


def try_computed(plan: Plan, state: UnitState, step: PlannedStep, at: str) -> Attempt:
    """Work out a value by formula; its uncertainty from the values' own, uncorrelated, checked by Monte Carlo."""
    model = step.model
    assert isinstance(model, ComputeStep)
    unit = unit_named(model.unit)
    try:
        derived, note = _worked_out(model.value, known_values(plan, state, step.stage), unit.kind)
    except BenchError as problem:
        return complain(problem.sentence)
    quantity = Quantity(value=Decimal(repr(derived.value)) / unit.factor, unit=unit)
    reading = Reading(typed=model.value, quantity=quantity, bound=Bound.exact)
    known_well = derived.uncertainty if derived.uncertainty.standard else None
    taken = Taken(reading=reading, value=derived.value, kind=unit.kind, uncertainty=known_well, more={})
    attempt = _judge(plan, state, step, taken, at)
    if not note or attempt.complaint is not None:
        return attempt
    sentence = f"{attempt.sentence} {note}"
    return replace(attempt, sentence=sentence, content={**attempt.content, "sentence": sentence})


def _worked_out(text: str, known: Mapping[str, Known], kind: Kind) -> tuple["Derived", str]:
    """The value with its uncertainty, and a note where the formula bends too much for the linear answer."""
    formula = parse_formula(text)
    values = {name: float(one.value_si) for name, one in known.items() if name in formula.names}
    missing = sorted(formula.names - values.keys())
    if missing:
        raise BenchError(f"“{text}” waits for {missing[0]}.")
    inputs = {
        name: Measured(value=value, uncertainty=plain_uncertainty(known[name].standard_uncertainty))
        for name, value in values.items()
    }
    derived = propagate(formula.value, inputs)
    note = disagreement(derived, monte_carlo(formula.value, inputs), kind) if derived.uncertainty.standard else ""
    return derived, note
