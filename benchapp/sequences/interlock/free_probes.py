"""Readings beside the route: probes between any two terminals, dead or live, taken to find a fault.

They are judged against no band and settle no step. A note keeps them (`ProbedReading`). The gate guards the dead ones
like any ohms: never on a unit that may be live or charged, only with a meter in hand today, and "OL" only through
leads that were proved. Live ones are guarded like the readings of the live stage, and lie between pins of the outputs
alone.
"""

from dataclasses import dataclass, replace

from benchapp.errors import BenchError
from benchapp.judgement.meters.corrections import corrected, not_below_zero
from benchapp.judgement.meters.functions import OL_NEEDS_LEADS, Function
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.quantities.quantity import Bound
from benchapp.sequences.answering.formula_variables import mains_now
from benchapp.sequences.answering.instruments import unfit_for_function
from benchapp.sequences.answering.meter_choice import meters_at_hand
from benchapp.sequences.history.lead_proofs import leads_steps, proofs, proved_before
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.language.vocabulary import ReadingSource, Role, Supply
from benchapp.sequences.planning.answer_content import is_answer
from benchapp.sequences.planning.entries import Entry, is_of
from benchapp.sequences.planning.entry_contents import NoteContent, ProbedReading
from benchapp.sequences.planning.entry_times import is_todays, seconds_between
from benchapp.sequences.planning.live_voltage import is_shrouded
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.said import said_meter
from benchapp.sequences.planning.terminals import circuit_now
from benchapp.words import say

LIVE_SEARCH = 900.0
"""seconds for which a search takes live readings before the plug comes out (common practice, no source)"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeProbe:
    """Two terminals and what the meter showed between them, as it was typed or sent; `live`: volts, with mains on."""

    a: str
    b: str
    typed: str
    live: bool = False
    source: ReadingSource = ReadingSource.keys
    sent: str = ""


def probing_set_up(step: PlannedStep | None) -> tuple[str, ...]:
    """The set-up in which a search that begins at this step probes: the step's own where it is a dead one."""
    return step.set_up if step is not None and step.supply is Supply.none and step.function in OL_NEEDS_LEADS else ()


def probing_meter(state: UnitState, plan: Plan, at: str) -> str:
    """The meter in hand today that reads resistance, the one taken last; empty when there is none."""
    able = [name for name, meter in plan.meters.items() if Function.resistance in meter.functions]
    today = [name for name in able if name in state.meters and is_todays(state.meters[name].at, at)]
    return max(today, key=lambda name: state.meters[name].number, default="")


def live_meter(state: UnitState, plan: Plan, at: str) -> str:
    """The meter in hand with which the route's own live readings would be taken; empty when there is none."""
    step = live_step(plan)
    return next(iter(meters_at_hand(plan, state, step, at)), "") if step is not None else ""


def live_step(plan: Plan) -> PlannedStep | None:
    """The step of the route whose conditions a live reading beside it shares: the first voltage of an output."""
    return next((step for step in plan.steps if _reads_an_output(step) and not step.loads), None)


def _reads_an_output(step: PlannedStep) -> bool:
    volts = step.supply is Supply.full and step.function is Function.ac_voltage and len(step.terminals) == 2
    return volts and not is_shrouded(step)


def live_terminals(plan: Plan) -> tuple[str, ...]:
    """What may be probed with mains on: the pins of the low-voltage outputs that are in use, nothing else."""
    barred = {step.terminals[0].partition(".")[0] for step in plan.steps if step.terminals and is_shrouded(step)}
    outputs = (plug for plug in plan.circuit.output_connectors if plug.name not in barred)
    return tuple(pin for plug in outputs for pin in plug.terminals if pin not in plug.unused)


def probe_content(plan: Plan, state: UnitState, address: str, given: FreeProbe, at: str) -> NoteContent:
    """What an entry of the probe carries; raises EntryProblem or BenchError for what no such meter shows."""
    function = Function.ac_voltage if given.live else Function.resistance
    meter = live_meter(state, plan, at) if given.live else probing_meter(state, plan, at)
    if not meter:
        raise BenchError(
            say(
                "No meter that reads {value} is in hand today. Take the step again and one in hand, then search.",
                value=function.value,
            )
        )
    probed = (
        _live_reading(plan, state, given, meter, at)
        if given.live
        else replace(_dead_reading(plan, state, given, meter), set_up=probing_set_up(plan.by_address.get(address)))
    )
    circuit = circuit_now(plan, state.facts)
    between = " and ".join(circuit.say(end) if end in circuit.terminals else end for end in (given.a, given.b))
    shown = _with_unit(given.typed, "V" if given.live else "ohm")
    words = say("Probed live: {shown}", shown=shown) if given.live else f"Probed: {shown}"
    by = f", {given.source.value} ({given.sent})" if given.sent else ""
    probed = replace(probed, source=given.source, sent=given.sent)
    return NoteContent(words=f"{words} between {between}{by}.", probed=probed)


def _with_unit(typed: str, unit: str) -> str:
    """What was typed, with the unit that it is read in where it states none."""
    return f"{typed} {unit}" if typed and not any(sign.isalpha() for sign in typed) else typed


def _dead_reading(plan: Plan, state: UnitState, given: FreeProbe, meter: str) -> ProbedReading:
    reading = read_reading(given.typed, kind=Kind.resistance, unit="ohm")
    leads, known = state.meters[meter].content.lead_resistance, plan.meters[meter]
    doubt = uncertainty_of(known, Function.resistance, reading, lead_resistance=leads)
    value = reading.si
    if reading.bound is Bound.exact and value is not None:  # as a reading of the route is put right
        without = corrected(value, known, Function.resistance, lead_resistance=leads)
        value = not_below_zero(value, without, doubt.expanded).value
    return ProbedReading(
        a=given.a,
        b=given.b,
        typed=given.typed,
        kind=Kind.resistance,
        value=None if reading.bound is Bound.above else value,
        bound=reading.bound,
        standard_uncertainty=doubt.standard,
        meter=meter,
    )


