"""What came of a search, by the netlist's own truth."""

from collections.abc import Sequence

from tests.judge.drawing import Case, Fault
from tests.judge.seen import shown_at
from tests.judge.trial import Outcome

RIGHT, GROUP, LATER, WRONG, PASSED, OPEN = "right", "in a group", "named later", "wrong", "called sound", "no end"
MOST_NAMED, MOST_OF_TWO = 3, 4


def at_place(named: Sequence[str], fault: Fault) -> int:
    """At which place of what was named the fault's own place stands, from 0; -1 for nowhere."""
    truth = {_unordered(one) for one in fault.truth}
    return next((number for number, one in enumerate(named) if _unordered(one) in truth), -1)


def _unordered(part: str) -> frozenset[str]:
    return frozenset(part.split(", "))


def is_right(named: Sequence[str], fault: Fault) -> bool:
    """Named first, and within three."""
    return at_place(named, fault) == 0 and len(named) <= MOST_NAMED


def verdict(case: Case, outcome: Outcome) -> str:
    """In one word."""
    fault, named = case.faults[0], outcome.named
    if not outcome.ended:
        return OPEN
    if is_right(named, fault):
        return RIGHT
    place = at_place(named, fault)
    if place < 0:
        return WRONG if named else PASSED
    return GROUP if place < 2 else LATER


def found_both(case: Case, outcome: Outcome) -> bool:
    """Whether both of two faults are named, among four parts at most."""
    return len(outcome.named) <= MOST_OF_TWO and all(at_place(outcome.named, fault) >= 0 for fault in case.faults)


def is_shown(case: Case) -> bool:
    """Whether some dead reading between places that a probe reaches shows every fault of the case by itself."""
    return all(shown_at(case.design, fault.change) for fault in case.faults)
