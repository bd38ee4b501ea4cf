"""The conditions of a reading: leads, source resistance, frequency, waveform, temperature and test voltage.

What the judgement of a reading can use of the unit, the circuit, the meter and its step.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.judgement.meters.corrections import Waveform
from benchapp.judgement.meters.functions import LOADED, Function
from benchapp.sequences.answering.tester_settings import voltage_confirmed
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.facts import ROOM_TEMPERATURE
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.terminals import circuit_now, settings_now
from benchapp.wiring.network.meter_load import source_resistance

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.wiring.model.circuit import Toleranced

NEGLIGIBLE_LOAD = 1e-5
"""share of a voltage below which the meter's load is not taken off: no meter of a bench shows it (common practice)"""
ALTERNATING = frozenset(
    {
        Function.ac_voltage,
        Function.mains_voltage,
        Function.ac_current,
        Function.power,
        Function.protective_conductor_current,
        Function.touch_current,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasurementConditions:
    """Resistances in ohm, Hz, °C, V; None for what is not known and so counts as nothing."""

    leads: float | None = None
    of_leads: bool = False
    """the leads are what is measured: they are never taken off"""
    source: float | None = None
    source_half_width: float = 0.0
    frequency: float | None = None
    waveform: Waveform | None = None
    temperature: float | None = None
    test_voltage: float | None = None
    """of an insulation reading: what the technician has confirmed that the tester stands at"""


def measurement_conditions(
    plan: Plan, state: AnsweringState, step: PlannedStep, meter: "MeterRecord", function: Function
) -> MeasurementConditions:
    """How a reading of this step is taken with this meter."""
    source = _source(plan, state, step, meter, function)
    of_leads = Role.leads in step.shows
    stated = getattr(step.model, "waveform", "")
    return MeasurementConditions(
        leads=None if of_leads else leads_of(state, meter.meter),
        of_leads=of_leads,
        source=source.nominal if source else None,
        source_half_width=0.5 * (source.high - source.low) if source else 0.0,
        frequency=_frequency(plan, function),
        waveform=Waveform(stated) if stated else None,
        temperature=temperature_fact(state, ROOM_TEMPERATURE),
        test_voltage=voltage_confirmed(state.set_up) if function is Function.insulation else None,
    )


def leads_of(state: AnsweringState, meter: str) -> float | None:
    """Resistance of the leads of a meter in hand: 0 when nulled, None when nobody looked."""
    entry = state.meters.get(meter)
    return None if entry is None else entry.content.leads


def temperature_fact(state: AnsweringState, name: str) -> float | None:
    """A temperature that somebody stated for this unit, in °C."""
    value = state.facts.get(name)
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def _frequency(plan: Plan, function: Function) -> float | None:
    supply = plan.circuit.supply
    return supply.frequency if supply is not None and function in ALTERNATING and supply.frequency > 0 else None


def _source(
    plan: Plan, state: AnsweringState, step: PlannedStep, meter: "MeterRecord", function: Function
) -> "Toleranced | None":
    """The source resistance that the meter loads, where it loads it noticeably; worked out once for each meter."""
    if function not in LOADED or meter.input_impedance is None or len(step.terminals) != 2:
        return None
    if step.supply is Supply.none:
        return None
    impedance = meter.input_impedance.si
    key = (f"{step.address} {settings_now(plan, state.facts)}", impedance)
    if key not in plan.sources:
        a, b = step.terminals
        circuit = circuit_now(plan, state.facts)
        plan.sources[key] = source_resistance(
            circuit, a, b, meter=impedance, state=step.circuit_state, loads=step.loads
        )
    found = plan.sources[key]
    return found if found is not None and found.nominal > NEGLIGIBLE_LOAD * impedance else None
