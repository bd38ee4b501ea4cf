"""Equipment by its wiring alone, outside any run: what should be read, what to probe, which part is broken."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from benchapp.actions.standalone.judging import JudgingProblem, read_by_id, read_limits, read_meter
from benchapp.errors import BenchError
from benchapp.judgement.meters.functions import Function
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.files.document import Document
    from benchapp.judgement.acceptance.acceptance import KnownQuantity
    from benchapp.judgement.statements.band import Band
    from benchapp.wiring.faults.weights import Repaired
    from benchapp.wiring.model.circuit import Circuit, State
    from benchapp.wiring.model.connectors import Connector
    from benchapp.wiring.probing.coverage import Ohmmeter, Undetectable
    from benchapp.wiring.probing.probes import Probe
    from benchapp.wiring.search.diagnosis import Diagnosis


class CircuitProblem(BenchError):
    """An equipment, a set-up or a question about it that cannot be answered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedReading:
    """Two terminals, in words too, the band that a sound unit reads there, and what the meter is set to for it."""

    a: str
    b: str
    say: str
    band: "Band"
    function: Function = Function.resistance
    red: str = ""
    """the terminal that takes the red probe, where a stated DC voltage makes it count: the positive one"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectorPlan:
    """The probes of one connector, in order."""

    connector: str
    title: str
    probes: "tuple[Probe, ...]"


def read_circuit(equipment: str, folders: Sequence[Path] = ()) -> "Circuit":
    """The circuit of an equipment by its id, or by the name of its file.

    A file's own folder is looked through as `folders` are. Raises CircuitProblem, FileProblems.
    """
    return read_design(equipment, folders)[0]


def read_design(equipment: str, folders: Sequence[Path] = ()) -> "tuple[Circuit, Mapping[str, Connector]]":
    """The circuit, and each of its connectors as its file describes it, by the connector's name in the equipment."""
    from benchapp.files.beside import files_by_id, own_folder
    from benchapp.files.models import build_model
    from benchapp.files.reader import read_document
    from benchapp.wiring.checks.written_circuit import compile_written
    from benchapp.wiring.model.connectors import Connector
    from benchapp.wiring.model.equipment import Equipment

    if equipment.endswith((".yaml", ".yml")):
        file, folders = Path(equipment), (*folders, own_folder(Path(equipment)))
    else:
        known = files_by_id("equipment", folders)
        if equipment not in known:
            raise CircuitProblem(_unknown_equipment(equipment, known))
        file = known[equipment]
    document = read_document(file)
    _refuse_other_kinds(document)
    model = build_model(document, Equipment)
    files = files_by_id("connector", folders)
    used = {kind: files[kind] for kind in model.connectors.values() if kind in files}
    connectors = {kind: read_by_id(path, Connector, kind) for kind, path in used.items()}
    circuit = compile_written(model, document, connectors, known=files)
    return circuit, {name: connectors[kind] for name, kind in model.connectors.items()}


def _refuse_other_kinds(document: "Document") -> None:
    """A file that describes something else is said to, rather than complained about key by key."""
    from benchapp.files.beside import files_by_id
    from benchapp.sequences.planning.catalogue import kind_of_document

    if isinstance(document.data, dict) and "equipment" in document.data:
        return
    kind = kind_of_document(document)
    key = f" (its key says “{kind}”)" if kind else ""
    known = ", ".join(sorted(files_by_id("equipment")))
    raise CircuitProblem(
        say(
            "{source} describes no equipment{key}. Name the file of one, or a shipped one: {known}.",
            source=document.source,
            key=key,
            known=known,
        )
    )


