"""Corrections of an indication: resistance of the leads, load of the meter, form of the wave.

Each correction is a line of the derivation. Formulas and check values: reference rows 9.2 to 9.10 (course texts):
R = R_read − R_leads; V = V_read × (R_source + R_meter) / R_meter; an average-responding meter shows 1.1107 × the mean
of the rectified wave, right for a sine alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import isfinite, pi, sqrt
from typing import TYPE_CHECKING

from benchapp.judgement.meters.functions import LOADED, THROUGH_LEADS, Function, Responds
from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.problems import LeadsProblem
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord

SINE_FORM_FACTOR = pi / (2 * sqrt(2))
_AC = frozenset({Function.ac_voltage, Function.mains_voltage, Function.ac_current})


class Waveform(StrEnum):
    """Wave shapes whose form factor (r.m.s. over rectified mean) is known."""

    sine = "sine"
    square = "square"
    triangle = "triangle"


_FORM_FACTOR = {Waveform.sine: SINE_FORM_FACTOR, Waveform.square: 1.0, Waveform.triangle: 2 / sqrt(3)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrected:
    """The value after all corrections, in SI, and what was corrected."""

    value: float
    derivation: tuple[DerivationStep, ...] = ()


def corrected(
    value: float,
    meter: MeterRecord,
    function: Function,
    *,
    lead_resistance: float | None = None,
    source_resistance: float | None = None,
    waveform: Waveform | None = None,
) -> Corrected:
    """Take leads, loading and waveform out of a reading; what is not stated is left in.

    Resistances in ohm: of the leads as measured (0 when nulled), and of the source that the circuit file gives.
    """
    lines: list[DerivationStep] = []
    if lead_resistance and function in THROUGH_LEADS and not meter.function(function).four_wire:
        value -= lead_resistance
        lines.append(_line("leads taken off", f"{show(lead_resistance, Kind.resistance)}", "measured at bench opening"))
    if source_resistance and meter.input_impedance and function in LOADED:
        factor = 1.0 + source_resistance / meter.input_impedance.si
        value *= factor
        lines.append(_line("load of the meter", f"× {factor:.6g}", f"{meter.meter}: input impedance"))
    if waveform is not None and function in _AC and meter.function(function).responds is Responds.average:
        factor = 1.0 / average_responding_factor(waveform)
        value *= factor
        lines.append(
            _line(f"average-responding meter on a {waveform} wave", f"× {factor:.6g}", "form factor of the wave")
        )
    return Corrected(value=value, derivation=tuple(lines))


def not_below_zero(indication: float, result: Corrected, expanded: float) -> Corrected:
    """A resistance (ohm) that came out below zero by no more than its uncertainty is zero.

    `indication` is what the meter showed (VIM 4.1). Raises LeadsProblem where taking the leads off brought
    it further below.
    """
    if result.value >= 0.0:
        return result
    if result.value + expanded >= 0.0:
        line = _line("below zero by less than the uncertainty", "taken as 0 ohm", "a resistance is never below zero")
        return Corrected(value=0.0, derivation=(*result.derivation, line))
    if result.derivation and indication >= 0.0:
        raise LeadsProblem(
            say(
                "{show} is less than the leads alone were measured to have ({show_2}), by more than this "
                "meter can be wrong. Measure the leads again, touched together, and then take this "
                "reading again.",
                show=show(indication, Kind.resistance),
                show_2=show(indication - result.value, Kind.resistance),
            )
        )
    return result


def average_responding_factor(waveform: Waveform) -> float:
    """What an average-responding meter shows, as a multiple of the true r.m.s. value."""
    return SINE_FORM_FACTOR / _FORM_FACTOR[waveform]


def _line(what: str, value: str, source: str) -> DerivationStep:
    return DerivationStep(what=what, value=value, source=source)


LARGEST_LEADS = 2.0
"""ohm that a pair of leads may have at most: common practice, no source; good ones have about 0.2 ohm (electricians'
handbook); the shipped sequences ask for 1 ohm at most, common practice too"""


def refuse_leads(meter: str, resistance: float | None, *, nulled: bool) -> str | None:
    """The sentence with which a lead resistance in ohm is refused; None where it can be used."""
    if resistance is None:
        return None
    if nulled:
        return say(
            "The leads of {meter} are said to be nulled and to have {resistance:g} ohm. Say one of "
            "the two: what was nulled is no longer in the readings.",
            meter=meter,
            resistance=resistance,
        )
    if not isfinite(resistance) or resistance < 0:
        return say(
            "Leads of {resistance:g} ohm cannot be: measure those of {meter} again, tips together.",
            resistance=resistance,
            meter=meter,
        )
    if resistance > LARGEST_LEADS:
        return say(
            "Leads of {resistance:g} ohm are no good: take other leads for {meter} (at most {largest_leads:g} ohm).",
            resistance=resistance,
            meter=meter,
            largest_leads=LARGEST_LEADS,
        )
    return None
