"""Which meter is in the technician's hand for a function: the one last taken that has it."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement import MeterRecord
    from benchapp.sequences import Plan, UnitState


def meter_at_hand(plan: "Plan", state: "UnitState", function: str) -> "MeterRecord | None":
    """The meter last taken in hand that has the function; None when there is none yet."""
    taken = sorted(state.meters.items(), key=lambda item: item[1].number, reverse=True)
    for meter_id, _entry in taken:
        meter = plan.meters.get(meter_id)
        if meter is not None and has_function(meter, function):
            return meter
    return None


def has_function(meter: "MeterRecord", function: str) -> bool:
    """Whether the meter can take this kind of reading."""
    return any(str(name) == function for name in meter.functions)
