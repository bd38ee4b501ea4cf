"""What a meter's reading is worth: typed text and meter to value, uncertainty and judgement."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import floor, log10
from typing import TYPE_CHECKING, Literal

from benchapp.errors import BenchError
from benchapp.judgement.decision.advice import advise
from benchapp.judgement.decision.decision import NEVER_NEGATIVE
from benchapp.judgement.meters.corrections import corrected, not_below_zero
from benchapp.judgement.meters.functions import Function, kind_of
from benchapp.judgement.meters.ranges import ranges_in_touch
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.statements import Judgement
from benchapp.quantities.display import show
from benchapp.quantities.entry import read_quantity, read_reading
from benchapp.quantities.quantity import Bound, Reading
from benchapp.sequences.answering.answers import complain, with_sentence
from benchapp.sequences.answering.bands import band_for
from benchapp.sequences.answering.instruments import would_do
from benchapp.sequences.answering.judged import Measurement, Taken, faults_of, judge
from benchapp.sequences.answering.measurement_conditions import MeasurementConditions, measurement_conditions
from benchapp.sequences.answering.meter_choice import meters_at_hand
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.vocabulary import ReadingSource, Supply
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.entry_times import day_of
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import Evaluation
from benchapp.words import Sentence, say

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.judgement.statements.band import Band
    from benchapp.judgement.uncertainty.uncertainty import Uncertainty

_EXAMPLE = 9.12
"""digits of an example, before its size"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingAnswer(StepAnswer):
    """A reading as it was typed or sent, with the meter that gave it. "OL" is never taken by itself.

    `repeats` are further readings of the same thing as typed; `flickers` says that it would not stay still. At first
    power `siblings` are what sound units of the lot drew through the same limiter, in A: they may narrow the band.
    """

    typed: str
    meter: str = ""
    range: str = ""
    repeats: tuple[str, ...] = ()
    flickers: bool = False
    note: str = ""
    why: str = ""
    """why it is read again, where the reading before it failed"""
    siblings: tuple[float, ...] = ()
    source: ReadingSource = ReadingSource.keys
    sent: str = ""
    """the line that the meter sent, or the row that its tester kept"""


def reading_from(content: ReadingContent) -> ReadingAnswer:
    """The reading as it was given, from what an entry keeps of it."""
    return ReadingAnswer(
        typed=content.typed,
        meter=content.meter,
        range=content.range,
        repeats=content.repeats,
        flickers=content.flickers,
        note=content.note,
        why=content.why,
        siblings=content.siblings,
        source=content.source,
        sent=content.sent,
    )


