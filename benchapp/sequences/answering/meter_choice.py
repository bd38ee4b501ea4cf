"""The order of the meters in hand for a reading: the surest for the value that is expected comes first.

The technician may take another, and then goes on with it; each entry says which one it was. Readings through leads stay
with the meter on which this stage's leads were proved: "OL" counts only there.
"""

from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.judgement.meters.functions import OL_NEEDS_LEADS, kind_of
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.sequences.answering.bands import band_for
from benchapp.sequences.answering.instruments import unfit_for_step
from benchapp.sequences.answering.measurement_conditions import measurement_conditions
from benchapp.sequences.history.ledger import is_open_reading
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.entry_times import day_of, is_todays
from benchapp.sequences.planning.planned import Plan, PlannedStep

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord

UNKNOWN = float("inf")


def meters_at_hand(plan: Plan, state: AnsweringState, step: PlannedStep, at: str) -> tuple[str, ...]:
    """The meters in hand today that have the step's function, the one to take first at the front; often none or one.

    First those that may be used here, with the leads proved on them where that counts; of these the one that the
    technician chose, then those in calibration, the one with the smallest uncertainty at the expected value, and of
    equals the one last taken in hand.
    """
    today = [name for name, entry in state.meters.items() if is_todays(entry.at, at) and name in plan.meters]
    fit = [name for name in today if step.function in plan.meters[name].functions]
    if len(fit) < 2:
        return tuple(fit)
    proved, chosen = _proved_leads(plan, state, step), _chosen(plan, state, step, fit, at)

    def order(name: str) -> tuple[bool, bool, bool]:
        return _is_unfit(state, name, step), proved not in ("", name), name != chosen

    return tuple(sorted(_surest_first(plan, state, step, fit, at), key=order))


def _surest_first(plan: Plan, state: AnsweringState, step: PlannedStep, meters: list[str], at: str) -> list[str]:
    expected = _expected(plan, state, step, at)

    def order(name: str) -> tuple[bool, float, int]:
        meter = plan.meters[name]
        overdue = meter.is_overdue(day_of(at))
        return overdue, _uncertainty(plan, state, step, meter, expected), -state.meters[name].number

    return sorted(meters, key=order)


def _chosen(plan: Plan, state: AnsweringState, step: PlannedStep, meters: list[str], at: str) -> str:
    """The meter that the technician has just taken in hand, or went on with although a surer one was in hand."""
    last = max(meters, key=lambda name: state.meters[name].number)
    if state.meters[last].number == state.last_entry:
        return last
    alike = (e for e in state.readings.values() if e.content.function == step.function and is_todays(e.at, at))
    before = max(alike, key=lambda entry: entry.number, default=None)
    used = before.content.meter if before is not None else ""
    if before is None or used not in meters or before.address not in plan.by_address:
        return ""
    were = [name for name in meters if state.meters[name].number < before.number]
    surest = _surest_first(plan, state, plan.by_address[before.address], were, at) if used in were else [used]
    return used if surest[0] != used else ""


def _is_unfit(state: AnsweringState, meter: str, step: PlannedStep) -> bool:
    return state.evaluation is not None and bool(unfit_for_step(state.evaluation, meter, step))


def _proved_leads(plan: Plan, state: AnsweringState, step: PlannedStep) -> str:
    """The meter on which this stage's leads were last proved; empty where that does not matter.

    Where the leads are proved again, the meter that has read "OL" since: its reading waits for its own leads.
    """
    stage = next((stage for stage in plan.stages if stage.id == step.stage), None)
    if stage is None or step.function not in OL_NEEDS_LEADS:
        return ""
    again = Role.leads in step.shows
    read = (state.readings[one.address] for one in stage.steps if one.address in state.readings)
    counting = [
        entry
        for entry in read
        if (is_open_reading(entry.content) if again else Role.leads in plan.by_address[entry.address].shows)
    ]
    last = max(counting, key=lambda entry: entry.number, default=None)
    return last.content.meter if last is not None else ""


def _expected(plan: Plan, state: AnsweringState, step: PlannedStep, at: str) -> float | None:
    """The value (SI) at which the meters are compared: the expected one, else the middle of the band, else a limit."""
    try:
        band = band_for(plan, state, step, kind_of(step.read_on), at)
    except BenchError:
        return None
    if band is None or band.expected is not None:
        return None if band is None else band.expected
    if band.lower is not None and band.upper is not None:
        return 0.5 * (band.lower + band.upper)
    return band.upper if band.lower is None else band.lower


def _uncertainty(
    plan: Plan, state: AnsweringState, step: PlannedStep, meter: "MeterRecord", expected: float | None
) -> float:
    if expected is None:
        return UNKNOWN
    function = step.read_on
    conditions = measurement_conditions(plan, state, step, meter, function)
    try:
        return uncertainty_of(
            meter,
            function,
            expected,
            lead_resistance=conditions.leads,
            frequency=conditions.frequency,
            of_leads=conditions.of_leads,
        ).expanded
    except BenchError:
        return UNKNOWN