def as_unit(circuit: "Circuit", own: Sequence[str]) -> "Circuit":
    """The circuit of a unit with what it has of its own, each written like "cord length=5 m".

    Raises CircuitProblem for what changes no circuit, FactProblem or EntryProblem for what a fact cannot be.
    """
    from dataclasses import replace

    from benchapp.sequences.planning.facts import fact_value
    from benchapp.wiring.assembly.unit import FACTS, FUSED, SELECTOR, UnitSettings, circuit_of_unit, settings_of

    facts = {}
    for said in own:
        name, equals, value = (word.strip() for word in said.partition("="))
        if not equals or name not in FACTS:
            raise CircuitProblem(
                say(
                    "“{said}” says nothing of a unit's circuit. Write for example “cord length=5 m”; a unit "
                    "may have its own {listed}.",
                    said=said,
                    listed=", ".join(FACTS),
                )
            )
        facts[name] = fact_value(name, value)
    chosen, fused = facts.pop(SELECTOR, None), facts.pop(FUSED, True)
    circuit = circuit_of_unit(circuit, replace(settings_of(facts, circuit), plug_fused=fused is not False))
    return circuit if chosen is None else circuit_of_unit(circuit, UnitSettings(selector=str(chosen)))


def expected_readings(
    circuit: "Circuit",
    *,
    power: bool = False,
    mains: str | None = None,
    set_up: Sequence[str] = (),
    region: str = "gb",
    folders: Sequence[Path] = (),
) -> tuple[ExpectedReading, ...]:
    """Dead resistances between every two terminals; with power, no-load voltages between the pins of each output.

    `mains` is the measured mains ("243 V"); without it the region's whole legal range counts. Nothing is ever
    expected of a reading at the mains pins with power on: nobody is to take one.
    """
    from benchapp.wiring.expected.dead import expected_resistance
    from benchapp.wiring.expected.live import expected_voltage
    from benchapp.wiring.expected.stated import is_steady, positive_end

    state, found = _state(circuit, set_up), []
    if not power:
        for a, b in combinations(circuit.terminals, 2):
            band = expected_resistance(circuit, a, b, state=state)
            found.append(ExpectedReading(a=a, b=b, say=_between(circuit, a, b), band=band))
        return tuple(found)
    measured = _known_mains(mains, circuit, state)
    (profile,) = read_limits(region=region, folders=folders)
    for a, b in _output_pairs(circuit):
        band = expected_voltage(circuit, a, b, mains=measured, profile=profile, state=state)
        function = Function.dc_voltage if is_steady(circuit, a, b) else Function.ac_voltage
        red = positive_end(circuit, a, b)
        say = _probes_on(circuit, red, b if red == a else a) if red else _between(circuit, a, b)
        found.append(ExpectedReading(a=a, b=b, say=say, band=band, function=function, red=red))
    return tuple(found)


def mains_said(
    circuit: "Circuit",
    *,
    mains: str | None = None,
    region: str = "gb",
    set_up: Sequence[str] = (),
    folders: Sequence[Path] = (),
) -> tuple[str, ...]:
    """What to say before anything else of a design whose voltage or frequency does not fit that region's mains.

    A measured `mains` that is none of the region's counts in its place.
    """
    from benchapp.wiring.assembly.selecting import mains_cautions

    (profile,) = read_limits(region=region, folders=folders)
    state = _state(circuit, set_up)
    measured = _known_mains(mains, circuit, state)
    return mains_cautions(circuit, state, profile, None if measured is None else float(measured.value_si))


def plan_probes(
    circuit: "Circuit", *, set_up: Sequence[str] = (), meter: str | None = None, folders: Sequence[Path] = ()
) -> tuple[ConnectorPlan, ...]:
    """What to probe at each connector, earth, isolation and unused pins first; with that meter, else a usual one."""
    from benchapp.wiring.probing.probes import probe_plan

    state, ohmmeter = _state(circuit, set_up), _ohmmeter(meter, folders)
    return tuple(
        ConnectorPlan(connector=name, title=plug.title, probes=probe_plan(circuit, name, state=state, meter=ohmmeter))
        for name, plug in circuit.connectors.items()
    )


