"""What limits the first power of a unit: the facts that say it, and which of them can judge this design here."""

from collections.abc import Mapping

from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.judgement.statements.statements import Rule
from benchapp.quantities.dimensions import Kind
from benchapp.sequences.language.vocabulary import FactValue, Role, Supply
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.wiring.expected.first_power import lamps_that_can, limiter_of, why_not_limiter
from benchapp.wiring.expected.limiters import TURNED_UP, Lamp, Limiter, Variable, shown_volts
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.kind_of_load import LAMP_CANNOT_JUDGE
from benchapp.words import say

FROM_LIMITER_RULES = "from limiter rules"
"""What an ask step accepts that asks for a limiter: one that can tell a short from this item."""
LIMITER, LAMP_WATTS, LIMITER_VOLTS = "limiter", "limiter lamp", "limiter volts"
"""Facts of a unit that say what limited its first power: which sort, the lamp's watts, the transformer's volts."""
LIMITER_FACTS = frozenset({LIMITER, LAMP_WATTS, LIMITER_VOLTS})


def nominal_mains(plan: Plan) -> float:
    """The place's nominal mains (V)."""
    return float(plan.profile.mains.nominal.exact)


def goes_by_resistance(plan: Plan) -> bool:
    """Whether this route takes what no lamp can judge to mains by its resistance, its insulation and its fuse."""
    supply = plan.circuit.supply
    hard = supply is not None and supply.kind_of_load in LAMP_CANNOT_JUDGE
    return hard and not plan.showing(Role.limited_power)


def limiter_now(facts: Mapping[str, FactValue], mains: float) -> Limiter | None:
    """The limiter as the unit's facts say it, on that mains (V); None where they do not say it whole."""
    return limiter_of(
        str(facts.get(LIMITER, "")), _number(facts, LAMP_WATTS), _number(facts, LIMITER_VOLTS), mains=mains
    )


def why_unlimited(plan: Plan, step: PlannedStep, facts: Mapping[str, FactValue]) -> str:
    """Why a step on limited supply waits until it is said what limits; empty where it is said or asked."""
    asked = any(one.settles == LIMITER for one in plan.steps)
    if step.supply is not Supply.limited or step.settles in LIMITER_FACTS or not asked:
        return ""
    if limiter_now(facts, nominal_mains(plan)) is not None:
        return ""
    return (
        "Say first what limits the current: the lamp and its watts, or the variable transformer and its volts. "
        "Without it nobody can tell a short from a sound item."
    )


def _number(facts: Mapping[str, FactValue], name: str) -> float | None:
    value = facts.get(name)
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def refuse_lamp(plan: Plan, watts: FactValue) -> str | None:
    """Why a lamp of so many watt cannot judge this design, and which could; None where it can.

    Raises WiringProblem where nothing tells what the design draws.
    """
    if isinstance(watts, bool | str) or not watts > 0:
        return say("“{watts}” are no watts of a lamp.", watts=watts)
    lamp = Lamp(watts=float(watts), mains=nominal_mains(plan))
    return why_not_limiter(plan.circuit, lamp, largest=plan.workshop.largest_lamp) or None


def refuse_volts(plan: Plan, volts: FactValue) -> str | None:
    """The same for a variable transformer turned up to so many volt."""
    if isinstance(volts, bool | str) or not volts > 0:
        return say("“{volts}” are no volts of a variable transformer.", volts=volts)
    return why_not_limiter(plan.circuit, Variable(volts=float(volts), mains=nominal_mains(plan))) or None


def limiter_band(plan: Plan, kind: Kind) -> Band:
    """The lamps (W), or the volts of a variable transformer (V), that can judge this design here."""
    mains, largest = nominal_mains(plan), plan.workshop.largest_lamp
    if kind is Kind.voltage:
        low, high = (share * mains for share in TURNED_UP)
        words, source = shown_volts(mains), assumptions.COMMON_PRACTICE
        line = DerivationStep(what="turned up slowly, then read at", value=words, source=source)
        return _band(kind, "V", low, high, line)
    lamps = lamps_that_can(plan.circuit, mains=mains, largest=largest)
    if lamps is None:
        line = DerivationStep(what="lamps", value="none can judge this", source="a short looks like this item")
        return _band(kind, "W", None, None, line)
    words = f"{lamps[0]:g} W to {lamps[1]:g} W, the workshop's largest"
    line = DerivationStep(what="lamps that can tell a short from this", value=words, source=assumptions.COMMON_PRACTICE)
    return _band(kind, "W", *lamps, line)


def _band(kind: Kind, unit: str, low: float | None, high: float | None, line: DerivationStep) -> Band:
    return Band(kind=kind, unit=unit, lower=low, upper=high, rule=Rule.simple, derivation=(line,))
