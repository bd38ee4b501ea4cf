"""The part of the gate that stands before each step: whether an answer, or the set-up before it, may be recorded.

In this order: the way back, the interlock, the order of the route, cautions and set-up, the meter, and what the answer
itself says.
"""

from benchapp.judgement.meters.functions import OL_NEEDS_LEADS, Function
from benchapp.judgement.statements.statements import opens_fault_search
from benchapp.sequences.answering.instruments import unfit_for_step
from benchapp.sequences.answering.tester_settings import voltage_needed
from benchapp.sequences.history.lead_proofs import meters_proved, proofs, proved_before
from benchapp.sequences.history.ledger import is_open_reading
from benchapp.sequences.history.step_evaluation import StepEvaluation, waits_for_mains
from benchapp.sequences.interlock.due import EngineState, caution_words, missing_for, too_early
from benchapp.sequences.interlock.live_conditions import acknowledged, cautions_of, role_shown
from benchapp.sequences.interlock.old_hazards import refuse_opening, refuse_work
from benchapp.sequences.interlock.people_gate import refuse_live_hands
from benchapp.sequences.interlock.read_again import refuse_read_away
from benchapp.sequences.interlock.reading_sources import refuse_source
from benchapp.sequences.interlock.set_up import is_set_up, items_due, items_known
from benchapp.sequences.interlock.way_back import is_energised, is_left_out, must_go_back_first, reservoir_to_read
from benchapp.sequences.language.step_kind import known_kinds
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent, meter_of
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.entry_contents import SetUpContent
from benchapp.sequences.planning.fact_rules import refuse_asked
from benchapp.sequences.planning.limiters import why_unlimited
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.said import said_meter, said_step
from benchapp.sequences.planning.state import StepStatus
from benchapp.sequences.planning.step_names import name_within
from benchapp.words import say


def refuse_answer(engine: EngineState, entry: Entry[AnswerContent]) -> str | None:
    """The sentence with which an answer is refused; None where it may be recorded."""
    evaluation = engine.evaluation
    step = evaluation.plan.by_address.get(entry.address)
    if step is None:
        return say("This run has no step “{address}”.", address=entry.address)
    if step.kind not in known_kinds() or entry.content.step != step.kind:
        return say(
            "{address} is a step to {kind}, and this is no answer to one that this program knows.",
            address=entry.address,
            kind=step.kind,
        )
    state = evaluation.steps[step.address]
    if state.status is StepStatus.skipped and (not step.way_back or is_left_out(evaluation, step)):
        return say("This step is not for this unit: {why}.", why=state.why)
    if must_go_back_first(evaluation, step):
        return go_back(evaluation)
    if step.way_back:
        return (
            _refuse_way_back(evaluation, step)
            or refuse_source(step, entry.content)
            or _refuse_meter(evaluation, step, entry.content)
            or refuse_asked(evaluation.plan, evaluation.facts, entry.content.facts)
        )
    return (
        evaluation.plan.looser
        or refuse_work(evaluation)
        or refuse_opening(evaluation, step.opens)
        or refuse_shut(engine, step)
        or refuse_early(engine, step)
        or refuse_live_hands(engine, entry.by, step)
        or refuse_unprepared(engine, step)
        or refuse_source(step, entry.content)
        or _refuse_meter(evaluation, step, entry.content)
        or _refuse_reading(evaluation, step, entry)
        or refuse_read_away(evaluation, step, entry.content)
        or refuse_asked(evaluation.plan, evaluation.facts, entry.content.facts)
    )


def go_back(evaluation: StepEvaluation) -> str:
    """What to say to whoever would lay hands on a unit that may be live or charged."""
    reservoir = None if is_energised(evaluation) else reservoir_to_read(evaluation)
    if reservoir is not None:
        return before_hands(reservoir)
    number = evaluation.ledger.energised
    entry = evaluation.ledger.by_number.get(number)
    since = (
        say("It may be live or charged since {what}.", what=_said_entry(evaluation.plan, entry))
        if entry
        else say("It may be energised.")
    )
    return say("{since} Go the way back first: plug out and in sight, discharged, voltage proved low.", since=since)


def _said_entry(plan: Plan, entry: Entry) -> str:
    """What an entry recorded, in words: its step, or its kind."""
    return said_step(plan, entry.address) if entry.address else say("{kind} was recorded", kind=f"a {entry.kind}")


def before_hands(reservoir: PlannedStep) -> str:
    """What to say to whoever would reach into a case in which a capacitor may hold charge."""
    return say(
        "Before hands go in, read {name}: {say} Record that the case is open, and read it.",
        name=name_within(reservoir),
        say=reservoir.say,
    )


def refuse_early(engine: EngineState, step: PlannedStep) -> str | None:
    """What the order of the route, or an earlier answer, keeps the step shut for."""
    evaluation = engine.evaluation
    state = evaluation.steps[step.address]
    if state.status is StepStatus.shut and not missing_for(engine.rows, step):
        return say("This step {why}.", why=state.why)
    early = too_early(evaluation, step)
    if early is not None:
        return early.why
    before = (one for one in evaluation.plan.stage(step.stage).steps if one.position < step.position)
    waits = next((why for one in before if (why := waits_for_mains(evaluation, one))), "")
    return waits if waits and step.function else None