def undetectable_by_probes(
    circuit: "Circuit", *, set_up: Sequence[str] = (), meter: str | None = None, folders: Sequence[Path] = ()
) -> "tuple[Undetectable, ...]":
    """Faults that no reading between terminals reveals, with the reason."""
    from benchapp.wiring.probing.coverage import undetectable_faults

    return undetectable_faults(circuit, _state(circuit, set_up), _ohmmeter(meter, folders))


def _ohmmeter(meter: str | None, folders: Sequence[Path]) -> "Ohmmeter | None":
    """How well a meter of that id, or of that file, tells resistances apart; None stands for a usual hand meter."""
    from benchapp.judgement.meters.readings import uncertainty_of
    from benchapp.wiring.probing.coverage import Ohmmeter

    if meter is None:
        return None
    record = read_meter(meter, folders)
    if Function.resistance not in record.functions:
        raise CircuitProblem(say("{meter} does not read resistance, so no probe can be planned with it.", meter=meter))
    largest = max(one.to.si for one in record.functions[Function.resistance].ranges)
    spread = {ohms: uncertainty_of(record, Function.resistance, ohms).expanded for ohms in _PROBED if ohms < largest}
    return Ohmmeter(
        share=max((by / ohms for ohms, by in spread.items() if ohms > 10 * min(_PROBED)), default=0.0),
        ohms=spread[min(_PROBED)],
        over_range=largest,
    )


_PROBED = (1.0, 50.0, 500.0, 5e3, 5e4)
"""ohm at which a meter's uncertainty is asked for, one in each decade that probes read"""


def locate_fault(
    circuit: "Circuit",
    readings: Sequence[str],
    *,
    mains: str | None = None,
    set_up: Sequence[str] = (),
    history: "Sequence[Repaired]" = (),
) -> "Diagnosis":
    """Weigh what can be broken by readings written "outlet.1,outlet.4=OL", and say what to probe next.

    Raises ObservationProblem, WiringProblem or EntryProblem for a reading that cannot be used.
    """
    from dataclasses import replace

    from benchapp.wiring.faults.weights import shipped_fault_weights
    from benchapp.wiring.search.diagnoser import Diagnoser
    from benchapp.wiring.search.observations import read_observation

    state = _state(circuit, set_up)
    measured = _known_mains(mains, circuit, state)
    volts = None if measured is None else float(measured.value_si)
    observations = [replace(read_observation(text, circuit, mains=volts), state=state) for text in readings]
    return Diagnoser(circuit, shipped_fault_weights(), history=history, state=state).diagnosis(observations)


def confirmed_repairs(bench: "Bench", equipment: str) -> "tuple[Repaired, ...]":
    """Faults of this design that a repair and the retest behind it confirmed, from the whole workbook.

    Where the part proved to be another than the fault's record says, the repair's word counts.
    """
    found: list[Repaired] = []
    seen = _REPAIRS.setdefault(bench, {})
    for unit in (bench.unit(mark) for mark in sorted(bench.workbook.repaired(equipment))):
        if seen.get(unit.mark, (-1, ()))[0] != unit.last_entry:
            seen[unit.mark] = (unit.last_entry, tuple(_repairs_of(bench, unit.mark)))
        found += seen[unit.mark][1]
    return tuple(found)


_REPAIRS: "WeakKeyDictionary[Bench, dict[str, tuple[int, tuple[Repaired, ...]]]]" = WeakKeyDictionary()
"""by workbook and shelf mark: the unit's last entry when it was looked at, and its confirmed repairs"""


def _repairs_of(bench: "Bench", mark: str) -> "Iterator[Repaired]":
    from benchapp.sequences.planning.entry_contents import RepairContent
    from benchapp.sequences.planning.state import FaultStatus
    from benchapp.wiring.faults.weights import Repaired
    from benchapp.wiring.model.modes import Mode

    modes, entries = set(Mode), bench.entries(mark)
    for fault in bench.state(mark).faults:
        if fault.repair is None or fault.status is not FaultStatus.closed:
            continue
        said = entries[fault.repair - 1].content
        part, mode = (
            (said.part, said.mode) if isinstance(said, RepairContent) and said.mode else (fault.part, fault.mode)
        )
        if mode in modes:
            yield Repaired(part=part, mode=Mode(mode))


