"""Readings beside the route: dead probes between any two terminals, taken to find a fault.

They are judged against no band and settle no step. A note keeps them, under `probed`: a, b (terminals), typed, value
and uncertainty in ohm, bound, meter, and the set-up in which they were taken. The gate guards them like any ohms: never
on a unit that may be live or charged, only with a meter in hand today, and "OL" only through leads that were proved.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from benchapp.errors import BenchError
from benchapp.judgement import Function, uncertainty_of
from benchapp.quantities import Bound, Kind, read_reading
from benchapp.sequences.entries import Entry
from benchapp.sequences.instruments import trouble_with
from benchapp.sequences.moments import is_todays
from benchapp.sequences.planned import Plan, PlannedStep, Supply
from benchapp.sequences.standing import THROUGH_LEADS, Standing, leads_steps, proofs, proved_before
from benchapp.sequences.state import UnitState

PROBED = "probed"


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeProbe:
    """Two terminals and what the meter showed between them, as it was typed."""

    a: str
    b: str
    typed: str


def probing_set_up(step: PlannedStep | None) -> tuple[str, ...]:
    """The set-up in which a search that begins at this step probes: the step's own where it is a dead one."""
    return step.set_up if step is not None and step.supply is Supply.none and step.function in THROUGH_LEADS else ()


def probing_meter(state: UnitState, plan: Plan, at: str) -> str:
    """The meter in hand today that reads resistance, the one taken last; empty when there is none."""
    able = [name for name, meter in plan.meters.items() if Function.resistance in meter.functions]
    today = [name for name in able if name in state.meters and is_todays(state.meters[name].at, at)]
    return max(today, key=lambda name: state.meters[name].number, default="")


def probe_content(plan: Plan, state: UnitState, address: str, given: FreeProbe, at: str) -> dict[str, Any]:
    """What an entry of the probe carries; raises EntryProblem or BenchError for what no ohmmeter shows."""
    meter = probing_meter(state, plan, at)
    if not meter:
        raise BenchError(
            "No meter that reads resistance is in hand today. Take the step again and one in hand, then search."
        )
    reading = read_reading(given.typed, kind=Kind.resistance, unit="ohm")
    leads = state.meters[meter].content.get("lead_resistance")
    doubt = uncertainty_of(
        plan.meters[meter],
        Function.resistance,
        reading,
        lead_resistance=float(leads) if isinstance(leads, int | float) else None,
    )
    value = None if reading.bound is Bound.above else reading.si
    between = " and ".join(
        plan.circuit.say(end) if end in plan.circuit.terminals else end for end in (given.a, given.b)
    )
    probed = {
        "a": given.a,
        "b": given.b,
        "typed": given.typed,
        "value": value,
        "bound": str(reading.bound),
        "standard_uncertainty": doubt.standard,
        "meter": meter,
        "set_up": list(probing_set_up(plan.by_address.get(address))),
    }
    return {"words": f"Probed: {given.typed} between {between}.", PROBED: probed}


def refuse_probe(standing: Standing, entry: Entry) -> str | None:
    """Why this probe cannot stand, once the unit is known to be dead; None when it can."""
    probed: Mapping[str, Any] = entry.content[PROBED]
    circuit, ends = standing.plan.circuit, [str(probed.get("a", "")), str(probed.get("b", ""))]
    for end in ends:
        if end not in circuit.terminals:
            return f"{circuit.equipment} has no terminal “{end}”; it has {', '.join(circuit.terminals)}."
    if ends[0] == ends[1]:
        return f"Both probes would be on {circuit.say(ends[0])}: name two terminals."
    meter = str(probed.get("meter", ""))
    trouble = trouble_with(standing, meter, Function.resistance, live=False)
    if trouble:
        return f"This reading cannot be taken: {trouble}."
    return _refuse_open(standing, meter, entry) if probed.get("bound") == Bound.above else None


def _refuse_open(standing: Standing, meter: str, entry: Entry) -> str | None:
    """A broken lead reads "OL" too: the leads were proved today, in any stage that proves them."""
    proving = [stage for stage in standing.plan.stages if leads_steps(stage)]
    ledger = standing.ledger
    if not proving or any(
        proved_before(ledger, proofs(ledger, stage, meter), entry.number, entry.at) for stage in proving
    ):
        return None
    return f"Prove the leads of {meter} first (tips together): a broken lead reads “OL” too."
