"""Which band does a step's reading have to meet on this unit, now?"""

from functools import lru_cache
from typing import TYPE_CHECKING

from benchapp.judgement import Accept, Band, Because, Rule, choose_fuse, limit_band, parse_accept
from benchapp.judgement.acceptance import Form
from benchapp.quantities import Kind
from benchapp.sequences.knowns import known_values, limit_facts, mains_now
from benchapp.sequences.planned import Plan, PlannedStep, Supply
from benchapp.sequences.state import UnitState
from benchapp.sequences.taking import WINDING_TEMPERATURE, temperature_fact
from benchapp.wiring import expected_current, expected_resistance, expected_voltage

if TYPE_CHECKING:
    from benchapp.judgement import Known

MOST_BANDS = 500
FROM_FUSE_RULES = "from fuse rules"
"""The one form of our own beside those of `judgement`: the fuse that maker, power and cord ask for."""


def band_for(plan: Plan, state: UnitState, step: PlannedStep, kind: Kind, at: str) -> Band | None:
    """The band with its derivation, None where anything is accepted; raises BenchError where it cannot be known."""
    if step.band is not None:
        return _at_temperature(plan, state, step) or step.band
    if not step.accept:
        return None
    if step.accept == FROM_FUSE_RULES:
        return _from_fuse_rules(plan, state)
    accept = _parsed(step.accept)
    if accept.form is Form.wiring:
        return _at_temperature(plan, state, step) or _from_wiring(plan, step, kind, mains_now(plan, state, step, at))
    if accept.form is Form.limit:
        return limit_band(plan.profile, accept.limit_name, limit_facts(state.facts))
    return accept.band(known_values(plan, state, step.stage), kind=kind, rule=Rule.guarded)


def _at_temperature(plan: Plan, state: UnitState, step: PlannedStep) -> Band | None:
    """The dead reading that the wiring gives at the windings' temperature, where a step of this run asks for it."""
    warmth = temperature_fact(state, WINDING_TEMPERATURE)
    if (
        warmth is None
        or len(step.terminals) != 2
        or step.supply is not Supply.none
        or not plan.asks_winding_temperature
    ):
        return None
    key = (step.address, warmth)
    if key not in plan.warm_bands:
        if len(plan.warm_bands) >= MOST_BANDS:
            plan.warm_bands.clear()
        a, b = step.terminals
        plan.warm_bands[key] = expected_resistance(plan.circuit, a, b, state=step.circuit_state, temperature=warmth)
    return plan.warm_bands[key]


@lru_cache(maxsize=512)
def _parsed(text: str) -> Accept:
    """Expressions come from files: a few hundred, each asked for at every key press."""
    return parse_accept(text)


def _from_wiring(plan: Plan, step: PlannedStep, kind: Kind, mains: "Known | None") -> Band:
    circuit = plan.circuit
    if kind is Kind.current:
        return expected_current(circuit, mains)
    a, b = step.terminals
    if kind is Kind.voltage:
        return _live_voltage(plan, step, mains)
    return expected_resistance(circuit, a, b, state=step.circuit_state)


def _live_voltage(plan: Plan, step: PlannedStep, mains: "Known | None") -> Band:
    """Asked for at every key press, and the same until the mains is read again: worked out once."""
    key = (step.address, mains)
    known = plan.live_bands.get(key)
    if known is None:
        a, b = step.terminals
        known = expected_voltage(
            plan.circuit, a, b, mains=mains, profile=plan.profile, state=step.circuit_state, loads=step.loads
        )
        if len(plan.live_bands) >= MOST_BANDS:
            plan.live_bands.clear()
        plan.live_bands[key] = known
    return known


def _from_fuse_rules(plan: Plan, state: UnitState) -> Band:
    """The one rating that the maker, the power and the cord ask for; published rules, so at the limit itself."""
    facts = limit_facts(state.facts)
    stated = state.facts.get("plug fuse rating")
    maker = float(stated) if isinstance(stated, int | float) else None
    choice = choose_fuse(plan.profile, facts.power, facts.cord_area or 0.0, maker_rating=maker)
    fitted = Because(what="so the fuse is", value=f"{choice.rating:g} A", source="the rules above")
    return Band(
        kind=Kind.current,
        unit="A",
        lower=choice.rating,
        upper=choice.rating,
        rule=Rule.simple,
        expected=choice.rating,
        derivation=(*choice.derivation, fitted),
    )
