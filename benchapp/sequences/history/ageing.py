"""When time alone may next change how a unit stands, so that nobody has to look at every unit every day."""

from benchapp.sequences.history.step_evaluation import RESTED_ON, StepEvaluation
from benchapp.sequences.planning.entry_times import BENCH_DAY, DAY, after


def moves_at(evaluation: StepEvaluation) -> str:
    """The earliest time from `evaluation.at` on; empty when nothing was done to the unit.

    What was proved for a day ends with the day of the last entry; a dead test grows old by the workshop's days. The
    time is told by the hour before, so that it stays the same from one entry to the next.
    """
    ledger, plan = evaluation.ledger, evaluation.plan
    if ledger.last is None:
        return ""
    times = [after(ledger.last.at, BENCH_DAY)]
    for step in plan.steps:
        latest = ledger.latest(step.address) if step.shows & RESTED_ON else None
        if latest is not None:
            times.append(after(latest.at, plan.workshop.dead_tests_last_days * DAY))
    now = after(evaluation.at, 0.0)
    first = min((time for time in times if time >= now), default="")
    hour = first[:14] + "00:00.000Z" if first else ""
    return hour if hour > now else first
