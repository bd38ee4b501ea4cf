"""The way back after a live or insulation step: plug out and in sight, discharged, voltage proved low.

Order: HSE GS38, 4th ed. 2015 (prove dead, with an instrument proved before and after) and DOE-HDBK-1092-2004, 10.10.1
(discharge, then measure); both confirmed. The three come in this order, all after the last answer that energised the
unit.
"""

from benchapp.judgement.meters.functions import Function
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import WAY_BACK, Opening, Role, Supply
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import StepStatus


def is_energised(evaluation: StepEvaluation) -> bool:
    """Whether a live or insulation step was answered and the way back was not gone since."""
    ledger = evaluation.ledger
    if not ledger.energised:
        return False
    return not _is_whole(evaluation.plan) or next_step_back(evaluation) is not None


def is_on_mains(evaluation: StepEvaluation) -> bool:
    """Whether mains may be on it: something live was recorded, and since then no good answer that its plug is out."""
    ledger = evaluation.ledger
    out = (step for step in evaluation.plan.way_back if Role.plug_out in step.shows)
    return bool(ledger.energised_live) and not any(_good_since(ledger, step, ledger.energised_live) for step in out)


def _is_whole(plan: Plan) -> bool:
    """Whether this route's way back shows and reads all that one has to; a part of it leads nowhere."""
    shown = {role for step in plan.way_back for role in step.shows}
    return frozenset(WAY_BACK) <= shown and not plan.way_back_leaves_out


def next_step_back(evaluation: StepEvaluation) -> PlannedStep | None:
    """The next step of the way back; None when it has been gone."""
    ledger = evaluation.ledger
    floor = ledger.energised
    for step in evaluation.plan.way_back:
        if step.inside or is_left_out(evaluation, step):
            continue
        number = _good_since(ledger, step, floor)
        if not number:
            return step
        floor = number
    return None


def reservoir_to_read(evaluation: StepEvaluation) -> PlannedStep | None:
    """The next capacitor that has to read low before hands go in, since power was last on; None when all have."""
    ledger = evaluation.ledger
    inside = (step for step in evaluation.plan.way_back if step.inside)
    return next((step for step in inside if not _good_since(ledger, step, ledger.energised)), None)


def is_open_and_charged(evaluation: StepEvaluation) -> bool:
    """Whether the case was opened after power, and what may hold charge in it was not read since."""
    ledger = evaluation.ledger
    return ledger.opened_inside > ledger.energised and reservoir_to_read(evaluation) is not None


def is_for_hands(evaluation: StepEvaluation) -> bool:
    """Whether a hand or an ohmmeter may come to the unit as it is: neither live nor charged, as far as is known."""
    return not is_energised(evaluation) and not is_open_and_charged(evaluation)


def is_left_out(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    """Whether the unit's facts skip a step of the way back; what shows it is never skipped, whatever its file says.

    Nor is what the design asks for, or what an insulation test has charged: what is said of the unit since lets no
    charge go.
    """
    if evaluation.steps[step.address].status is not StepStatus.skipped or step.shows & frozenset(WAY_BACK):
        return False
    return applies(step.when, evaluation.plan.facts)[0] is not True and not _was_charged(evaluation, step)


def _was_charged(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    """Whether an insulation test was ever taken on what this step reads against the mains."""
    supply = evaluation.plan.circuit.supply
    mains = {supply.live, supply.neutral} if supply is not None else set()
    tested = (
        one
        for one in evaluation.plan.steps
        if one.function is Function.insulation and one.address in evaluation.ledger.answers
    )
    return any(set(one.terminals) & set(step.terminals) - mains for one in tested)


def _good_since(ledger: Ledger, step: PlannedStep, floor: int) -> int:
    """The number of the step's last answer when it is good and came after `floor`, else 0."""
    latest = ledger.latest(step.address)
    return latest.number if latest is not None and latest.number > floor and ledger.good(latest) else 0


def must_go_back_first(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    """Whether the way back comes before the step: hands or ohms after power, an insulation test after mains.

    Mains after an insulation test too: the pins that it joined come apart and its charge goes first.
    """
    ledger = evaluation.ledger
    if step.way_back:
        return False
    if Opening.enclosure in step.opens and reservoir_to_read(evaluation) is not None:
        return True
    if not is_energised(evaluation):
        return is_open_and_charged(evaluation) and step.by_hand
    if step.supply is not Supply.none:
        return not _was_gone_since(evaluation, max(ledger.charged, ledger.read_high))
    if step.energises:
        return not _was_gone_since(evaluation, max(ledger.energised_live, ledger.read_high))
    return step.by_hand


def _was_gone_since(evaluation: StepEvaluation, number: int) -> bool:
    """Whether it was gone, whole and in its order, at any time since that entry; an answer taken back is no step."""
    if not number:
        return True
    floor, ledger = number, evaluation.ledger
    for step in evaluation.plan.way_back:
        if step.inside or is_left_out(evaluation, step):
            continue
        given = ledger.answers.get(step.address, ())
        floor = next((entry.number for entry in given if entry.number > floor and ledger.good(entry)), 0)
        if not floor:
            return False
    return _is_whole(evaluation.plan)
