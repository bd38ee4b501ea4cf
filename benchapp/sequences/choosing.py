"""Which of the meters in hand should take this reading? The surest for the value that is expected comes first.

The technician may take another; the entry says which one it was. Readings through leads stay with the meter on which
this stage's leads were proved: "OL" counts only there.
"""

from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.judgement import Function, kind_of, uncertainty_of
from benchapp.sequences.bands import band_for
from benchapp.sequences.instruments import trouble_with_step
from benchapp.sequences.moments import day_of, is_todays
from benchapp.sequences.planned import Plan, PlannedStep, Role
from benchapp.sequences.standing import THROUGH_LEADS
from benchapp.sequences.state import UnitState
from benchapp.sequences.taking import taking_of

if TYPE_CHECKING:
    from benchapp.judgement import MeterRecord

UNKNOWN = float("inf")


def meters_at_hand(plan: Plan, state: UnitState, step: PlannedStep, at: str) -> tuple[str, ...]:
    """The meters in hand today that have the step's function, the one to take first at the front; often none or one.

    First those that may be used here, with the leads proved on them where that counts and in calibration; of these the
    one with the smallest uncertainty at the expected value; of equals the one last taken in hand.
    """
    today = [name for name, entry in state.meters.items() if is_todays(entry.at, at) and name in plan.meters]
    fit = [name for name in today if step.function in plan.meters[name].functions]
    if len(fit) < 2:
        return tuple(fit)
    expected, proved = _expected(plan, state, step, at), _proved_leads(plan, state, step)

    def order(name: str) -> tuple[bool, bool, bool, float, int]:
        meter = plan.meters[name]
        return (
            _in_trouble(state, name, step),
            proved not in ("", name),
            meter.is_overdue(day_of(at)),
            _uncertainty(plan, state, step, meter, expected),
            -state.meters[name].number,
        )

    return tuple(sorted(fit, key=order))


def _in_trouble(state: UnitState, meter: str, step: PlannedStep) -> bool:
    return state.about is not None and bool(trouble_with_step(state.about.standing, meter, step))


def _proved_leads(plan: Plan, state: UnitState, step: PlannedStep) -> str:
    """The meter on which this stage's leads were last proved; empty where that does not matter."""
    stage = next((stage for stage in plan.stages if stage.id == step.stage), None)
    if stage is None or step.function not in THROUGH_LEADS or Role.leads in step.shows:
        return ""
    proofs = [
        state.readings[one.address] for one in stage.steps if Role.leads in one.shows and one.address in state.readings
    ]
    last = max(proofs, key=lambda entry: entry.number, default=None)
    return str(last.content.get("meter", "")) if last is not None else ""


def _expected(plan: Plan, state: UnitState, step: PlannedStep, at: str) -> float | None:
    """The value (SI) at which the meters are compared: the expected one, else the middle of the band, else a limit."""
    try:
        band = band_for(plan, state, step, kind_of(Function(step.function)), at)
    except BenchError:
        return None
    if band is None or band.expected is not None:
        return None if band is None else band.expected
    if band.lower is not None and band.upper is not None:
        return 0.5 * (band.lower + band.upper)
    return band.upper if band.lower is None else band.lower


def _uncertainty(
    plan: Plan, state: UnitState, step: PlannedStep, meter: "MeterRecord", expected: float | None
) -> float:
    if expected is None:
        return UNKNOWN
    function = Function(step.function)
    taking = taking_of(plan, state, step, meter, function)
    try:
        return uncertainty_of(
            meter,
            function,
            expected,
            lead_resistance=taking.leads,
            frequency=taking.frequency,
            of_leads=taking.of_leads,
        ).expanded
    except BenchError:
        return UNKNOWN
