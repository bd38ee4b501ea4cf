"""Which faults are open, which were mended, and which of them keep mains away?"""

from collections.abc import Iterator

from benchapp.sequences.history.ledger import Fault, Ledger
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import FaultState, FaultStatus, StepStatus


def fault_states(standing: StepEvaluation) -> tuple[FaultState, ...]:
    """Every fault of the unit, in the order in which they were found."""
    return tuple(_fault_state(standing, trouble) for trouble in standing.ledger.troubles)


def _fault_state(standing: StepEvaluation, trouble: Fault) -> FaultState:
    return FaultState(
        entry=trouble.entry,
        part=trouble.part,
        mode=trouble.mode,
        words=trouble.words,
        status=fault_status(standing, trouble),
        address=trouble.address,
        grave=trouble.grave,
        supply_side=shuts_mains(standing.plan, trouble),
        repair=trouble.repair,
    )


def fault_status(standing: StepEvaluation, trouble: Fault) -> FaultStatus:
    """Open until mended (or, for one that an answer raised, until a second look did not find it); closed when shown."""
    ledger = standing.ledger
    if trouble.repair is not None:
        shown = not trouble.address or _is_shown_good(standing, trouble.address, trouble.repair)
        return FaultStatus.closed if shown else FaultStatus.repaired
    if trouble.by_answer and not trouble.lasting and _looked_again(ledger, trouble):
        return FaultStatus.closed
    return FaultStatus.open


def _is_shown_good(standing: StepEvaluation, address: str, since: int) -> bool:
    if address not in standing.plan.by_address or standing.steps[address].status is StepStatus.skipped:
        return True
    given = standing.ledger.answers.get(address, ())
    return any(entry.number > since and standing.ledger.good(entry) for entry in given)


def _looked_again(ledger: Ledger, trouble: Fault) -> bool:
    given = ledger.answers.get(trouble.address, ())
    return any(entry.number > trouble.entry and entry.number not in ledger.withdrawn for entry in given)


def open_faults(standing: StepEvaluation) -> Iterator[Fault]:
    """Faults that are not yet shown to be mended."""
    for trouble in standing.ledger.troubles:
        if fault_status(standing, trouble) is not FaultStatus.closed:
            yield trouble


def shuts_mains(plan: Plan, trouble: Fault) -> bool:
    """Whether the fault touches the supply side, or may: a part that the circuit does not know is taken to."""
    if trouble.grave == "do not use" or trouble.part not in plan.circuit.parts:
        return True
    return trouble.part in plan.supply_parts


def waits_for_live_retest(standing: StepEvaluation, trouble: Fault) -> bool:
    """Whether only a live step can show it to be mended; such a fault must not keep that step shut."""
    step = standing.plan.by_address.get(trouble.address)
    return trouble.repair is not None and step is not None and step.supply is not Supply.none