def _output_pairs(circuit: "Circuit") -> Iterator[tuple[str, str]]:
    for plug in circuit.output_connectors:
        yield from combinations([pin for pin in plug.terminals if pin not in plug.unused], 2)


def _probes_on(circuit: "Circuit", red: str, black: str) -> str:
    return f"red on {circuit.say(red)}, black on {circuit.say(black)}"


def _between(circuit: "Circuit", a: str, b: str) -> str:
    return f"{circuit.say(a)} to {circuit.say(b)}"


def _state(circuit: "Circuit", set_up: Sequence[str]) -> "State":
    from benchapp.sequences.planning.terminals import circuit_state
    from benchapp.wiring.model.circuit import State

    for words in set_up:
        if circuit_state(circuit, (words,)) == State() and words not in _USUAL:
            raise CircuitProblem(
                say(
                    "{equipment} cannot be set up as {words!r}. {ways_to_set_up}",
                    equipment=circuit.equipment,
                    words=words,
                    ways_to_set_up=_ways_to_set_up(circuit),
                )
            )
    return circuit_state(circuit, tuple(set_up))


def _ways_to_set_up(circuit: "Circuit") -> str:
    """What can be said of this circuit: its own switches by name and position first."""
    own = [
        f"“{'selector' if one.selector else name} at {position}”"
        for name, one in circuit.switches.items()
        for position in one.positions
    ]
    shown = [*own[:6], "“switch off”", "“fuse out”"]
    if circuit.supply is not None:
        shown.append("“L and N joined”")
    return say("Write for example {listed} or {shown}.", listed=", ".join(shown[:-1]), shown=shown[-1])


_USUAL = frozenset({"fuse in", "plug fuse in"})
"""set-ups that leave a circuit as it usually is"""


def _known_mains(mains: str | None, circuit: "Circuit", state: "State") -> "KnownQuantity | None":
    """The mains as measured, in volts if it has no unit; a slip of the decimal point is refused."""
    from benchapp.judgement.acceptance.acceptance import KnownQuantity
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.entry import read_reading
    from benchapp.quantities.quantity import Bound
    from benchapp.wiring.assembly.selecting import supply_selected

    if mains is None:
        return None
    try:
        read = read_reading(mains, kind=Kind.voltage, unit="V")
    except BenchError as problem:
        raise JudgingProblem(
            say("The measured mains cannot be read. {sentence}", sentence=problem.sentence)
        ) from problem
    if read.si is None or read.bound is not Bound.exact or read.si <= 0:
        raise JudgingProblem(say("“{mains}” is no mains voltage. Write what was measured, as in 243 V.", mains=mains))
    supply, chosen = circuit.supply, supply_selected(circuit, state)
    made_for = [*(chosen or ()), *(supply.ends if supply else ())]
    if made_for and not min(made_for) / 2 <= read.si <= max(made_for) * 2:
        raise JudgingProblem(
            say(
                "“{mains}” is far from the {made_for:g} V that {equipment} is made for. Check the figure.",
                mains=mains,
                made_for=made_for[0],
                equipment=circuit.equipment,
            )
        )
    return KnownQuantity(value_si=read.si, what="measured mains", source="as stated", kind=Kind.voltage)


def _unknown_equipment(name: str, known: Mapping[str, Path]) -> str:
    from benchapp.files.spelling import nearest

    near = nearest(name, known)
    hint = f"Did you mean {near}?" if near else f"Known are: {', '.join(sorted(known)) or 'none'}."
    return say(
        "There is no equipment {name!r}. {hint} A file of your own is named with its .yaml.", name=name, hint=hint
    )
