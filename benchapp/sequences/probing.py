"""Which single readings does a probe step ask for on this circuit?"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.sequences.language import ProbeStep
from benchapp.sequences.outputs import voltage_pairs
from benchapp.sequences.terminals import TerminalProblem
from benchapp.wiring import Circuit, ProbeKind, probe_plan

if TYPE_CHECKING:
    from benchapp.judgement import Band
    from benchapp.wiring import Probe, State

OUTPUTS = "outputs"
VOLTAGE = "voltage"


@dataclass(frozen=True, slots=True, kw_only=True)
class Probing:
    """One reading of a probe step; `band` is None for a voltage, which follows from the mains of the hour."""

    id: str
    say: str
    terminals: tuple[str, str]
    function: str
    probe: "Probe | None" = None
    band: "Band | None" = None


def probing_of(circuit: Circuit, step: ProbeStep, state: "State") -> Iterator[Probing]:
    """The readings of a probe step, in the order in which they are taken; a pair of two connectors comes once.

    Only where a diode makes it count which probe is on which end is a pair read both ways round.
    """
    seen: set[tuple[str, str]] = set()
    for probing in _of_each_connector(circuit, step, state):
        pair = probing.terminals
        if pair not in seen and (pair[::-1] not in seen or (probing.probe is not None and probing.probe.fixed)):
            seen.add(pair)
            yield probing


def _of_each_connector(circuit: Circuit, step: ProbeStep, state: "State") -> Iterator[Probing]:
    for connector in _connectors(circuit, step.connector):
        if VOLTAGE in step.what:
            yield from _voltages(circuit, connector, step.function)
        kinds = frozenset(ProbeKind(word) for word in step.what if word != VOLTAGE)
        if kinds:
            for probe in probe_plan(circuit, connector, kinds, state=state):
                yield Probing(
                    id=probe.id,
                    say=probe.say,
                    terminals=(probe.a, probe.b),
                    function=step.function or "resistance",
                    probe=probe,
                    band=probe.band,
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
            function=function or usual,
        )
