"""The values that a formula of a step may name, as they are on one unit.

Names: earlier readings of the same sequence by their step ("mains"), of other sequences as "sequence.step", and what
is known of the unit: rated-voltage, rated-frequency, rated-power, cord-length, cord-area.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.limits.cords import LimitFacts
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.vocabulary import FactValue, Role
from benchapp.sequences.planning.entry_times import seconds_between
from benchapp.sequences.planning.planned import Plan

if TYPE_CHECKING:
    from benchapp.sequences.planning.answer_content import ReadingContent
    from benchapp.sequences.planning.entries import Entry
    from benchapp.sequences.planning.planned import PlannedStep

EQUIPMENT_KINDS = {
    "rated-voltage": Kind.voltage,
    "rated-frequency": Kind.frequency,
    "rated-power": Kind.power,
    "cord-length": Kind.length,
    "cord-area": Kind.area,
}
"""Kinds of the values that equipment data give to formulas."""
_FACT_OF = {"rated-power": "power", "cord-length": "cord length", "cord-area": "cord area"}


def known_values(plan: Plan, state: AnsweringState, stage: str) -> dict[str, KnownQuantity]:
    """Every value that a formula of that stage may name and that is known now."""
    values = dict(_of_equipment(plan, state.facts))
    for address, entry in state.readings.items():
        value = entry.content.value
        if value is None or entry.content.bound is not Bound.exact:
            continue
        known = _reading(address, entry, float(value))
        sequence, _, step = address.partition(".")
        values[address] = known
        if sequence == stage:
            values[step] = known
    return values


def _reading(address: str, entry: "Entry[ReadingContent]", value: float) -> KnownQuantity:
    said = entry.content
    return KnownQuantity(
        value_si=value,
        standard_uncertainty=float(said.standard_uncertainty or 0.0),
        what=address,
        source=f"entry {entry.number}, {said.meter or 'worked out'}, {entry.at[:16]}",
        kind=said.kind,
        unit=said.unit,
    )


def _of_equipment(plan: Plan, facts: Mapping[str, FactValue]) -> list[tuple[str, KnownQuantity]]:
    source = f"equipment {plan.equipment_id}"
    found: list[tuple[str, KnownQuantity]] = []
    supply = plan.circuit.supply
    if supply is not None:
        found.append(("rated-frequency", _fact("rated-frequency", supply.frequency, source)))
        if supply.lowest_voltage is None:  # of two voltages on a plate neither is the rated one
            found.append(("rated-voltage", _fact("rated-voltage", supply.voltage, source)))
    for name, fact in _FACT_OF.items():
        value = facts.get(fact)
        if isinstance(value, int | float):
            found.append((name, _fact(name, float(value), source)))
    return found


def _fact(name: str, value: float, source: str) -> KnownQuantity:
    return KnownQuantity(value_si=value, what=name.replace("-", " "), source=source, kind=EQUIPMENT_KINDS[name])


def mains_now(plan: Plan, state: AnsweringState, step: "PlannedStep", at: str) -> KnownQuantity | None:
    """The mains reading that serves this step: passed, of its own stage, and fresh enough; else None."""
    stage = next((stage for stage in plan.stages if stage.id == step.stage), None)
    for one in reversed(stage.steps if stage else ()):
        entry = state.readings.get(one.address)
        if Role.mains not in one.shows or entry is None or entry.content.value is None:
            continue
        if 0 <= seconds_between(entry.at, at) <= one.fresh_for:
            return _reading(one.address, entry, float(entry.content.value))
    return None


def limit_facts(facts: Mapping[str, FactValue]) -> LimitFacts:
    """What the region's limits ask of this unit."""

    def number(name: str) -> float | None:
        value = facts.get(name)
        return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None

    return LimitFacts(
        equipment_class=str(facts.get("class", "unknown")),
        cord_area=number("cord area"),
        cord_length=number("cord length"),
        power=number("power"),
        surge_suppressor=bool(facts.get("surge suppressor", False)),
        moulded_plug=facts.get("plug") == "moulded",
        heating=bool(facts.get("heating", False)),
        hand_held=bool(facts.get("hand-held", False)),
    )
