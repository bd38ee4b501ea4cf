"""What is a value worth, whoever gave it: band, decision, and the content of its entry."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from benchapp.errors import BenchError
from benchapp.judgement import RULES_VERSION, Because, Decision, Known, decide
from benchapp.quantities import Kind, Reading, doubt_about
from benchapp.sequences.answers import complain, fault_content, settled
from benchapp.sequences.bands import band_for
from benchapp.sequences.knowns import mains_now
from benchapp.sequences.language import NamedFault
from benchapp.sequences.planned import Plan, PlannedStep
from benchapp.sequences.state import Attempt, UnitState

if TYPE_CHECKING:
    from benchapp.judgement import Band, Uncertainty


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A reading with everything it takes to judge it; value in SI, None when over the range."""

    reading: Reading
    value: float | None
    kind: Kind
    uncertainty: "Uncertainty | None"
    corrections: tuple[Because, ...] = ()
    more: Mapping[str, Any]


def judge(plan: Plan, state: UnitState, step: PlannedStep, taken: Taken, at: str) -> Attempt:
    """Hold a reading against the band of its step; without one it is recorded and not judged."""
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
        "faults": faults_of(step, decision.judgement.value, decision.sentence),
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


def faults_of(step: PlannedStep, judgement: str, sentence: str) -> list[dict[str, str]]:
    """The fault that the author named for a reading that fails; without a name the technician records one."""
    fault: NamedFault | None = getattr(step.model, "fault", None)
    if fault is None or judgement != "fail":
        return []
    return [fault_content(fault, getattr(step.model, "grave", "mend"), sentence)]
