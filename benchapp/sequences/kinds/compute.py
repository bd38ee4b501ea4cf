"""The kind `compute`: a value by formula over earlier readings and equipment data."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations
from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.files.forms import Id
from benchapp.files.locations import Complaint, Key
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.meters.readings import shared_part
from benchapp.judgement.uncertainty.budget import Source, combine, plain_uncertainty
from benchapp.judgement.uncertainty.propagation import Measured, propagate_safely
from benchapp.judgement.uncertainty.simulation import disagreement, monte_carlo
from benchapp.judgement.uncertainty.uncertainty import Distribution
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.formula import parse_formula
from benchapp.quantities.problems import FormulaProblem
from benchapp.quantities.quantity import Bound, Quantity, Reading
from benchapp.quantities.unit import Unit
from benchapp.quantities.units import unit_named
from benchapp.sequences.answering.answers import complain, with_sentence
from benchapp.sequences.answering.formula_variables import known_values
from benchapp.sequences.answering.judged import Measurement, judge
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.checks.written_values import check_accept, check_formula_names, kinds_known, names_accepted
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.field_types import Severity
from benchapp.sequences.language.steps import NamedFault, StepBase
from benchapp.sequences.language.vocabulary import Facts
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, one_step
from benchapp.sequences.planning.state import Evaluation

if TYPE_CHECKING:
    from benchapp.judgement.uncertainty.propagation import Derived


class ComputeStep(StepBase):
    """A value by formula over earlier readings and equipment data."""

    compute: Id
    """the step's own id"""
    value: str
    """the formula, over earlier steps and equipment data: (low-open - low) / low"""
    unit: str
    """the unit it is shown in"""
    accept: str = ""
    """what it is held against, as for a reading; left out: not judged"""
    fault: NamedFault | None = None
    """what a value outside the band says is broken"""
    grave: Severity = "mend"
    """what the fault asks for"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComputeAnswer(StepAnswer):
    """Nothing is given: the value follows from earlier readings."""


class Compute(CheckedKind):
    """The value with its uncertainty from that of the values in it, checked by Monte Carlo."""

    name = "compute"
    place = 7
    model = ComputeStep
    answer = ComputeAnswer
    content = ReadingContent
    by_hand = False
    on_tag = OnTag.nothing
    digest_keys = ("value", "unit", "grave")
    shows = {}
    plan = one_step

    def evaluate(
        self, plan: Plan, state: AnsweringState, step: PlannedStep, given: ComputeAnswer, at: str
    ) -> Evaluation:
        model = step.model
        assert isinstance(model, ComputeStep)
        unit = unit_named(model.unit)
        try:
            derived, note = _worked_out(model.value, _known(plan, state, step), unit)
        except BenchError as problem:
            return complain(problem.sentence)
        quantity = Quantity(value=Decimal(repr(derived.value)) / unit.factor, unit=unit)
        measurement = Measurement(
            reading=Reading(typed=model.value, quantity=quantity, bound=Bound.exact),
            value=derived.value,
            kind=unit.kind,
            uncertainty=derived.uncertainty if derived.uncertainty.standard else None,
            metered=False,
        )
        evaluation = judge(plan, state, step, measurement, at)
        if not note or evaluation.complaint is not None:
            return evaluation
        return with_sentence(evaluation, f"{evaluation.sentence} {note}")

    def answer_from(self, content: ReadingContent) -> ComputeAnswer:
        return ComputeAnswer()

    def check(self, walk: Walk, key: Key, step: ComputeStep) -> Iterator[Complaint]:
        try:
            kind = unit_named(step.unit).kind
            formula = parse_formula(step.value)
        except FormulaProblem as problem:
            yield walk.complain((*key, "value"), problem.sentence, at=problem.position)
            return
        except BenchError as problem:
            yield walk.complain((*key, "unit"), problem.sentence)
            return
        missing = list(check_formula_names(walk, (*key, "value"), formula.names))
        yield from missing
        if missing:
            return
        if formula.is_comparison:
            what = "this comes to true or false, not to a value"
            yield walk.complain((*key, "value"), what, "the value alone, and what it is compared with under accept")
            return
        try:
            dimension = formula.check(kinds_known(walk))
        except FormulaProblem as problem:
            yield walk.complain((*key, "value"), problem.sentence, at=problem.position)
            return
        if dimension != kind.dimension:
            what = f"this comes to {dimension}, not to {kind.with_article} as its unit {step.unit} says"
            yield walk.complain((*key, "value"), what)
        elif step.unit == "%" and formula.factor_of_100 is not None:
            what = "the unit % counts hundredths already: × 100 would make 3 % into 300 %"
            yield walk.complain((*key, "value"), what, "the share without × 100", at=formula.factor_of_100)
        yield from check_accept(walk, (*key, "accept"), step.accept, kind, step.unit)

    def case_answer(self, step: ComputeStep, line: CaseLine, facts: Facts) -> ComputeAnswer:
        return ComputeAnswer()

    def reading_kind(self, step: ComputeStep) -> Kind:
        return unit_named(step.unit).kind

    def names_used(self, step: ComputeStep) -> Mapping[str, frozenset[str]]:
        try:
            named = frozenset(parse_formula(step.value).names)
        except FormulaProblem:
            named = frozenset()
        return {"accept": names_accepted(step.accept), "value": named}


@dataclass(frozen=True, slots=True, kw_only=True)
class _KnownQuantities:
    """A value that a formula names; `shared` is what of its standard uncertainty its meter has in every reading."""

    measured: Measured
    meter: str = ""
    shared: float = 0.0


def _known(plan: Plan, state: AnsweringState, step: PlannedStep) -> dict[str, _KnownQuantities]:
    """The values that the step's formula names, by name."""
    assert isinstance(step.model, ComputeStep)
    names = parse_formula(step.model.value).names
    values = known_values(plan, state, step.stage)
    found = {}
    for name, known in values.items():
        if name in names:
            entry = state.readings.get(name) or state.readings.get(f"{step.stage}.{name}")
            found[name] = _with(known, entry.content if entry is not None else None)
    return found


def _with(known: KnownQuantity, content: ReadingContent | None) -> _KnownQuantities:
    value, u = float(known.value_si), known.standard_uncertainty
    stored = content.uncertainty if content is not None else None
    if content is None or stored is None:
        return _KnownQuantities(measured=Measured(value=value, uncertainty=plain_uncertainty(u)))
    spread = Source("of the reading", u, Distribution.student, 1.0, stored.degrees_of_freedom)
    meter = f"{content.meter}, {content.function}" if content.meter else ""
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
