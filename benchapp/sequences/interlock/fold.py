"""The fold of a unit's whole history into its state; pure, and the same on any machine for ever.

Judgements are those that the entries hold (verifying a workbook computes them again); times are those of the entries.
"""

from collections.abc import Sequence
from dataclasses import replace

from benchapp.sequences.history.faults import fault_states, open_faults
from benchapp.sequences.history.on_demand import OnDemand
from benchapp.sequences.history.stages import not_tested, stage_states
from benchapp.sequences.history.unit_history import UnitHistory
from benchapp.sequences.history.unit_state import AnsweringState, UnitState
from benchapp.sequences.interlock.dispositions import is_complete, why_not_for_sale
from benchapp.sequences.interlock.due import SETTLED, EngineState, find_due, missing_for, shutting
from benchapp.sequences.interlock.live_conditions import interlock
from benchapp.sequences.interlock.put_right import put_right
from benchapp.sequences.interlock.way_back import is_energised, is_on_mains
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import StepState, StepStatus


def fold(
    plan: Plan, entries: Sequence[Entry], *, at: str, stage: str = "", address: str = "", by: str = ""
) -> UnitState:
    """The state of the unit at the time `at` (ISO 8601, UTC) that these entries, oldest first, leave it in.

    What is due is asked of the whole route, or of the one stage or step that the technician has chosen, and for the
    person whose initials are `by`; for anybody where there are none.
    """
    return state_of(look(UnitHistory(plan, entries), at=at, by=by), stage=stage, address=address)


def look(history: UnitHistory, *, at: str, by: str = "") -> EngineState:
    """The same before it is put into values: what the gate asks its questions of, until the history goes on."""
    evaluation = history.evaluation(at).in_hands_of(by)
    rows = interlock(evaluation)

    def shut(address: str) -> StepState:
        step, state = history.plan.by_address[address], evaluation.steps[address]
        if step.way_back or state.status not in (StepStatus.open, StepStatus.stale):
            return state
        missing = missing_for(rows, step)
        return replace(state, status=StepStatus.shut, why=missing[0].why or missing[0].words) if missing else state

    return EngineState(evaluation=evaluation.with_steps(OnDemand(history.plan.by_address, shut)), rows=rows)


def moments_later(state: UnitState, *, at: str, stage: str = "", address: str = "", by: str = "") -> UnitState | None:
    """What `fold` says of the same entries moments later, for that person and what was chosen; most is as it was.

    None where the interlock has other conditions then, for that person: it is to be folded anew. Between the two times
    no answer may grow old; whoever asks sees to it.
    """
    before = engine_of(state)
    evaluation = replace(before.evaluation.in_hands_of(by), at=at)
    rows = dict(interlock(evaluation))
    if any(shutting(rows[supply]) != shutting(before.rows[supply]) for supply in rows):
        return None
    engine = EngineState(evaluation=evaluation, rows=rows)
    due = find_due(engine, stage=stage, address=address)
    return replace(state, at=at, due=due, interlock=rows, evaluation=evaluation)


def answering_state(engine: EngineState) -> AnsweringState:
    """What an answer is judged by, and no more worked out; it may be used until the history goes on."""
    evaluation, ledger = engine.evaluation, engine.evaluation.ledger
    return AnsweringState(
        at=evaluation.at,
        facts=evaluation.facts,
        readings=ledger.readings,
        meters=ledger.meters,
        set_up=ledger.set_up,
        last_entry=ledger.last.number if ledger.last else 0,
        evaluation=evaluation,
    )


def engine_of(state: UnitState) -> EngineState:
    """What the gate asks its questions of, from a state that `fold` made."""
    if state.evaluation is None:
        raise ValueError("This state was not made by a fold.")
    return EngineState(evaluation=state.evaluation, rows=state.interlock)


def state_of(engine: EngineState, *, stage: str = "", address: str = "") -> UnitState:
    """Put what was worked out into plain values."""
    evaluation = engine.evaluation.with_steps(dict(engine.evaluation.steps))
    engine = EngineState(evaluation=evaluation, rows=dict(engine.rows))
    ledger, disposition = evaluation.ledger, engine.disposition
    faults = tuple(open_faults(evaluation))
    return UnitState(
        at=evaluation.at,
        steps=evaluation.steps,
        stages=stage_states(evaluation, faults),
        due=find_due(engine, stage=stage, address=address),
        faults=fault_states(evaluation),
        energised=is_energised(evaluation),
        on_mains=is_on_mains(evaluation),
        interlock=engine.rows,
        facts=evaluation.facts,
        disposition=disposition,
        held=disposition == "hold" or any(one.severity == "do not use" for one in faults),
        finished=disposition in SETTLED,
        complete=is_complete(evaluation),
        may_sell=why_not_for_sale(evaluation),
        not_tested=not_tested(evaluation),
        readings=dict(ledger.readings),
        history={address: tuple(given) for address, given in ledger.answers.items()},
        withdrawn=frozenset(ledger.withdrawn),
        meters=dict(ledger.meters),
        set_up=ledger.set_up,
        set_up_stage=ledger.set_up_stage,
        last_entry=ledger.last.number if ledger.last else 0,
        openings=ledger.openings,
        destroyed=bool(ledger.destroyed),
        acceptances=tuple(ledger.acceptances.values()),
        put_right=tuple((words, entry.at, entry.by) for words, entry in put_right(ledger)),
        evaluation=evaluation,
    )