Keep = Literal["steady", "highest", "lowest"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How a reading is taken: which of several is kept, and above what the unit goes off at once, in which words."""

    keep: Keep = "steady"
    stop_above: str = ""
    stop_words: str = ""


def try_reading(
    plan: Plan, state: AnsweringState, step: PlannedStep, given: ReadingAnswer, at: str, *, manner: Manner | None = None
) -> Evaluation:
    """Judge a reading that a meter took."""
    try:
        measurement = _take(plan, state, step, given, at, manner.keep if manner else "steady")
    except BenchError as problem:
        band = _band_to_come(plan, state, step, at)
        return replace(complain(_with_fitting_example(problem.sentence, band)), band=band)
    evaluation = _advised(plan, state, step, given, judge(plan, state, step, measurement, at), at)
    if given.flickers and evaluation.complaint is None:
        return _flickering(step, evaluation)
    return _stopped(step, manner, measurement, evaluation)


def _band_to_come(plan: Plan, state: AnsweringState, step: PlannedStep, at: str) -> "Band | None":
    """The band that a reading will be held against, for the gauge; None where it is not known yet."""
    try:
        return band_for(plan, state, step, kind_of(step.read_on), at)
    except BenchError:
        return None


def _with_fitting_example(sentence: str, band: "Band | None") -> str:
    """The sentence with an example of the size that is read here, where it gives one: mA where some mA are expected."""
    limit = (band.upper or band.lower) if band is not None else None
    if band is None or not limit or not isinstance(sentence, Sentence) or "example" not in sentence.values:
        return sentence
    value = _EXAMPLE * 10.0 ** floor(log10(abs(limit)))
    fitting = value if value <= abs(limit) else value / 10
    return say(sentence.pattern, **{**sentence.values, "example": show(fitting, band.kind, unit=band.unit)})


def _take(
    plan: Plan, state: AnsweringState, step: PlannedStep, given: ReadingAnswer, at: str, keep: Keep
) -> Measurement:
    function = step.read_on
    kind = kind_of(function)
    readings = [read_reading(text, kind=kind, unit=step.unit) for text in (given.typed, *given.repeats)]
    if given.repeats and _is_not_met_on_average(step, keep, readings):
        raise BenchError("Give one reading here, the worst: neither a limit of safety nor “OL” is met on average.")
    meter_id = given.meter or next(iter(meters_at_hand(plan, state, step, at)), "")
    meter = plan.meters.get(meter_id)
    if meter is None:
        raise BenchError(say("Say which meter took this reading ({function}).", function=step.function))
    conditions = measurement_conditions(plan, state, step, meter, function)
    kept = _kept(keep, readings)
    shown = _shown(meter, function, readings, kept, given.range)
    uncertainty = uncertainty_of(
        meter,
        function,
        kept.reading,
        range_name=shown.on or given.range or None,
        lead_resistance=conditions.leads,
        repeats=kept.spread,
        temperature=conditions.temperature,
        frequency=conditions.frequency,
        of_leads=conditions.of_leads,
        source_half_width=conditions.source_half_width,
    )
    value, lines = _put_right(kept, meter, function, conditions, uncertainty)
    taken: Taken = {
        "kept": kept.reading.typed if kept.location else "",
        "repeats": given.repeats,
        "flickers": given.flickers,
        "note": given.note,
        "why": given.why,
        "source": given.source,
        "sent": given.sent,
        "meter": meter_id,
        "function": function,
        "range": given.range,
        "range_shown": shown.on,
        "range_before": shown.before,
        "over_range_at": shown.over or None,
        "lead_resistance": conditions.leads,
        "of_leads": conditions.of_leads,
        "source_resistance": conditions.source,
        "frequency": conditions.frequency,
        "waveform": conditions.waveform,
        "temperature": conditions.temperature,
        "test_voltage": conditions.test_voltage,
        "siblings": given.siblings,
        "meter_cautions": tuple(meter.cautions(function, day_of(at), conditions.temperature)),
    }
    return Measurement(
        reading=kept.reading,
        value=value,
        kind=kind,
        uncertainty=uncertainty,
        corrections=lines,
        over=shown.over,
        typed=given.typed,
        taken=taken,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    """The reading that is judged, its place among those taken, and the readings whose spread counts."""

    reading: Reading
    location: int = 0
    spread: tuple[float, ...] = ()
    """none where the extreme is kept"""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """Names of the range that showed the reading and of that of the one before it, taken without lifting the probes."""

    on: str = ""
    before: str = ""
    over: float | None = None
    """where that range ends (SI), for a reading over it"""


def _shown(
    meter: "MeterRecord", function: Function, readings: Sequence[Reading], kept: _Kept, range_name: str
) -> _Shown:
    """Readings of one answer are taken in touch, one after the other; for a mean the coarsest range counts."""
    ranges = ranges_in_touch(
        meter,
        function,
        [one.si for one in readings],
        steps=[one.si_step if one.bound is Bound.exact else None for one in readings],
        range_name=range_name or None,
    )
    on = max(ranges, key=lambda one: one.full_scale) if kept.spread else ranges[kept.location]
    before = ranges[kept.location - 1].name if kept.location and not kept.spread else ""
    return _Shown(on=on.name, before=before, over=on.full_scale if kept.reading.si is None else None)


def _put_right(
    kept: _Kept, meter: "MeterRecord", function: Function, conditions: MeasurementConditions, uncertainty: "Uncertainty"
) -> tuple[float | None, tuple[DerivationStep, ...]]:
    """The value without leads, load and bent waveform, and what was taken off; a bound stays as it was read."""
    read = kept.reading.si
    if kept.reading.bound is not Bound.exact or read is None:
        return read, ()
    average = sum(kept.spread) / len(kept.spread) if kept.spread else read
    found = corrected(
        average,
        meter,
        function,
        lead_resistance=conditions.leads,
        source_resistance=conditions.source,
        waveform=conditions.waveform,
    )
    if kind_of(function) in NEVER_NEGATIVE:
        found = not_below_zero(average, found, uncertainty.expanded)
    return found.value, found.derivation


def _is_not_met_on_average(step: PlannedStep, keep: Keep, readings: Sequence[Reading]) -> bool:
    """Whether a mean of the readings could hide a bad one; the highest or lowest of them hides nothing."""
    if keep != "steady":
        return False
    bounded = any(reading.bound is not Bound.exact for reading in readings)
    isolation = step.band is not None and step.band.upper is None
    return bounded or isolation or step.accept.startswith("limit ")


def _kept(keep: Keep, readings: list[Reading]) -> _Kept:
    """Which of the readings is judged: the first with the spread of all where it is steady, else the extreme."""
    values = [one.si for one in readings]
    over = next((location for location, one in enumerate(readings) if one.bound is not Bound.exact), None)
    numbers = [
        value for value, one in zip(values, readings, strict=True) if value is not None and one.bound is not Bound.above
    ]
    if keep == "lowest" and numbers:
        location = values.index(min(numbers))
        return _Kept(reading=readings[location], location=location)
    if over is not None or len(readings) == 1:
        location = over or 0
        return _Kept(reading=readings[location], location=location)
    if keep == "steady":
        return _Kept(reading=readings[0], spread=tuple(numbers))
    location = values.index(max(numbers))
    return _Kept(reading=readings[location], location=location)


def _advised(
    plan: Plan, state: AnsweringState, step: PlannedStep, given: ReadingAnswer, evaluation: Evaluation, at: str
) -> Evaluation:
    """A reading that its meter could not settle says which of the workshop's meters would, in calibration that day.

    None is named that this step would refuse.
    """
    if evaluation.decision is None or evaluation.band is None or evaluation.complaint is not None:
        return evaluation
    content = evaluation.content
    used = plan.meters.get(content.meter) if isinstance(content, ReadingContent) else None
    fit = [meter for meter in plan.meters.values() if meter is used or _would_do(state, step, meter, at)]
    advice = advise(
        evaluation.decision,
        evaluation.band,
        step.read_on,
        fit,
        used=used,
        range_name=given.range or None,
        step=evaluation.reading.si_step if evaluation.reading is not None else None,
        r=plan.workshop.guard_factor,
    )
    if not advice:
        return evaluation
    return with_sentence(evaluation, f"{evaluation.sentence} {advice}")


def _would_do(state: AnsweringState, step: PlannedStep, meter: "MeterRecord", at: str) -> bool:
    """Whether a meter could take this reading, in hand or not: in calibration, and of the kind that the step asks."""
    if meter.is_overdue(day_of(at)):
        return False
    return state.evaluation is None or would_do(state.evaluation, meter.meter, step)


def _flickering(step: PlannedStep, evaluation: Evaluation) -> Evaluation:
    """A reading that will not stand still is a loose joint, whatever its value."""
    sentence = "It flickers: look for a loose joint or a broken strand."
    return _failed(step, evaluation, sentence)


def _stopped(step: PlannedStep, manner: Manner | None, measurement: Measurement, evaluation: Evaluation) -> Evaluation:
    """Above the step's stop value: off at once, and a fault."""
    if evaluation.complaint is not None or manner is None:
        return evaluation
    if not manner.stop_above:
        return _off_at_once(step, measurement, evaluation)
    if (
        measurement.reading.bound is not Bound.above
        and (measurement.value or 0.0) <= read_quantity(manner.stop_above).si
    ):
        return evaluation
    sentence = manner.stop_words or say(
        "Above {stop_above}: switch off at once, at the wall or by the plug.", stop_above=manner.stop_above
    )
    return replace(_failed(step, evaluation, sentence), questions=(sentence,))


def _off_at_once(step: PlannedStep, measurement: Measurement, evaluation: Evaluation) -> Evaluation:
    """On limited supply a reading above its band is a short, whether its author thought of it or not."""
    upper = evaluation.band.upper if evaluation.band is not None else None
    above = measurement.reading.bound is Bound.above or (upper is not None and (measurement.value or 0.0) > upper)
    if step.supply is not Supply.limited or not above or evaluation.judgement == "pass":
        return evaluation
    sentence = say("Switch off at once, at the wall or by the plug. {sentence}", sentence=evaluation.sentence)
    return replace(with_sentence(evaluation, sentence), questions=(sentence,))


def _failed(step: PlannedStep, evaluation: Evaluation, sentence: str) -> Evaluation:
    """The same attempt, failed for a reason that lies beside its value."""
    failed = Judgement.failed
    return with_sentence(evaluation, sentence, judgement=failed, faults=faults_of(step, failed, sentence))
