"""What is a value worth, whoever gave it: band, decision, and the content of its entry."""

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, TypedDict

from benchapp.errors import BenchError
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.meters.functions import OL_NEEDS_LEADS
from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.statements import RULES_VERSION, Judgement
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.doubt import doubt_about
from benchapp.quantities.quantity import Bound, Reading
from benchapp.sequences.answering.answers import asked_at, complain, fault_content, settled
from benchapp.sequences.answering.bands import band_for
from benchapp.sequences.answering.formula_variables import mains_now
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.steps import NamedFault
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.entry_contents import FaultContent
from benchapp.sequences.planning.paths import FROM_WIRING
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import Evaluation
from benchapp.wiring.expected.first_power import narrowed

if TYPE_CHECKING:
    from benchapp.judgement.meters.corrections import Waveform
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.statements.band import Band
    from benchapp.judgement.uncertainty.uncertainty import Contribution, Uncertainty
    from benchapp.sequences.language.vocabulary import ReadingSource


READ_AGAIN = "A broken lead reads “OL” too: prove the leads and read again before it is mended."
"""said with a fault that was read as "OL": such a reading needs no proof of the leads to condemn"""


class Taken(TypedDict, total=False):
    """What a meter's reading was taken with and in, by the names of `ReadingContent`."""

    kept: str
    repeats: tuple[str, ...]
    flickers: bool
    note: str
    why: str
    source: "ReadingSource"
    sent: str
    meter: str
    function: "Function | None"
    range: str
    range_shown: str
    range_before: str
    over_range_at: float | None
    lead_resistance: float | None
    of_leads: bool
    source_resistance: float | None
    frequency: float | None
    waveform: "Waveform | None"
    temperature: float | None
    test_voltage: float | None
    siblings: tuple[float, ...]
    meter_cautions: tuple[str, ...]


class _Worth(TypedDict, total=False):
    """The uncertainty of a value, by the names of `ReadingContent`."""

    coverage: float | None
    degrees_of_freedom: float
    dominant_half_width: float | None
    others_standard_uncertainty: float | None
    budget: tuple["Contribution", ...]


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
    typed: str = ""
    """what was typed first, where another of the readings is judged"""
    taken: Taken = field(default_factory=Taken)


def judge(plan: Plan, state: AnsweringState, step: PlannedStep, measurement: Measurement, at: str) -> Evaluation:
    """Hold a reading against the band of its step; without one it is recorded and not judged."""
    try:
        band = band_for(plan, state, step, measurement.kind, at)
    except BenchError as problem:
        return complain(problem.sentence)
    if band is None:
        return _only_recorded(step, measurement)
    if step.supply is Supply.limited and measurement.kind is Kind.current:
        band = narrowed(band, measurement.taken.get("siblings", ()))
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
    content = ReadingContent(
        **asked_at(step),
        judgement=decision.judgement,
        sentence=decision.sentence,
        to_judge=band.lower is not None or band.upper is not None,
        faults=tuple(_with_leads(measurement, one) for one in faults_of(step, decision.judgement, decision.sentence)),
        typed=measurement.typed or measurement.reading.typed,
        value=measurement.value,
        bound=measurement.reading.bound,
        kind=measurement.kind,
        unit=_unit_of(measurement.reading),
        rules_version=RULES_VERSION,
        **measurement.taken,
        mains=None if mains is None else float(mains.value_si),
        lower=decision.lower,
        upper=decision.upper,
        rule=band.rule,
        safety=band.safety,
        expected=band.expected,
        derivation=band.derivation,
        cautions=band.cautions,
        guard_band=decision.guard_band,
        conformance_probability=decision.conformance_probability,
        capable=decision.capable,
        corrections=measurement.corrections,
        standard_uncertainty=decision.standard_uncertainty,
        expanded_uncertainty=decision.expanded_uncertainty,
        **_worth(measurement.uncertainty),
    )
    doubt = doubt_about(measurement.reading, band.lower, band.upper)
    return Evaluation(
        judgement=content.judgement.value,
        sentence=content.sentence,
        content=content,
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
    content = ReadingContent(
        **asked_at(step),
        judgement=Judgement.not_judged,
        sentence="Recorded, not judged.",
        to_judge=False,
        typed=measurement.typed or measurement.reading.typed,
        value=measurement.value,
        bound=measurement.reading.bound,
        kind=measurement.kind,
        unit=_unit_of(measurement.reading),
        rules_version=RULES_VERSION,
        **measurement.taken,
        corrections=measurement.corrections,
        standard_uncertainty=known.standard if known else None,
        expanded_uncertainty=known.expanded if known else None,
        **_worth(known),
    )
    return replace(settled(content), reading=measurement.reading, uncertainty=known)


def _unit_of(reading: Reading) -> str:
    return reading.quantity.unit.symbol if reading.quantity is not None else ""


def _worth(known: "Uncertainty | None") -> _Worth:
    """Every source of the uncertainty, and its shape where one of them outweighs the rest."""
    if known is None:
        return {}
    return {
        "coverage": known.coverage,
        "degrees_of_freedom": known.degrees_of_freedom,
        "dominant_half_width": known.dominant or None,
        "others_standard_uncertainty": known.others if known.dominant else None,
        "budget": known.budget,
    }


def _with_leads(measurement: Measurement, fault: FaultContent) -> FaultContent:
    """The fault of an "OL" through test leads says what else reads so."""
    if measurement.reading.bound is not Bound.above or measurement.taken.get("function") not in OL_NEEDS_LEADS:
        return fault
    return replace(fault, words=f"{fault.words} {READ_AGAIN}")


def faults_of(step: PlannedStep, judgement: Judgement, sentence: str) -> tuple[FaultContent, ...]:
    """The fault that the author named for a reading that fails; without a name the technician records one."""
    fault: NamedFault | None = getattr(step.model, "fault", None)
    if fault is None or judgement is not Judgement.failed:
        return ()
    named = fault.model_copy(update={"part": step.at_fault}) if fault.part == FROM_WIRING else fault
    return (fault_content(named, getattr(step.model, "grave", "mend"), sentence),)
