"""The band that a step's reading has to meet on one unit at one time."""

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Accept, Form
from benchapp.judgement.limits.bands import limit_band
from benchapp.judgement.limits.fuses import choose_fuse
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.judgement.statements.statements import Rule
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.sequences.answering.formula_variables import known_values, limit_facts, mains_now
from benchapp.sequences.answering.measurement_conditions import temperature_fact
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.facts import WINDING_TEMPERATURE
from benchapp.sequences.planning.limiters import FROM_LIMITER_RULES, limiter_band, limiter_now, nominal_mains
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.terminals import circuit_now, settings_now
from benchapp.wiring.assembly.unit import AS_DESIGNED
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.first_power import expected_current, mains_volts
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.expected.stated import is_steady
from benchapp.wiring.model.kind_of_load import has_inrush
from benchapp.wiring.model.touchable import insulation_between
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.acceptance.acceptance import KnownQuantity
    from benchapp.judgement.limits.cords import LimitFacts
    from benchapp.wiring.model.circuit import Circuit

MOST_BANDS = 500
FROM_FUSE_RULES = "from fuse rules"
"""A form of our own beside those of `judgement`: the fuse that maker, power and cord ask for."""
OF_OUR_OWN = frozenset({FROM_FUSE_RULES, FROM_LIMITER_RULES})


def band_for(plan: Plan, state: AnsweringState, step: PlannedStep, kind: Kind, at: str) -> Band | None:
    """The band with its derivation, None where anything is accepted; raises BenchError where it cannot be known."""
    if step.band is not None:
        return _on_this_unit(plan, state, step) or step.band
    if not step.accept:
        return None
    if step.accept == FROM_FUSE_RULES:
        return _from_fuse_rules(plan, state)
    if step.accept == FROM_LIMITER_RULES:
        return limiter_band(plan, kind)
    accept = _parsed(step.accept)
    if accept.form is Form.wiring:
        mains = mains_now(plan, state, step, at)
        return _on_this_unit(plan, state, step) or _from_wiring(plan, state, step, kind, mains)
    if accept.form is Form.limit:
        return _with_barrier(plan, step, limit_band(plan.profile, accept.limit_name, limit_facts(state.facts)))
    return accept.band(known_values(plan, state, step.stage), kind=kind, rule=Rule.guarded)


def _with_barrier(plan: Plan, step: PlannedStep, table: Band) -> Band:
    """An insulation reading is held to the stricter of the table and of the barriers that the design's file states."""
    if step.function is not Function.insulation or len(step.terminals) != 2:
        return table
    stated = max(insulation_between(plan.circuit, *step.terminals), key=lambda one: one.at_least, default=None)
    if stated is None or (table.lower is not None and stated.at_least <= table.lower):
        return table
    line = DerivationStep(
        what=f"{plan.circuit.part_names[stated.part]} is to have more than the table asks: at least",
        value=show(stated.at_least, table.kind),
        source=stated.stated,
    )
    return replace(table, lower=stated.at_least, derivation=(*table.derivation, line))


def _on_this_unit(plan: Plan, state: AnsweringState, step: PlannedStep) -> Band | None:
    """The dead reading that the wiring gives with what this unit has of its own, and at its windings' temperature.

    None where neither differs from the design. The temperature counts where a step of this run asks for it.
    """
    if len(step.terminals) != 2 or step.supply is not Supply.none:
        return None
    warmth = temperature_fact(state, WINDING_TEMPERATURE) if plan.asks_winding_temperature else None
    own = settings_now(plan, state.facts)
    if warmth is None and own == AS_DESIGNED:
        return None
    key = (f"{step.address} {own}", float("-inf") if warmth is None else warmth)
    if key not in plan.warm_bands:
        if len(plan.warm_bands) >= MOST_BANDS:
            plan.warm_bands.clear()
        a, b = step.terminals
        circuit = circuit_now(plan, state.facts)
        plan.warm_bands[key] = expected_resistance(
            circuit, a, b, state=step.circuit_state, temperature=warmth, red_on_b=step.probe is not None
        )
    return plan.warm_bands[key]


