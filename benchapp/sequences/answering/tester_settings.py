"""The voltage at which a unit's insulation is tested, and the setting of the tester that was confirmed.

The region's limits say the voltage, the meter's record which ones it has. The technician confirms it with the set-up
of the step, and each reading keeps it: at another voltage the same megohms say something else.
"""

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from benchapp.judgement.meters.functions import Function
from benchapp.sequences.answering.formula_variables import limit_facts

if TYPE_CHECKING:
    from collections.abc import Iterable

    from benchapp.sequences.language.vocabulary import FactValue
    from benchapp.sequences.planning.planned import Plan, PlannedStep

_TESTER_AT = re.compile(r"tester at ([0-9.]+) V")


def voltage_needed(plan: "Plan", facts: "Mapping[str, FactValue]") -> float:
    """The voltage at which such a unit's insulation is tested, in V; 0 where the region states none."""
    limits = plan.profile.insulation
    if limits is None:
        return 0.0
    suppressed = limit_facts(facts).surge_suppressor and limits.test_voltage_with_suppressor
    return float((suppressed or limits.test_voltage).exact)


def set_up_of(plan: "Plan", facts: "Mapping[str, FactValue]", step: "PlannedStep") -> tuple[str, ...]:
    """What is confirmed before the step: its own set-up, and for an insulation reading the tester's voltage."""
    volts = voltage_needed(plan, facts) if step.function is Function.insulation else 0.0
    return (*step.set_up, f"tester at {volts:g} V") if volts else step.set_up


def voltage_confirmed(set_up: "Iterable[str]") -> float | None:
    """The voltage that the set-up in force says the tester is at, in V; None when it says none."""
    found = [match for words in set_up if (match := _TESTER_AT.fullmatch(words))]
    return float(found[-1][1]) if found else None
