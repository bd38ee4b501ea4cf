"""Which circuit does this unit have: its design's, with its own cord, plug fuse, coupler and selector setting?

The facts are those that the record holds at the time, so that a judgement taken again finds the same circuit.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from benchapp.sequences.planned import FactValue, Plan
from benchapp.wiring.unit import circuit_of_unit, settings_of

if TYPE_CHECKING:
    from benchapp.wiring.circuit import Circuit
    from benchapp.wiring.unit import UnitSettings


def settings_now(plan: Plan, facts: Mapping[str, FactValue]) -> "UnitSettings":
    """What the unit with these facts has of its own."""
    return settings_of(facts, plan.circuit)


def circuit_now(plan: Plan, facts: Mapping[str, FactValue]) -> "Circuit":
    """The circuit of the unit with these facts; the plan's own where nothing differs."""
    return circuit_of_unit(plan.circuit, settings_now(plan, facts))