@lru_cache(maxsize=512)
def _parsed(text: str) -> Accept:
    """Expressions come from files: a few hundred, each asked for at every key press."""
    return parse_accept(text)


def _from_wiring(
    plan: Plan, state: AnsweringState, step: PlannedStep, kind: Kind, mains: "KnownQuantity | None"
) -> Band:
    if kind is Kind.current:
        return _current(plan, state, step, mains)
    if not step.terminals:
        raise BenchError(
            say("{address} takes its band from the wiring and names no two terminals.", address=step.address)
        )
    if kind is Kind.voltage:
        return _live_voltage(plan, state, step, mains)
    a, b = step.terminals
    return expected_resistance(circuit_now(plan, state.facts), a, b, state=step.circuit_state)


def _current(plan: Plan, state: AnsweringState, step: PlannedStep, mains: "KnownQuantity | None") -> Band:
    """At first power what a sound unit draws through its limiter, which has to be said before."""
    nominal = nominal_mains(plan)
    if step.supply is not Supply.limited:
        return expected_current(plan.circuit, None, mains=mains_volts(mains, nominal))
    limiter = limiter_now(state.facts, nominal)
    if limiter is None:
        raise BenchError(
            "Say first what limits the current: a lamp and its watts, or a variable transformer and its volts."
        )
    return expected_current(plan.circuit, limiter, mains=nominal)


def _live_voltage(plan: Plan, state: AnsweringState, step: PlannedStep, mains: "KnownQuantity | None") -> Band:
    """Asked for at every key press, and the same until the mains is read again: worked out once."""
    key = (f"{step.address} {settings_now(plan, state.facts)}", mains)
    known = plan.live_bands.get(key)
    if known is None:
        a, b = step.terminals
        circuit = circuit_now(plan, state.facts)
        known = expected_voltage(
            circuit, a, b, mains=mains, profile=plan.profile, state=step.circuit_state, loads=step.loads
        )
        known = _as_the_meter_reads(circuit, step, known)
        if len(plan.live_bands) >= MOST_BANDS:
            plan.live_bands.clear()
        plan.live_bands[key] = known
    return known


def _as_the_meter_reads(circuit: "Circuit", step: PlannedStep, band: Band) -> Band:
    """The band; without limits where the meter is set to AC on what is DC, or the other way round."""
    floating = band.lower is None and band.upper is None
    dc = step.function is Function.dc_voltage
    if floating or bool(is_steady(circuit, *step.terminals)) is dc:
        return band
    wanted = Function.ac_voltage if dc else Function.dc_voltage
    caution = say(
        "What stands here is no {function}: not judged. The sequence must ask for {wanted}.",
        function=step.function,
        wanted=wanted,
    )
    return replace(band, lower=None, upper=None, expected=None, cautions=(*band.cautions, caution))


THIN_CORD = 0.75e-6
"""m² below which a larger fuse for the starting current is for moulded plugs alone (BS 1363-1 Table 2)"""


def _starts_hard(plan: Plan, facts: "LimitFacts", area: float) -> bool:
    """Whether the fuse is chosen for a high starting current."""
    supply = plan.circuit.supply
    hard = supply is not None and has_inrush(supply.kind_of_load, facts.power)
    return hard and (facts.moulded_plug or area >= THIN_CORD * (1 - 1e-9))


def _from_fuse_rules(plan: Plan, state: AnsweringState) -> Band:
    """The one rating that the maker, the power and the cord ask for; published rules, so at the limit itself."""
    facts = limit_facts(state.facts)
    stated = state.facts.get("plug fuse rating")
    maker = float(stated) if isinstance(stated, int | float) else None
    area = facts.cord_area or 0.0
    choice = choose_fuse(plan.profile, facts.power, area, inrush=_starts_hard(plan, facts, area), maker_rating=maker)
    fitted = DerivationStep(what="so the fuse is", value=f"{choice.rating:g} A", source="the rules above")
    return Band(
        kind=Kind.current,
        unit="A",
        lower=choice.rating,
        upper=choice.rating,
        rule=Rule.simple,
        expected=choice.rating,
        derivation=(*choice.derivation, fitted),
    )
