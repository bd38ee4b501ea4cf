"""Faults of a unit: open, mended or closed, and those that keep mains away."""

from collections.abc import Iterator

from benchapp.sequences.history.ledger import Fault, Ledger
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.hazards import Shut
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import FaultState, FaultStatus, StepStatus


def fault_states(evaluation: StepEvaluation) -> tuple[FaultState, ...]:
    """Every fault of the unit, in the order in which they were found."""
    return tuple(_fault_state(evaluation, fault) for fault in evaluation.ledger.faults)


def _fault_state(evaluation: StepEvaluation, fault: Fault) -> FaultState:
    return FaultState(
        entry=fault.entry,
        part=fault.part,
        mode=fault.mode,
        words=fault.words,
        status=fault_status(evaluation, fault),
        address=fault.address,
        severity=fault.severity,
        repair=fault.repair,
        hazard=fault.hazard,
        false_alarm=fault.false_alarm,
        old_hazard=fault.old_hazard,
        cleared=fault.cleared,
        taken_back=is_taken_back(evaluation.ledger, fault),
    )


def fault_status(evaluation: StepEvaluation, fault: Fault) -> FaultStatus:
    """Open until mended (or, for one that an answer raised, until a second look did not find it); closed when shown."""
    ledger = evaluation.ledger
    if fault.false_alarm is not None or fault.cleared is not None:
        return FaultStatus.closed
    if fault.repair is not None:
        shown = not fault.address or _is_shown_good(evaluation, fault.address, fault.repair)
        shown = shown and may_be_mended(evaluation.plan, fault)
        return FaultStatus.closed if shown else FaultStatus.repaired
    if fault.by_answer and not fault.lasting and _looked_again(ledger, fault):
        return FaultStatus.closed
    return FaultStatus.open


def may_be_mended(plan: Plan, fault: Fault) -> bool:
    """Whether a repair at this bench can close it: of a hazard of old equipment only where its file says so."""
    if not fault.old_hazard:
        return True
    hazard = plan.hazards.get(fault.old_hazard)
    stays_shut = hazard is None or {Shut.work, Shut.opening} & {*hazard.shuts}
    return not stays_shut and hazard is not None and hazard.sale_in(plan.profile.limits).may == "after repair"


def _is_shown_good(evaluation: StepEvaluation, address: str, since: int) -> bool:
    if address not in evaluation.plan.by_address or evaluation.steps[address].status is StepStatus.skipped:
        return True
    given = evaluation.ledger.answers.get(address, ())
    return any(entry.number > since and evaluation.ledger.good(entry) for entry in given)


def _looked_again(ledger: Ledger, fault: Fault) -> bool:
    given = ledger.answers.get(fault.address, ())
    return any(entry.number > fault.entry and entry.number not in ledger.withdrawn for entry in given)


def is_taken_back(ledger: Ledger, fault: Fault) -> bool:
    """Whether the answer that raised it was taken back: a danger stays open all the same until a second look."""
    return fault.by_answer and not fault.lasting and fault.entry in ledger.withdrawn


def open_faults(evaluation: StepEvaluation) -> Iterator[Fault]:
    """Faults that are not yet shown to be mended."""
    for fault in evaluation.ledger.faults:
        if fault_status(evaluation, fault) is not FaultStatus.closed:
            yield fault


def shuts_mains(plan: Plan, fault: Fault) -> bool:
    """Whether the fault touches the supply side, or may: a part that the circuit does not know is taken to."""
    if fault.severity == "do not use" or fault.part not in plan.circuit.parts:
        return True
    return fault.part in plan.supply_parts


def waits_for_live_retest(evaluation: StepEvaluation, fault: Fault) -> bool:
    """Whether only a live step can show it to be mended, or to have been a slip; it must not keep that step shut."""
    step = evaluation.plan.by_address.get(fault.address)
    ready = fault.repair is not None or is_taken_back(evaluation.ledger, fault)
    return ready and step is not None and step.supply is not Supply.none