def _live_reading(plan: Plan, state: UnitState, given: FreeProbe, meter: str, at: str) -> ProbedReading:
    reading = read_reading(given.typed, kind=Kind.voltage, unit="V")
    if reading.bound is not Bound.exact or reading.si is None:
        raise BenchError(
            say(
                "“{typed}” is no voltage to search with. Set the meter to a larger range and read again.",
                typed=given.typed,
            )
        )
    supply = plan.circuit.supply
    frequency = supply.frequency if supply is not None and supply.frequency > 0 else None
    doubt = uncertainty_of(plan.meters[meter], Function.ac_voltage, reading, frequency=frequency)
    step = live_step(plan)
    mains = mains_now(plan, state, step, at) if step is not None else None
    return ProbedReading(
        a=given.a,
        b=given.b,
        typed=given.typed,
        kind=Kind.voltage,
        value=reading.si,
        bound=reading.bound,
        standard_uncertainty=doubt.standard,
        meter=meter,
        set_up=step.set_up if step is not None else (),
        supply=Supply.full,
        mains=None if mains is None else float(mains.value_si),
    )


def is_on_full_mains(evaluation: StepEvaluation) -> bool:
    """Whether the last thing done with power was done on full mains, and the mains was measured just now."""
    ledger, step = evaluation.ledger, live_step(evaluation.plan)
    last = ledger.by_number.get(ledger.energised_live)
    if last is None or step is None or ledger.energised_live < ledger.energised:
        return False
    at_step = evaluation.plan.by_address.get(last.address)
    probed = last.content.probed if isinstance(last.content, NoteContent) else None
    full = (probed is not None and is_live(probed)) or (at_step is not None and at_step.supply is Supply.full)
    return full and any(_is_fresh(evaluation, one) for one in evaluation.plan.stage(step.stage).steps)


def _is_fresh(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    latest = evaluation.ledger.latest(step.address)
    if Role.mains not in step.shows or latest is None or not evaluation.ledger.good(latest):
        return False
    return 0 <= seconds_between(latest.at, evaluation.at) <= step.fresh_for


def refuse_long_search(evaluation: StepEvaluation) -> str | None:
    """Why a search takes no more live readings: mains was on for it long enough; None where it may go on."""
    out = {step.address for step in evaluation.plan.way_back if Role.plug_out in step.shows}
    began = ""
    for entry in reversed(evaluation.ledger.by_number.values()):
        if entry.address in out and is_answer(entry) and evaluation.ledger.good(entry):
            break
        if is_of(entry, NoteContent) and entry.content.probed is not None and is_live(entry.content.probed):
            began = entry.at
    if not began or 0 <= seconds_between(began, evaluation.at) <= LIVE_SEARCH:
        return None  # a clock that was set back since gives no more of it
    minutes = round(LIVE_SEARCH / 60)
    return say(
        "Live readings of a search end after {minutes} minutes. Go the way back, and search dead or begin anew.",
        minutes=minutes,
    )


def is_live(probed: ProbedReading) -> bool:
    """Whether the reading was taken with mains on."""
    return probed.supply is not Supply.none


def refuse_probe(evaluation: StepEvaluation, entry: Entry, probed: ProbedReading) -> str | None:
    """Why this probe cannot stand, once the unit is known to be dead; None when it can."""
    circuit = circuit_now(evaluation.plan, evaluation.facts)
    ends = [probed.a, probed.b]
    for end in ends:
        if end not in circuit.terminals:
            return say(
                "{equipment} has no terminal “{end}”; it has {listed}.",
                equipment=circuit.equipment,
                end=end,
                listed=", ".join(circuit.terminals),
            )
    if ends[0] == ends[1]:
        return say("Both probes would be on {say}: name two terminals.", say=circuit.say(ends[0]))
    meter, live = probed.meter, is_live(probed)
    if probed.source is ReadingSource.steady and probed.bound is not Bound.exact:
        return say("Over range is never taken by itself: probes that are off read the same. Take it by key.")
    if live:
        barred = next((end for end in ends if end not in live_terminals(evaluation.plan)), None)
        if barred is not None:
            return say(
                "{say} is never probed with mains on: live readings lie between pins of the outputs.",
                say=circuit.say(barred),
            )
        if probed.mains is None:
            return say("Measure the mains first: what an output should give follows from it.")
    unfit = unfit_for_function(evaluation, meter, Function.ac_voltage if live else Function.resistance, live=live)
    if unfit:
        return say("This reading cannot be taken: {unfit}.", unfit=unfit)
    return _refuse_open(evaluation, meter, entry) if probed.bound is Bound.above and not live else None


def _refuse_open(evaluation: StepEvaluation, meter: str, entry: Entry) -> str | None:
    """A broken lead reads "OL" too: the leads were proved today, in any stage that proves them."""
    proving = [stage for stage in evaluation.plan.stages if leads_steps(stage)]
    ledger = evaluation.ledger
    if not proving or any(
        proved_before(ledger, proofs(ledger, stage, meter), entry.number, entry.at) for stage in proving
    ):
        return None
    name = said_meter(evaluation.plan, meter)
    return say("Prove the leads of {meter} first (tips together): a broken lead reads “OL” too.", meter=name)
