"""The single readings that a probe step asks for on a circuit."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from benchapp.judgement.meters.functions import Function
from benchapp.sequences.language.models import ProbeStep
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.terminals import TerminalProblem, circuit_state
from benchapp.wiring.assembly.unit import AS_DESIGNED, CORD_CORES, DETACHABLE, circuit_of_unit, settings_of
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.groups import groups_of
from benchapp.wiring.probing.probes import ProbeKind, probe_plan

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band
    from benchapp.wiring.model.circuit import State
    from benchapp.wiring.probing.probes import Probe

OUTPUTS = "outputs"
VOLTAGE = "voltage"
LEAD = "lead"


@dataclass(frozen=True, slots=True, kw_only=True)
class Probing:
    """One reading of a probe step; `band` is None for a voltage, which follows from the mains of the hour.

    `circuit` is that of the units for which it is asked; `when` are the facts that make a unit one of them, where the
    design alone does not. A lead that is read by itself is taken `off` the unit.
    """

    id: str
    say: str
    terminals: tuple[str, str]
    function: Function
    circuit: Circuit
    probe: "Probe | None" = None
    band: "Band | None" = None
    when: Mapping[str, FactValue] = field(default_factory=dict)
    off: bool = False


def probing_of(circuit: Circuit, step: ProbeStep, set_up: tuple[str, ...]) -> Iterator[Probing]:
    """The readings of a probe step, in the order in which they are taken; a pair of two connectors comes once.

    Only where a diode makes it count which probe is on which end is a pair read both ways round. Behind the readings
    of the design come those that a unit with a cord of its own needs beside them: no fact of a unit takes one away.
    """
    seen: set[tuple[str, str]] = set()
    for when, own in _variants(circuit):
        for probing in _of_each_connector(own, step, circuit_state(own, set_up)):
            pair = probing.terminals
            if pair in seen or (pair[::-1] in seen and not (probing.probe is not None and probing.probe.fixed)):
                continue
            seen.add(pair)
            yield replace(probing, when={**when, **({DETACHABLE: True} if probing.off else {})})


def _variants(circuit: Circuit) -> Iterator[tuple[Mapping[str, FactValue], Circuit]]:
    """The design's circuit, then those of units whose cord differs so that other pairs are probed."""
    yield {}, circuit
    for fact, value in ((CORD_CORES, 2), (DETACHABLE, True)):
        settings = settings_of({fact: value}, circuit)
        if settings != AS_DESIGNED:
            yield {fact: value}, circuit_of_unit(circuit, settings)


def _of_each_connector(circuit: Circuit, step: ProbeStep, state: "State") -> Iterator[Probing]:
    if LEAD in step.what:
        for name in (plug.name for plug in circuit.connectors.values() if plug.mains):
            for probe in probe_plan(circuit, name, frozenset({ProbeKind.lead})):
                yield _probed(circuit, step, probe)
    kinds = frozenset(ProbeKind(word) for word in step.what if word not in (VOLTAGE, LEAD))
    for connector in _connectors(circuit, step.connector):
        if VOLTAGE in step.what:
            yield from _voltages(circuit, connector, step.function)
        if kinds:
            for probe in probe_plan(circuit, connector, kinds, state=state):
                yield _probed(circuit, step, probe)


def _probed(circuit: Circuit, step: ProbeStep, probe: "Probe") -> Probing:
    return Probing(
        id=probe.id,
        say=probe.say,
        terminals=(probe.a, probe.b),
        function=Function(step.function or Function.resistance),
        circuit=circuit,
        probe=probe,
        band=probe.band,
        off=probe.kind is ProbeKind.lead,
    )


def _connectors(circuit: Circuit, name: str) -> tuple[str, ...]:
    if name == OUTPUTS:
        return tuple(plug.name for plug in circuit.connectors.values() if not plug.mains)
    if name in circuit.connectors:
        return (name,)
    known = ", ".join(circuit.connectors)
    raise TerminalProblem(f"{circuit.equipment} has no connector “{name}”; it has {known}, or say outputs")


def _voltages(circuit: Circuit, connector: str, function: str) -> Iterator[Probing]:
    for a, b, usual in voltage_pairs(circuit, connector):
        yield Probing(
            id=f"{a}-{b.rpartition('.')[2]}",
            say=f"Black probe on {circuit.say(a)}, red probe on {circuit.say(b)}.",
            terminals=(a, b),
            function=Function(function or usual),
            circuit=circuit,
        )


"""Parts that carry a voltage on to the next node unchanged."""


def voltage_pairs(circuit: Circuit, connector: str) -> tuple[tuple[str, str, Function], ...]:
    """(terminal, terminal, meter function) for every voltage that the connector offers."""
    pins = circuit.connectors[connector].terminals
    stated = (one for one in circuit.outputs if {one.a, one.b} <= set(pins))
    ac, dc = Function.ac_voltage, Function.dc_voltage
    pairs = {frozenset((o.a, o.b)): (o.a, o.b, ac if o.alternating else dc) for o in stated}
    for a, b in _winding_ends(circuit, pins):
        pairs.setdefault(frozenset((a, b)), (a, b, ac))
    return tuple(pairs.values())


def _winding_ends(circuit: Circuit, pins: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    joined = groups_of(circuit, lambda branch: branch.kind.carries_voltage_on)
    for branch in circuit.branches:
        if not branch.kind.couples or branch.emf is None:
            continue
        a = next((pin for pin in pins if joined[pin] == joined[branch.a]), None)
        b = next((pin for pin in pins if joined[pin] == joined[branch.b]), None)
        if a is not None and b is not None and a != b:
            yield a, b
