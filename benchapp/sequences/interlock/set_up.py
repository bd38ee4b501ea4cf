"""What is confirmed before a step: its own set-up, the tester's voltage, a meter that was turned with its leads off.

Leads go onto pins that may be live only from a meter that stands on volts already. Turned while its leads are on, or
left on ohms or amperes, it shorts what it should read (HSE GS38: unsuitable or wrongly set instruments; from memory).
"""

from benchapp.judgement.meters.functions import OF_THE_MAINS, PROBED_VOLTAGES
from benchapp.sequences.answering.tester_settings import set_up_of
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_contents import SetUpContent
from benchapp.sequences.planning.planned import Plan, PlannedStep

ON_VOLTS = "leads off every pin, then the meter to volts"
"""the item by which a change of meter, jack or dial is confirmed where pins may be live"""
_MOVED = frozenset({EntryKind.meter, EntryKind.repair, EntryKind.opened, EntryKind.event, EntryKind.hazard})
"""Entries after which nobody knows how the meter stands."""


def items_due(evaluation: StepEvaluation, step: PlannedStep) -> tuple[str, ...]:
    """All that is confirmed before this step now."""
    own = set_up_of(evaluation.plan, evaluation.facts, step)
    return (ON_VOLTS, *own) if _is_to_be_turned(evaluation, step) else own


def items_known(evaluation: StepEvaluation, step: PlannedStep) -> tuple[str, ...]:
    """All that may be confirmed at this step, whether or not it is asked for now."""
    own = set_up_of(evaluation.plan, evaluation.facts, step)
    return (ON_VOLTS, *own) if meets_live_pins(step) else own


def items_in_force(evaluation: StepEvaluation, step: PlannedStep) -> tuple[str, ...]:
    """What of the step's own set-up was confirmed in its stage and not undone since; a turned meter never is."""
    ledger, own = evaluation.ledger, set_up_of(evaluation.plan, evaluation.facts, step)
    return tuple(item for item in own if item in ledger.set_up) if ledger.set_up_stage == step.stage else ()


def is_set_up(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    """Whether the set-up that the step asks for was confirmed in its stage and is still in force."""
    ledger, own = evaluation.ledger, set_up_of(evaluation.plan, evaluation.facts, step)
    confirmed = not own or (ledger.set_up_stage == step.stage and set(own) <= set(ledger.set_up))
    return confirmed and not _is_to_be_turned(evaluation, step)


def meets_live_pins(step: PlannedStep) -> bool:
    """Whether two probes go where voltage may be: under power, and on the way back before it is proved low."""
    may_be_live = step.supply is not Supply.none or step.way_back
    return may_be_live and bool(step.terminals) and step.function in PROBED_VOLTAGES


def _is_to_be_turned(evaluation: StepEvaluation, step: PlannedStep) -> bool:
    """Whether nobody has confirmed in this stage that the meter stands on volts, or it was moved since."""
    if not meets_live_pins(step):
        return False
    for entry in reversed(evaluation.ledger.by_number.values()):
        if isinstance(entry.content, SetUpContent) and ON_VOLTS in entry.content.items:
            then = evaluation.plan.by_address.get(entry.address)
            return then is None or then.stage != step.stage
        if entry.kind in _MOVED or _turns_the_dial(evaluation.plan, entry):
            return True
    return True


def _turns_the_dial(plan: Plan, entry: Entry) -> bool:
    """Whether it says that the plug was taken out, or is a reading through leads that was none of volts."""
    step = plan.by_address.get(entry.address)
    if step is not None and step.way_back and Role.plug_out in step.shows and entry.kind is EntryKind.answer:
        return True
    read = entry.content.function if isinstance(entry.content, ReadingContent) else None
    return read is not None and read not in PROBED_VOLTAGES | OF_THE_MAINS
