"""What sound units of a lot drew at first power, to judge the next one by."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench

NEWEST = 12
"""units of a lot that are looked at: enough to say what sound ones draw"""


def sound_currents(bench: "Bench", mark: str, address: str) -> tuple[float, ...]:
    """What sound units of the lot drew at that step of first power (A), through the limiter that this unit has.

    Nothing where the step reads no current on limited supply.
    """
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.statements.statements import completes_step
    from benchapp.sequences.language.vocabulary import Supply
    from benchapp.sequences.planning.limiters import LIMITER_FACTS

    step = bench.plan(mark).by_address.get(address)
    if step is None or step.supply is not Supply.limited or step.function is not Function.ac_current:
        return ()
    own, found = bench.state(mark).facts, []
    for row in bench.siblings(mark, address)[-NEWEST:]:
        state = bench.state(row.mark)
        entry = state.readings.get(address)
        alike = all(state.facts.get(name) == own.get(name) for name in LIMITER_FACTS)
        if alike and entry is not None and entry.content.value is not None and completes_step(entry.content.judgement):
            found.append(float(entry.content.value))
    return tuple(found)
