"""Which part of this unit is broken? Its readings and what was probed since, weighed on its circuit.

The weights start from a file and learn from this workbook's own confirmed repairs of the same design.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes
from benchapp.actions.recording import Composed, Moment, record
from benchapp.sequences.entries import EntryKind

if TYPE_CHECKING:
    from benchapp.sequences import Entry, Plan, PlannedStep, UnitState
    from benchapp.wiring.clues import Clue
    from benchapp.wiring.faults import Repaired
    from benchapp.wiring.locate import Findings

THROUGH_LEADS = frozenset({"resistance", "continuity", "earth continuity"})
_DISTURB = frozenset({EntryKind.repair, EntryKind.opened, EntryKind.event})
"""After these a probe no longer tells of the unit as it is."""
_ALIKE = 0.1  # of the reading, or in ohm: a reading taken again came out the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """Where the search stands, the readings probed in it in words, the set-up and the meter with which it probes.

    `history` are the confirmed repairs that it weighs by: the next question may bring them along.
    """

    findings: "Findings"
    probed: tuple[str, ...]
    set_up: tuple[str, ...]
    meter: str
    history: "tuple[Repaired, ...]"


def record_probe(bench: Bench, unit: str, address: str, a: str, b: str, typed: str, *, by: str) -> Changes:
    """Keep a dead reading between two terminals, taken to find the fault that the step of that address showed.

    Raises Refused for a unit that may be live, an unknown terminal, or a meter not in hand; EntryProblem for a text
    that is no resistance.
    """
    from benchapp.sequences.free_probes import FreeProbe, probe_content

    def compose(now: Moment) -> Composed:
        content = probe_content(now.plan, now.state, address, FreeProbe(a=a, b=b, typed=typed), now.at)
        return Composed(kind=EntryKind.note, address=address, content=content, words=str(content["words"]))

    return record(bench, unit, compose, by=by)


def search_fault(bench: Bench, unit: str, address: str, history: "tuple[Repaired, ...] | None" = None) -> Search:
    """Where the search for the fault stands that the step of that address showed.

    The confirmed repairs are collected from the whole workbook unless they are brought along.

    Raises ClueProblem for readings that cannot be used together. Of two readings alike between the same terminals the
    later one counts, and the more where it came out the same.
    """
    from benchapp.actions.circuits import confirmed_repairs
    from benchapp.sequences.free_probes import probing_meter, probing_set_up
    from benchapp.sequences.own_circuit import circuit_now
    from benchapp.sequences.terminals import circuit_state
    from benchapp.wiring.faults import shipped_fault_modes
    from benchapp.wiring.locate import Locator

    plan, state = bench.plan(unit), bench.state(unit)
    set_up = probing_set_up(plan.by_address.get(address))
    probes = _standing_probes(bench.entries(unit))
    clues = _latest([*_from_record(plan, state), *(_from_probe(plan, entry) for entry in probes)])
    known = confirmed_repairs(bench, plan.equipment.equipment) if history is None else history
    at_rest = circuit_state(plan.circuit, set_up)
    locator = Locator(circuit_now(plan, state.facts), shipped_fault_modes(), history=known, state=at_rest)
    return Search(
        findings=locator.findings(clues),
        probed=tuple(f"entry {entry.number}: {_said(entry)}" for entry in probes),
        set_up=set_up,
        meter=probing_meter(state, plan, state.at),
        history=known,
    )


def _said(entry: "Entry") -> str:
    return str(entry.content["words"]).removeprefix("Probed: ").rstrip(".")


def _standing_probes(entries: "Iterable[Entry]") -> "list[Entry]":
    """The probes since the unit was last mended, opened or befallen by something."""
    probes: list[Entry] = []
    for entry in entries:
        if entry.kind in _DISTURB:
            probes.clear()
        elif entry.kind is EntryKind.note and "probed" in entry.content:
            probes.append(entry)
    return probes


def _latest(clues: "Iterable[Clue]") -> "list[Clue]":
    """One reading for each pair, kind and set-up."""
    kept: dict[tuple[frozenset[str], str, str], Clue] = {}
    for clue in clues:
        key = (clue.pair, str(clue.kind), repr(clue.state))
        before = kept.get(key)
        again = before is not None and _alike(before.value, clue.value)
        kept[key] = replace(clue, times=before.times + 1) if before is not None and again else clue
    return list(kept.values())


def _alike(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= _ALIKE * max(1.0, abs(one))


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


def _from_probe(plan: "Plan", entry: "Entry") -> "Clue":
    from benchapp.quantities import Kind
    from benchapp.sequences.terminals import circuit_state
    from benchapp.wiring.clues import Clue

    said = entry.content["probed"]
    return Clue(
        a=said["a"],
        b=said["b"],
        kind=Kind.resistance,
        value=said["value"],
        uncertainty=float(said["standard_uncertainty"]),
        state=circuit_state(plan.circuit, tuple(said["set_up"])),
    )
