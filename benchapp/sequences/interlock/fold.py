"""The fold of a unit's whole history into its state; pure, and the same on any machine for ever.

Judgements are those that the entries hold (verifying a workbook computes them again); times are those of the entries.
"""

from collections.abc import Sequence
from dataclasses import replace

from benchapp.sequences.history.bookkeeping import keep_ledger
from benchapp.sequences.history.faults import fault_states, open_faults
from benchapp.sequences.history.ledger import Ledger
from benchapp.sequences.history.stages import not_tested, stage_states
from benchapp.sequences.history.step_evaluation import evaluate_steps
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.interlock.dispositions import current_disposition, is_complete, why_not_for_sale
from benchapp.sequences.interlock.due import SETTLED, EngineState, find_due, missing_for
from benchapp.sequences.interlock.live_conditions import interlock
from benchapp.sequences.interlock.way_back import is_energised
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import StepStatus


def fold(plan: Plan, entries: Sequence[Entry], *, at: str, stage: str = "", address: str = "") -> UnitState:
    """The state of the unit at the time `at` (ISO 8601, UTC) that these entries, oldest first, leave it in.

    What is due is asked of the whole route, or of the one stage or step that the technician has chosen.
    """
    return state_of(look(plan, entries, at=at), stage=stage, address=address)


def look(plan: Plan, entries: Sequence[Entry], *, at: str) -> EngineState:
    """The same before it is put into values: what the gate asks its questions of."""
    evaluation = evaluate_steps(plan, keep_ledger(plan, entries), at)
    rows = interlock(evaluation)
    for step in plan.steps:
        missing = missing_for(rows, step)
        state = evaluation.steps[step.address]
        if missing and state.status in (StepStatus.open, StepStatus.stale):
            why = missing[0].why or missing[0].words
            evaluation.steps[step.address] = replace(state, status=StepStatus.shut, why=why)
    return EngineState(evaluation=evaluation, rows=rows, disposition=current_disposition(evaluation))


def engine_of(state: UnitState) -> EngineState:
    """What the gate asks its questions of, from a state that `fold` made."""
    if state.evaluation is None:
        raise ValueError("This state was not made by a fold.")
    return EngineState(evaluation=state.evaluation, rows=state.interlock, disposition=state.disposition)


def state_of(engine: EngineState, *, stage: str = "", address: str = "") -> UnitState:
    """Put what was worked out into plain values."""
    evaluation, ledger = engine.evaluation, engine.evaluation.ledger
    faults = tuple(open_faults(evaluation))
    return UnitState(
        at=evaluation.at,
        steps=evaluation.steps,
        stages=stage_states(evaluation, faults),
        due=find_due(engine, stage=stage, address=address),
        faults=fault_states(evaluation),
        energised=is_energised(evaluation),
        interlock=engine.rows,
        facts=evaluation.facts,
        disposition=engine.disposition,
        held=engine.disposition == "hold" or any(one.severity == "do not use" for one in faults),
        finished=engine.disposition in SETTLED,
        complete=is_complete(evaluation),
        may_sell=why_not_for_sale(evaluation),
        not_tested=not_tested(evaluation),
        readings=_readings(ledger),
        history={address: tuple(given) for address, given in ledger.answers.items()},
        withdrawn=frozenset(ledger.withdrawn),
        meters=dict(ledger.meters),
        set_up=ledger.set_up,
        set_up_stage=ledger.set_up_stage,
        last_entry=ledger.last.number if ledger.last else 0,
        openings=ledger.openings,
        destroyed=bool(ledger.destroyed),
        evaluation=evaluation,
    )


def _readings(ledger: Ledger) -> dict[str, Entry]:
    """By address: the last answer that holds a value, if it was not withdrawn."""
    last = {address: given[-1] for address, given in ledger.answers.items()}
    return {a: e for a, e in last.items() if e.number not in ledger.withdrawn and "value" in e.content}
