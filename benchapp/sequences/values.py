"""What is a value worth that no meter gives: read off and typed (a fuse's rating), or worked out by a formula?"""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from benchapp.errors import BenchError
from benchapp.judgement import Known, Measured, disagreement, monte_carlo, plain_uncertainty, propagate
from benchapp.quantities import Bound, Quantity, Reading, Unit, parse_formula, read_reading, unit_named
from benchapp.sequences.answers import complain
from benchapp.sequences.entries import AskGiven
from benchapp.sequences.judged import Taken, judge
from benchapp.sequences.knowns import known_values
from benchapp.sequences.language import AskStep, ComputeStep
from benchapp.sequences.planned import Plan, PlannedStep
from benchapp.sequences.state import Attempt, UnitState

if TYPE_CHECKING:
    from benchapp.judgement import Derived


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
    taken = Taken(reading=reading, value=reading.si, kind=kind, uncertainty=None, metered=False, more=more)
    attempt = judge(plan, state, step, taken, at)
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
        derived, note = _worked_out(model.value, known_values(plan, state, step.stage), unit)
    except BenchError as problem:
        return complain(problem.sentence)
    quantity = Quantity(value=Decimal(repr(derived.value)) / unit.factor, unit=unit)
    reading = Reading(typed=model.value, quantity=quantity, bound=Bound.exact)
    known_well = derived.uncertainty if derived.uncertainty.standard else None
    taken = Taken(reading=reading, value=derived.value, kind=unit.kind, uncertainty=known_well, metered=False, more={})
    attempt = judge(plan, state, step, taken, at)
    if not note or attempt.complaint is not None:
        return attempt
    sentence = f"{attempt.sentence} {note}"
    return replace(attempt, sentence=sentence, content={**attempt.content, "sentence": sentence})


def _worked_out(text: str, known: Mapping[str, Known], unit: Unit) -> tuple["Derived", str]:
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
    if not derived.uncertainty.standard:
        return derived, ""
    return derived, disagreement(derived, monte_carlo(formula.value, inputs), unit.kind, unit.symbol)