def refuse_shut(engine: EngineState, step: PlannedStep) -> str | None:
    """What the interlock keeps the step shut for."""
    missing = missing_for(engine.rows, step)
    if missing:
        reasons = "; ".join(f"{row.words}: {row.why}" if row.why else row.words for row in missing)
        return say("Mains stays away from this unit until {reasons}.", reasons=reasons)
    if step.function is Function.insulation and Role.insulation in step.shows:
        row = role_shown(engine.evaluation, Role.primary)
        if not row.holds:
            return say(
                "Show first that the primary is whole ({why}): an open primary reads like perfect insulation.",
                why=row.why,
            )
    return None


def refuse_unprepared(engine: EngineState, step: PlannedStep) -> str | None:
    """What limits not said, a caution not read, a meter not in hand, a set-up not made."""
    evaluation = engine.evaluation
    if unlimited := why_unlimited(evaluation.plan, step, evaluation.facts):
        return unlimited
    for caution in cautions_of(evaluation.plan.stage(step.stage).cautions, step.supply):
        if not acknowledged(evaluation, caution):
            return say(
                "Read and acknowledge the caution first. {caution_words}",
                caution_words=caution_words(evaluation.plan, caution),
            )
    rows = engine.rows.get(step.supply, ())
    meter = next((row for row in rows if row.id == "meter" and not row.holds), None)
    if meter is not None:
        return say("Take the meters in hand before mains comes on: {why}.", why=meter.why)
    if not is_set_up(evaluation, step):
        asked = items_due(evaluation, step)
        return say("Make and confirm the set-up first: {listed}.", listed=", ".join(asked))
    return None


def _refuse_way_back(evaluation: StepEvaluation, step: PlannedStep) -> str | None:
    ledger = evaluation.ledger
    floor = ledger.energised
    for before in evaluation.plan.way_back:
        if before.address == step.address:
            return _refuse_reading_back(evaluation, step)
        if before.inside or is_left_out(evaluation, before):
            continue
        latest = ledger.latest(before.address)
        if latest is None or latest.number < floor or not ledger.good(latest):
            return f"First {before.address}: {before.say}"
    return None


def _refuse_reading_back(evaluation: StepEvaluation, step: PlannedStep) -> str | None:
    """Its caution and its set-up; nothing stands before the plug comes out."""
    if Role.plug_out in step.shows:
        return None
    for caution in evaluation.plan.stage(step.stage).cautions:
        if not acknowledged(evaluation, caution):
            return say(
                "Read and acknowledge the caution first. {caution_words}",
                caution_words=caution_words(evaluation.plan, caution),
            )
    if not is_set_up(evaluation, step):
        return say("Make and confirm the set-up first: {listed}.", listed=", ".join(items_due(evaluation, step)))
    return None


def _refuse_meter(evaluation: StepEvaluation, step: PlannedStep, content: AnswerContent) -> str | None:
    if not step.function:
        return None
    meter = meter_of(content)
    if not meter:
        return say("Say which meter took this reading ({function}).", function=step.function)
    unfit = unfit_for_step(evaluation, meter, step)
    return say("This reading cannot be taken: {unfit}.", unfit=unfit) if unfit else None


def _refuse_reading(evaluation: StepEvaluation, step: PlannedStep, entry: Entry[AnswerContent]) -> str | None:
    """An "OL" that is no fault needs leads that were proved before it; a check of the leads is no reading of the unit.

    One that fails is taken as it is: a broken lead can only fail a sound unit.
    """
    volts = voltage_needed(evaluation.plan, evaluation.facts) if step.function is Function.insulation else 0.0
    content = entry.content
    if volts and not (isinstance(content, ReadingContent) and content.test_voltage == volts):
        return say(
            "This unit's insulation is tested at {volts:g} V: set the tester to it, confirm it, and read again.",
            volts=volts,
        )
    if not is_open_reading(content) or step.function not in OL_NEEDS_LEADS or Role.leads in step.shows:
        return None
    if opens_fault_search(content.judgement):
        return None
    stage = evaluation.plan.stage(step.stage)
    meter = meter_of(content)
    if proved_before(evaluation.ledger, proofs(evaluation.ledger, stage, meter), entry.number, entry.at):
        return None
    mine = said_meter(evaluation.plan, meter)
    prove = say("prove the leads of {meter} first (tips together): a broken lead reads “OL” too.", meter=mine)
    proved = meters_proved(evaluation.ledger, stage, entry.number, entry.at)
    others = " and ".join(said_meter(evaluation.plan, one) for one in proved)
    if not others:
        return f"{prove[0].upper()}{prove[1:]}"
    return say(
        "The leads of {others} were proved, which says nothing of {meter}'s. Read with {others}, or {prove}",
        others=others,
        meter=mine,
        prove=prove,
    )


def refuse_set_up(engine: EngineState, entry: Entry[SetUpContent]) -> str | None:
    """The sentence with which a set-up is refused; None where it may be recorded."""
    evaluation = engine.evaluation
    step = evaluation.plan.by_address.get(entry.address)
    if step is None:
        return say("This run has no step “{address}”.", address=entry.address)
    if step.kind not in known_kinds():
        return say(
            "This program knows no kind of step “{kind}”: {address} is not set up.",
            kind=step.kind,
            address=entry.address,
        )
    left = [item for item in items_due(evaluation, step) if item not in entry.content.items]
    if left:
        return say("Still to set up: {listed}.", listed=", ".join(left))
    strange = [item for item in entry.content.items if item not in items_known(evaluation, step)]
    if strange:
        return say("This step is not set up with {listed}.", listed=", ".join(strange))
    if must_go_back_first(evaluation, step):
        return go_back(evaluation)
    return (
        (None if step.way_back else refuse_work(evaluation))
        or refuse_shut(engine, step)
        or refuse_early(engine, step)
        or refuse_live_hands(engine, entry.by, step)
    )
