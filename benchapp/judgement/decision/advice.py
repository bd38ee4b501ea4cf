"""The meters of the workshop that would settle a reading which the meter at hand could not."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.judgement.decision.decision import Decision, decide
from benchapp.judgement.meters.functions import THROUGH_LEADS, Function
from benchapp.judgement.meters.names import meter_name
from benchapp.judgement.meters.ranges import SAME_DIGIT, range_of
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Judgement, completes_step
from benchapp.quantities.quantity import Bound
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord

_SETTLED = frozenset({Judgement.passed, Judgement.failed})


def settling_meters(
    value: float, band: Band, function: Function, meters: Iterable[MeterRecord], *, r: float = 1.0
) -> tuple[MeterRecord, ...]:
    """The meters that would pass or fail this value (SI) outright, leads nulled, the surest first."""
    found = []
    for meter in meters:
        decision, expanded = _with(meter, value, band, function, r)
        if decision in _SETTLED:
            found.append((expanded, meter.meter, meter))
    return tuple(meter for _, _, meter in sorted(found, key=lambda one: one[:2]))


def advise(
    decision: Decision,
    band: Band,
    function: Function,
    meters: Iterable[MeterRecord],
    *,
    used: MeterRecord | None = None,
    range_name: str | None = None,
    step: float | None = None,
    r: float = 1.0,
) -> str:
    """What to do about a conditional or unjudged reading, in a sentence; nothing where it is settled.

    `used` is the meter that took it and `range_name` its range, where one was named: a lower range may be enough.
    `step` is the weight of the last digit typed (SI): one that was left out may be all that is missing.
    """
    value = decision.value
    tells_nothing = decision.bound is not Bound.exact and decision.capable and not completes_step(decision.judgement)
    if decision.judgement in _SETTLED or value is None or tells_nothing:
        return ""
    workshop = tuple(meters)
    settling = settling_meters(value, band, function, workshop, r=r)
    names = [meter_name(meter, workshop) for meter in settling if used is None or meter.meter != used.meter]
    if used is not None and any(meter.meter == used.meter for meter in settling):
        return f"Take it again {_better(used, function, value, range_name, step)}{_or_with(names)}."
    if names:
        return say("Take it again with {listed}.", listed=" or ".join(names))
    return _nearest(workshop, value, band, function, r)


def _better(used: MeterRecord, function: Function, value: float, range_name: str | None, step: float | None) -> str:
    """How the meter that took the reading could have known it better."""
    if range_name:
        return "on its lower range"
    if step is not None and step > range_of(used, function, value).count * (1.0 + SAME_DIGIT):
        return "with every digit that the meter shows"
    return "with the leads nulled" if function in THROUGH_LEADS else "with every digit that the meter shows"


def _or_with(names: list[str]) -> str:
    return f", or with {' or '.join(names)}" if names else ""


def _nearest(workshop: tuple[MeterRecord, ...], value: float, band: Band, function: Function, r: float) -> str:
    able = [meter for meter in workshop if function in meter.functions]
    if not able:
        return say("No meter of this workshop has the function {function}.", function=function)
    surest = min(able, key=lambda meter: (_with(meter, value, band, function, r)[1], meter.meter))
    name = meter_name(surest, workshop)
    return say("None of this workshop's meters can settle it; {meter} comes nearest.", meter=name)


def _with(meter: MeterRecord, value: float, band: Band, function: Function, r: float) -> tuple[Judgement, float]:
    """What this meter would have said of the value, and with which expanded uncertainty."""
    if function not in meter.functions:
        return Judgement.not_judged, float("inf")
    try:
        uncertainty = uncertainty_of(meter, function, value, lead_resistance=0.0)
    except BenchError:
        return Judgement.not_judged, float("inf")
    decision = decide(value=value, bound=Bound.exact, band=band, uncertainty=uncertainty, r=r)
    return decision.judgement, uncertainty.expanded
