"""What is a value worth that no meter gives: read off and typed (a fuse's rating), or worked out by a formula?"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import combinations
from typing import TYPE_CHECKING, Any

from benchapp.errors import BenchError
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.meters.readings import shared_part
from benchapp.judgement.uncertainty.budget import Source, combine, plain_uncertainty
from benchapp.judgement.uncertainty.propagation import Measured, propagate_safely
from benchapp.judgement.uncertainty.simulation import disagreement, monte_carlo
from benchapp.judgement.uncertainty.uncertainty import Distribution
from benchapp.quantities.entry import read_reading
from benchapp.quantities.formula import parse_formula
from benchapp.quantities.quantity import Bound, Quantity, Reading
from benchapp.quantities.unit import Unit
from benchapp.quantities.units import unit_named
from benchapp.sequences.answering.answers import complain
from benchapp.sequences.answering.formula_variables import known_values
from benchapp.sequences.answering.judged import Measurement, judge
from benchapp.sequences.answering.stored_uncertainty import uncertainty_from
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.language.models import AskStep, ComputeStep
from benchapp.sequences.planning.entries import AskAnswer
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import Evaluation

if TYPE_CHECKING:
    from benchapp.judgement.uncertainty.propagation import Derived
    from benchapp.judgement.uncertainty.uncertainty import Uncertainty


def try_value(plan: Plan, state: UnitState, step: PlannedStep, given: AskAnswer, at: str) -> Evaluation:
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
    taken = Measurement(reading=reading, value=reading.si, kind=kind, uncertainty=None, metered=False, more=more)
    evaluation = judge(plan, state, step, taken, at)
    if evaluation.judgement == "not judged" and evaluation.complaint is None and not step.accept:
        # A fact is settled by being told: there is nothing to judge.
        content = {**evaluation.content, "judgement": "pass", "sentence": str(reading.quantity)}
        return replace(evaluation, judgement="pass", sentence=str(reading.quantity), content=content)
    return evaluation


def try_computed(plan: Plan, state: UnitState, step: PlannedStep, at: str) -> Evaluation:
    """Work out a value by formula, its uncertainty from that of the values in it, checked by Monte Carlo."""
    model = step.model
    assert isinstance(model, ComputeStep)
    unit = unit_named(model.unit)
    try:
        derived, note = _worked_out(model.value, _known(plan, state, step), unit)
    except BenchError as problem:
        return complain(problem.sentence)
    quantity = Quantity(value=Decimal(repr(derived.value)) / unit.factor, unit=unit)
    taken = Measurement(
        reading=Reading(typed=model.value, quantity=quantity, bound=Bound.exact),
        value=derived.value,
        kind=unit.kind,
        uncertainty=derived.uncertainty if derived.uncertainty.standard else None,
        metered=False,
        more={},
    )
    evaluation = judge(plan, state, step, taken, at)
    if not note or evaluation.complaint is not None:
        return evaluation
    sentence = f"{evaluation.sentence} {note}"
    return replace(evaluation, sentence=sentence, content={**evaluation.content, "sentence": sentence})


@dataclass(frozen=True, slots=True, kw_only=True)
class _KnownQuantities:
    """A value that a formula names; `shared` is what of its standard uncertainty its meter has in every reading."""

    measured: Measured
    meter: str = ""
    shared: float = 0.0


def _known(plan: Plan, state: UnitState, step: PlannedStep) -> dict[str, _KnownQuantities]:
    """The values that the step's formula names, by name."""
    assert isinstance(step.model, ComputeStep)
    names = parse_formula(step.model.value).names
    values = known_values(plan, state, step.stage)
    found = {}
    for name, known in values.items():
        if name in names:
            entry = state.readings.get(name) or state.readings.get(f"{step.stage}.{name}")
            stored = None if entry is None else uncertainty_from(entry.content)
            found[name] = _with(known, stored, entry.content if entry is not None else {})
    return found


def _with(known: KnownQuantity, stored: "Uncertainty | None", content: Mapping[str, Any]) -> _KnownQuantities:
    value, u = float(known.value_si), known.standard_uncertainty
    if stored is None:
        return _KnownQuantities(measured=Measured(value=value, uncertainty=plain_uncertainty(u)))
    spread = Source("of the reading", u, Distribution.student, 1.0, stored.degrees_of_freedom)
    meter = f"{content['meter']}, {content['function']}" if content.get("meter") else ""
    return _KnownQuantities(
        measured=Measured(value=value, uncertainty=combine([spread])),
        meter=meter,
        shared=shared_part(stored) if meter else 0.0,
    )


def _correlations(known: Mapping[str, _KnownQuantities]) -> dict[tuple[str, str], float]:
    """Of readings of one meter and function: all that the meter errs by is taken to be the same in both."""
    shares = {
        name: one.shared / one.measured.uncertainty.standard for name, one in known.items() if one.meter and one.shared
    }
    return {
        (a, b): min(shares[a] * shares[b], 1.0) for a, b in combinations(shares, 2) if known[a].meter == known[b].meter
    }


def _worked_out(text: str, known: Mapping[str, _KnownQuantities], unit: Unit) -> tuple["Derived", str]:
    """The value with its uncertainty, and a note where the formula bends too much for the linear answer."""
    formula = parse_formula(text)
    missing = sorted(formula.names - known.keys())
    if missing:
        raise BenchError(f"“{text}” waits for {missing[0]}.")
    inputs = {name: one.measured for name, one in known.items()}
    derived, correlations = propagate_safely(formula.value, inputs, _correlations(known))
    if not derived.uncertainty.standard:
        return derived, ""
    simulated = monte_carlo(formula.value, inputs, correlations)
    return derived, disagreement(derived, simulated, unit.kind, unit.symbol)
