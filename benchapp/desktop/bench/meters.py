"""Which meter is in the technician's hand for the step at hand: the one that the engine puts first."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.desktop.bench.unit_view import UnitView
    from benchapp.judgement.meters.records import MeterRecord


def meter_at_hand(view: "UnitView") -> "MeterRecord | None":
    """The meter in hand that should take the reading; None when none in hand can."""
    from benchapp.sequences.answering.meter_choice import meters_at_hand

    if view.step is None or not view.step.function:
        return None
    fit = meters_at_hand(view.plan, view.state, view.step, view.state.at)
    return view.plan.meters[fit[0]] if fit else None
