"""What is a value worth, whoever gave it: band, decision, and the content of its entry."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import isfinite
from typing import TYPE_CHECKING, Any

from benchapp.errors import BenchError
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.decision.decision import Decision, decide
from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.statements import RULES_VERSION
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.doubt import doubt_about
from benchapp.quantities.quantity import Reading
from benchapp.sequences.answering.answers import complain, fault_content, settled
from benchapp.sequences.answering.bands import band_for
from benchapp.sequences.answering.formula_variables import mains_now
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.steps import NamedFault
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import Evaluation

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band
    from benchapp.judgement.uncertainty.uncertainty import Uncertainty


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """A reading with everything it takes to judge it; value in SI, None when over the range."""

    reading: Reading
    value: float | None
    kind: Kind
    uncertainty: "Uncertainty | None"
    corrections: tuple[DerivationStep, ...] = ()
    over: float | None = None
    """where the meter's range ends (SI), for a reading over it"""
    metered: bool = True
    """whether a meter took it, in this step"""
    more: Mapping[str, Any]


def judge(plan: Plan, state: AnsweringState, step: PlannedStep, measurement: Measurement, at: str) -> Evaluation:
    """Hold a reading against the band of its step; without one it is recorded and not judged."""
    try:
        band = band_for(plan, state, step, measurement.kind, at)
    except BenchError as problem:
        return complain(problem.sentence)
    if band is None:
        return _only_recorded(step, measurement)
    band = _shown_as_read(band, measurement.reading)
    decision = decide(
        value=measurement.value,
        bound=measurement.reading.bound,
        band=band,
        uncertainty=measurement.uncertainty,
        r=plan.workshop.guard_factor,
        step=measurement.reading.si_step,
        over=measurement.over,
        metered=measurement.metered,
    )
    mains = mains_now(plan, state, step, at)
    more = {
        **_typed(measurement),
        **_decided(decision, band, measurement),
        **_mains(mains),
        "faults": faults_of(step, decision.judgement.value, decision.sentence),
    }
    evaluation = settled(step, decision.judgement.value, decision.sentence, more)
    doubt = doubt_about(measurement.reading, band.lower, band.upper)
    return replace(
        evaluation,
        reading=measurement.reading,
        band=band,
        uncertainty=measurement.uncertainty,
        decision=decision,
        questions=(doubt,) if doubt else (),
    )


def _shown_as_read(band: "Band", reading: Reading) -> "Band":
    """A band whose author wrote a bare number is shown in the unit of the reading: 3 % beside 1.2 %, not 0.03."""
    if band.unit or reading.quantity is None or not reading.quantity.unit.symbol:
        return band
    return replace(band, unit=reading.quantity.unit.symbol)


def _only_recorded(step: PlannedStep, measurement: Measurement) -> Evaluation:
    known = measurement.uncertainty
    more = {
        **_typed(measurement),
        "standard_uncertainty": known.standard if known else None,
        "expanded_uncertainty": known.expanded if known else None,
        **_budget(known),
        "corrections": _lines(measurement.corrections),
        "to_judge": False,
    }
    evaluation = settled(step, "not judged", "Recorded, not judged.", more)
    return replace(evaluation, reading=measurement.reading, uncertainty=measurement.uncertainty)


def _typed(measurement: Measurement) -> dict[str, Any]:
    quantity = measurement.reading.quantity
    return {
        "typed": measurement.reading.typed,
        "value": measurement.value,
        "unit": quantity.unit.symbol if quantity is not None else "",
        "kind": measurement.kind.value,
        "bound": measurement.reading.bound.value,
        "rules_version": RULES_VERSION,
        **{name: value for name, value in measurement.more.items() if value is not False and value not in ("", [])},
    }


def _decided(decision: Decision, band: "Band", measurement: Measurement) -> dict[str, Any]:
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
        "derivation": _lines(band.derivation),
        "corrections": _lines(measurement.corrections),
        **_budget(measurement.uncertainty),
        "cautions": list(band.cautions),
        "to_judge": not floating,
    }


def _lines(derivation: Iterable[DerivationStep]) -> list[list[str]]:
    return [[line.what, line.value, line.source] for line in derivation]


def _budget(known: "Uncertainty | None") -> dict[str, Any]:
    """Every source of the uncertainty; degrees of freedom are null where they are infinite (JSON has no infinity)."""
    if known is None:
        return {}
    shape = {"dominant_half_width": known.dominant, "others_standard_uncertainty": known.others}
    return {
        **(shape if known.dominant else {}),
        "coverage": known.coverage,
        "degrees_of_freedom": _finite(known.degrees_of_freedom),
        "budget": [
            [
                row.source,
                row.value,
                row.distribution.value,
                row.sensitivity,
                row.contribution,
                row.share,
                _finite(row.degrees_of_freedom),
            ]
            for row in known.budget
        ],
    }


def _finite(number: float) -> float | None:
    return number if isfinite(number) else None


def _mains(mains: KnownQuantity | None) -> dict[str, Any]:
    return {} if mains is None else {"mains": float(mains.value_si)}


def faults_of(step: PlannedStep, judgement: str, sentence: str) -> list[dict[str, str]]:
    """The fault that the author named for a reading that fails; without a name the technician records one."""
    fault: NamedFault | None = getattr(step.model, "fault", None)
    if fault is None or judgement != "fail":
        return []
    return [fault_content(fault, getattr(step.model, "grave", "mend"), sentence)]
