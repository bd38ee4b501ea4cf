"""The search for the broken part of a unit: its readings and what was probed since, weighed on its circuit.

The weights start from a file and learn from this workbook's own confirmed repairs of the same design.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from benchapp.actions.standalone.circuits import confirmed_repairs
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.recording import Composed, EntryContext, record
from benchapp.judgement.meters.functions import THROUGH_LEADS, Function
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from benchapp.sequences.answering.formula_variables import mains_now
from benchapp.sequences.history.probes import probe_words, standing_probes
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.interlock.free_probes import (
    FreeProbe,
    live_meter,
    live_step,
    live_terminals,
    probe_content,
    probing_meter,
    probing_set_up,
)
from benchapp.sequences.interlock.gate import why_no_live_probe
from benchapp.sequences.language.vocabulary import ReadingSource, Supply
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_contents import ProbedReading
from benchapp.sequences.planning.limiters import limiter_now, nominal_mains
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.terminals import circuit_now, circuit_state
from benchapp.wiring.assembly.lead import LEAD_OFF, far_ends
from benchapp.wiring.faults.weights import Repaired, shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.diagnosis import Diagnosis
from benchapp.wiring.search.live_table import LiveChoice
from benchapp.wiring.search.observations import Observation, counted_as_open

_NOT_OF_IT = frozenset({"stale", "skipped"})
"""steps whose readings are not of the unit as it is: from before a change, or through a lead that is not its own"""
_ALIKE = 0.1  # of the reading, or in ohm: a reading taken again came out the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """Where the search stands, the readings probed in it in words, the set-up and the meters with which it probes.

    `no_live` says why no live reading can be taken now; empty where one can. `known` is what the next question of the
    same search may bring along: it costs time and does not change with a probe.
    """

    diagnosis: Diagnosis
    probed: tuple[str, ...]
    set_up: tuple[str, ...]
    meter: str
    live_meter: str
    no_live: str
    known: "SearchCache"


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchCache:
    """The confirmed repairs that a search weighs by, and its tables of what every hypothesis would read."""

    history: tuple[Repaired, ...]
    diagnoser: Diagnoser


def record_probe(
    bench: Bench,
    unit: str,
    address: str,
    a: str,
    b: str,
    typed: str,
    *,
    by: str,
    live: bool = False,
    source: ReadingSource = ReadingSource.keys,
    sent: str = "",
) -> ChangeSet:
    """Keep a reading between two terminals, taken to find the fault that the step of that address showed.

    Dead unless `live`. Raises Refused for a dead one on a unit that may be live, for a live one where the interlock has
    the live stage shut, for an unknown terminal, or a meter not in hand; EntryProblem for a text of the wrong kind.
    """

    def compose(now: EntryContext) -> Composed:
        given = FreeProbe(a=a, b=b, typed=typed, live=live, source=source, sent=sent)
        content = probe_content(now.plan, now.state, address, given, now.at)
        return Composed(kind=EntryKind.note, address=address, content=content, words=content.words)

    return record(bench, unit, compose, by=by)


def search_fault(
    bench: Bench, unit: str, address: str, known: SearchCache | None = None, *, before: SearchCache | None = None
) -> Search:
    """Where the search for the fault stands that the step of that address showed.

    Without `known` the confirmed repairs are collected from the whole workbook, and the tables are made, unless those
    of the search before (of another unit of this design, with the same repairs) serve again.

    Raises ObservationProblem for readings that cannot be used together. Of two alike between the same terminals the
    later one counts, and the more where it came out the same.
    """
    plan, state = bench.plan(unit), bench.state(unit)
    set_up = probing_set_up(plan.by_address.get(address))
    probes = standing_probes(bench.entries(unit))
    circuit, at_rest = _within_reach(plan, circuit_now(plan, state.facts), set_up), circuit_state(plan.circuit, set_up)
    read = (*_from_record(plan, state), *(_from_probe(plan, probed) for _, probed in probes))
    observations = _latest(
        counted_as_open(observation, circuit)
        for observation in read
        if {observation.a, observation.b} <= set(circuit.terminals)
    )
    known = _still_known(known, circuit, at_rest) or _get_to_know(bench, plan, circuit, at_rest, before)
    no_live = why_no_live_probe(state) or ""
    return Search(
        diagnosis=known.diagnoser.diagnosis(observations, None if no_live else _live_choice(plan, state)),
        probed=tuple(probe_words(entry) for entry, _ in probes),
        set_up=set_up,
        meter=probing_meter(state, plan, state.at),
        live_meter=live_meter(state, plan, state.at),
        no_live=no_live,
        known=known,
    )


def _within_reach(plan: Plan, circuit: Circuit, set_up: tuple[str, ...]) -> Circuit:
    """The contacts at the far end of a lead can be probed with the lead off alone, and are in the hand then."""
    from dataclasses import replace

    if LEAD_OFF in set_up:
        return replace(circuit, spoken={**circuit.spoken, **far_ends(circuit)})
    if circuit.terminals == plan.circuit.terminals:
        return circuit
    return replace(circuit, terminals=plan.circuit.terminals)


def _still_known(known: SearchCache | None, circuit: Circuit, at_rest: State) -> SearchCache | None:
    """What was brought along, where it is about this circuit in this set-up."""
    same = known is not None and known.diagnoser.circuit == circuit and known.diagnoser.state == at_rest
    return known if same else None


def _get_to_know(bench: Bench, plan: Plan, circuit: Circuit, at_rest: State, before: SearchCache | None) -> SearchCache:
    history = confirmed_repairs(bench, plan.equipment.equipment)
    before = _still_known(before, circuit, at_rest)
    if before is not None and before.history == history:
        return before
    return SearchCache(
        history=history, diagnoser=Diagnoser(circuit, shipped_fault_weights(), history=history, state=at_rest)
    )


def _live_choice(plan: Plan, state: UnitState) -> LiveChoice | None:
    """The live readings that may be taken now: between pins of the outputs, at the mains that was just measured."""
    step = live_step(plan)
    mains = mains_now(plan, state, step, state.at) if step is not None else None
    if step is None or mains is None:
        return None
    at_work = step.circuit_state or State()
    return LiveChoice(mains=float(mains.value_si), terminals=live_terminals(plan), state=at_work)


def _latest(observations: "Iterable[Observation]") -> list[Observation]:
    """One reading for each pair, kind and set-up."""
    kept: dict[tuple[object, ...], Observation] = {}
    for observation in observations:
        key = (observation.pair, observation.kind, observation.state)
        before = kept.get(key)
        again = before is not None and _alike(before.value, observation.value)
        kept[key] = replace(observation, times=before.times + 1) if before is not None and again else observation
    return list(kept.values())


def _alike(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= _ALIKE * max(1.0, abs(one))


def _from_record(plan: Plan, state: UnitState) -> "Iterator[Observation]":
    """The readings that stand in the record between two terminals, dead and live."""
    for address, entry in state.readings.items():
        step = plan.by_address.get(address)
        if step is not None and step.supply is Supply.limited and step.function is Function.ac_current:
            yield from _current(plan, state, step, entry)
        elif step is not None and len(step.terminals) == 2 and str(state.steps[address].status) not in _NOT_OF_IT:
            observation = _observation(step, entry)
            if observation is not None:
                yield observation


def _current(plan: Plan, state: UnitState, step: PlannedStep, entry: Entry[ReadingContent]) -> "Iterator[Observation]":
    """What it drew at first power, through the limiter that was named; nothing of it once the unit was mended."""
    supply, said = plan.circuit.supply, entry.content
    limiter = limiter_now(state.facts, nominal_mains(plan))
    told = supply is not None and supply.kind_of_load is not None and limiter is not None and said.value is not None
    if not told or str(state.steps[step.address].status) in _NOT_OF_IT:
        return
    assert supply is not None
    yield Observation(
        a=supply.live,
        b=supply.neutral,
        kind=Kind.current,
        value=said.value,
        uncertainty=float(said.standard_uncertainty or 0.0),
        limiter=limiter,
        state=step.circuit_state or State(),
    )


def _observation(step: PlannedStep, entry: Entry[ReadingContent]) -> Observation | None:
    said, (a, b) = entry.content, step.terminals
    value = None if said.bound is Bound.above else said.value
    blur, state = float(said.standard_uncertainty or 0.0), step.circuit_state or State()
    if step.function in THROUGH_LEADS:
        return Observation(a=a, b=b, kind=Kind.resistance, value=value, uncertainty=blur, state=state)
    # a reading with a load on is no reading of the outputs left open, which is what every hypothesis is solved for
    if step.function is Function.ac_voltage and said.mains and value is not None and not step.loads:
        return Observation(
            a=a, b=b, kind=Kind.voltage, value=value, uncertainty=blur, mains=float(said.mains), state=state
        )
    return None


def _from_probe(plan: Plan, probed: ProbedReading) -> Observation:
    return Observation(
        a=probed.a,
        b=probed.b,
        kind=probed.kind,
        value=probed.value,
        uncertainty=float(probed.standard_uncertainty),
        mains=probed.mains,
        state=circuit_state(plan.circuit, probed.set_up),
    )
