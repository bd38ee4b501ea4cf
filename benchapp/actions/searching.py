"""Which part of this unit is broken? Its readings and what was probed since, weighed on its circuit."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.actions.bench import Bench
    from benchapp.sequences import Entry, Plan, PlannedStep, UnitState
    from benchapp.wiring.clues import Clue
    from benchapp.wiring.locate import Findings

THROUGH_LEADS = frozenset({"resistance", "continuity", "earth continuity"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Probed:
    """One more reading taken in the search, dead: two terminals, and what the meter showed as it was typed."""

    a: str
    b: str
    typed: str


def search_fault(bench: "Bench", unit: str, address: str, probed: Sequence[Probed] = ()) -> "Findings":
    """Where the search stands after the unit's readings and those probed since the step of that address failed.

    Raises EntryProblem for a typed text that is no resistance. What was probed last between two terminals counts.
    """
    from benchapp.wiring.faults import shipped_fault_modes
    from benchapp.wiring.locate import Locator

    plan, state = bench.plan(unit), bench.state(unit)
    step = plan.by_address.get(address)
    at_rest = step.circuit_state if step is not None and step.function in THROUGH_LEADS else None
    clues = {_key(clue): clue for clue in _from_record(plan, state)}
    clues |= {_key(clue): clue for clue in (_from_probe(one, at_rest) for one in probed)}
    return Locator(plan.circuit, shipped_fault_modes(), state=at_rest).findings(clues.values())


def _key(clue: "Clue") -> tuple[frozenset[str], str, str]:
    return clue.pair, str(clue.kind), repr(clue.state)


def _from_record(plan: "Plan", state: "UnitState") -> "Iterator[Clue]":
    """The readings that stand in the record between two terminals, dead and live."""
    for address, entry in state.readings.items():
        step = plan.by_address.get(address)
        if step is not None and len(step.terminals) == 2 and str(state.steps[address].status) != "stale":
            clue = _clue(step, entry)
            if clue is not None:
                yield clue


def _clue(step: "PlannedStep", entry: "Entry") -> "Clue | None":
    from benchapp.quantities import Kind
    from benchapp.wiring import State
    from benchapp.wiring.clues import Clue

    said, (a, b) = entry.content, step.terminals
    value = None if said.get("bound") == "above" else said.get("value")
    blur, state = float(said.get("standard_uncertainty") or 0.0), step.circuit_state or State()
    if step.function in THROUGH_LEADS:
        return Clue(a=a, b=b, kind=Kind.resistance, value=value, uncertainty=blur, state=state)
    if step.function == "AC voltage" and said.get("mains") and value is not None:
        return Clue(a=a, b=b, kind=Kind.voltage, value=value, uncertainty=blur, mains=float(said["mains"]), state=state)
    return None


def _from_probe(one: Probed, at_rest: object) -> "Clue":
    from benchapp.quantities import Bound, Kind, read_reading
    from benchapp.wiring import State
    from benchapp.wiring.clues import Clue

    reading = read_reading(one.typed, kind=Kind.resistance, unit="ohm")
    value = None if reading.bound is Bound.above else reading.si
    state = at_rest if isinstance(at_rest, State) else State()
    return Clue(a=one.a, b=one.b, kind=Kind.resistance, value=value, state=state)
