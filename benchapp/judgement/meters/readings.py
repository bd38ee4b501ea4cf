"""The uncertainty of one reading: the meter's accuracy statement and the way it was taken, as a budget."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import TYPE_CHECKING

from benchapp.judgement.meters.functions import LOADED, THROUGH_LEADS, Function
from benchapp.judgement.meters.ranges import over_range, range_of
from benchapp.judgement.uncertainty.budget import Source, combine, repeated_source
from benchapp.judgement.uncertainty.uncertainty import Distribution, Uncertainty
from benchapp.quantities.quantity import Bound, Reading

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRange, MeterRecord


RESOLUTION = "resolution"
"""The source that every reading has of its own; the other rectangular ones are the meter's, the same in all of them."""


def uncertainty_of(
    meter: MeterRecord,
    function: Function,
    reading: Reading | float,
    *,
    step: float | None = None,
    range_name: str | None = None,
    lead_resistance: float | None = None,
    repeats: Sequence[float] = (),
    temperature: float | None = None,
    frequency: float | None = None,
    of_leads: bool = False,
    source_half_width: float = 0.0,
) -> Uncertainty:
    """The uncertainty of a reading of this meter, in SI; for one over the range, that at the top of its largest range.

    `range_name` is the range that showed it; None means the smallest that can. `step` is the weight of the last digit
    typed, for a reading given as a float. `lead_resistance` is what the leads were measured to have (0 when
    nulled); None means neither, and the meter's usual leads count in full. `repeats` are all the readings taken, two
    or more. `temperature` in °C is that of the meter, `frequency` in Hz that of the signal.
    `of_leads` says that the leads are what is measured. `source_half_width` in ohm is how far the source resistance
    may be from the one by which the meter's load is corrected.
    Raises RangeProblem or MeterProblem for a reading that this meter cannot have given.
    """
    if isinstance(reading, float | int):
        value: float | None = float(reading)
    else:
        value, step = reading.si, reading.si_step
        if reading.bound is not Bound.exact:
            step = None  # “below 0.1 ohm” is no display that was rounded to tenths
    if value is None:
        used = over_range(meter, function, range_name=range_name)
        value = used.full_scale
    else:
        used = range_of(meter, function, value, range_name=range_name, step=step)
    accuracy = used.accuracy_at(frequency)
    half_width = accuracy.half_width(value, used.count, used.full_scale)
    words, share = _outside_reference(meter, temperature)
    statement = f"accuracy ±({accuracy.text}), range to {used.name}{f', {words}' if share else ''}"
    digit = max(step or 0.0, used.count)
    sources = [Source(statement, half_width * (1 + share)), Source(RESOLUTION, 0.5 * digit)]
    if function in THROUGH_LEADS and not of_leads:
        sources.extend(_lead_sources(meter, function, used, lead_resistance))
    if source_half_width and meter.input_impedance and function in LOADED:
        sensitivity = abs(value) / meter.input_impedance.si
        sources.append(Source("source resistance, ohm", source_half_width, sensitivity=sensitivity))
    if len(repeats) > 1:
        sources.append(repeated_source(f"spread of {len(repeats)} readings", repeats))
    return combine(sources)


def shared_part(uncertainty: Uncertainty) -> float:
    """The part of a reading's standard uncertainty that its meter has in every reading of the same function (SI).

    All but the last digit and the spread of repeats: accuracy, temperature and leads err the same way each time.
    """
    own = (Distribution.student, Distribution.normal)
    rows = [row for row in uncertainty.budget if row.source != RESOLUTION and row.distribution not in own]
    return hypot(*(row.contribution for row in rows))


def _outside_reference(meter: MeterRecord, temperature: float | None) -> tuple[str, float]:
    """In words how far the meter is outside its reference temperature, and the share of its accuracy to add for it.

    Makers state it as a share of the accuracy for each degree, added to the accuracy itself; the two err together, so
    they make one source.
    """
    if temperature is None:
        return "", 0.0
    low, high = meter.reference_temperature
    outside = max(low - temperature, temperature - high, 0.0)
    words = f"meter at {temperature:g} °C, {outside:g} °C outside {low:g} °C to {high:g} °C"
    return words, meter.temperature_coefficient * outside


def _lead_sources(
    meter: MeterRecord, function: Function, used: MeterRange, lead_resistance: float | None
) -> list[Source]:
    """Leads nulled or measured leave one more resolution step; leads that were neither leave all of themselves."""
    if meter.function(function).four_wire:
        return []
    if lead_resistance is None:
        return [Source("leads neither nulled nor measured", meter.lead_resistance.si)]
    words = "leads measured and taken off" if lead_resistance else "leads nulled"
    return [Source(words, 0.5 * used.count)]
