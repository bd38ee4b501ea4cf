"""The kind `probe`: probe a connector as its circuit asks, pair by pair."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from pydantic import Field

from benchapp.files.forms import Id
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.judgement.meters.functions import DEAD_METERS, Function
from benchapp.sequences.answering.readings import ReadingAnswer, reading_from, try_reading
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.checks.fit import Fit
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.checks.written_values import check_function, dead_meter
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.steps import StepBase
from benchapp.sequences.language.vocabulary import Facts, FactValue, Supply
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.paths import FROM_WIRING, winding_ends
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, SingleStep
from benchapp.sequences.planning.state import Evaluation
from benchapp.sequences.planning.terminals import TerminalProblem, circuit_state
from benchapp.wiring.assembly.unit import CORD_CORES, DETACHABLE, circuit_of_unit, settings_of
from benchapp.wiring.expected.stated import red_on_positive
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.probe_words import say_probes
from benchapp.wiring.model.remembered import remembered
from benchapp.wiring.probing.probes import ProbeKind, probe_plan

if TYPE_CHECKING:
    from benchapp.wiring.model.circuit import State
    from benchapp.wiring.probing.probes import Probe

OUTPUTS = "outputs"
VOLTAGE = "voltage"
LEAD = "lead"


class ProbeStep(StepBase):
    """Probe a connector as its circuit asks, pair by pair; `outputs` is every connector but the mains."""

    probe: Id
    """the step's own id"""
    connector: str = "outputs"
    """the connector by its name in the equipment, or outputs: all that are not the mains"""
    what: tuple[Literal["earth", "continuity", "isolation", "unused", "voltage", "lead"], ...] = Field(min_length=1)
    """which probes are taken; the circuit gives their pairs, order and bands; lead: one that comes off, by itself"""
    function: str = ""
    """the meter's function, where it is not the usual one"""


class ProbeConnector(CheckedKind):
    """A reading for each pair that is touched, held against what the wiring gives there."""

    name = "probe"
    place = 3
    model = ProbeStep
    answer = ReadingAnswer
    content = ReadingContent
    by_hand = True
    on_tag = OnTag.test
    digest_keys = ()
    shows = {}

    def plan(self, circuit: Circuit, step: ProbeStep) -> Iterator[SingleStep]:
        return _singles(circuit, step, step.set_up)

    def evaluate(
        self, plan: Plan, state: AnsweringState, step: PlannedStep, given: ReadingAnswer, at: str
    ) -> Evaluation:
        return try_reading(plan, state, step, given, at)

    def answer_from(self, content: ReadingContent) -> ReadingAnswer:
        return reading_from(content)

    def check(self, walk: Walk, key: Key, step: ProbeStep) -> Iterator[Complaint]:
        yield from check_function(walk, (*key, "function"), step.function)
        if walk.sequence.supply is Supply.none:
            return
        for number, word in enumerate(step.what):
            if word != "voltage":
                what = f"“{word}” is probed with an ohmmeter, and this sequence has mains on"
                yield walk.complain((*key, "what", number), what, "supply: none, or what: [voltage]")
        if step.function in DEAD_METERS:
            yield dead_meter(walk, (*key, "function"), step.function)

    def check_fit(self, fit: Fit, step: ProbeStep) -> Iterator[Complaint]:
        circuit = fit.design.circuit
        if step.connector == "outputs":
            return
        if step.connector not in circuit.connectors:
            known = ("outputs", *circuit.connectors)
            what = f"{circuit.equipment} has no connector “{step.connector}”"
            yield fit.complain(("connector",), what, "one of " + ", ".join(known), nearest(step.connector, known))
        elif circuit.connectors[step.connector].mains and "voltage" in step.what:
            what = f"this takes bare probes to the mains of {circuit.equipment}"
            yield fit.complain(("connector",), what, "an output; mains is read at a plug-in meter")

    def places(self, step: ProbeStep) -> Iterator[tuple[str, Key, str]]:
        yield "connector", ("connector",), step.connector

    def case_answer(self, step: ProbeStep, line: CaseLine, facts: Facts) -> ReadingAnswer:
        return ReadingAnswer(typed=line.reads, meter=line.meter)


def _singles(circuit: Circuit, step: ProbeStep, set_up: tuple[str, ...]) -> Iterator[SingleStep]:
    """The readings of a probe step, in the order in which they are taken; a pair of two connectors comes once.

    Only where a diode makes it count which probe is on which end is a pair read both ways round. Behind the readings
    of the design come those that a unit with a cord of its own needs beside them: no fact of a unit takes one away.
    """
    seen: set[tuple[str, ...]] = set()
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
        own = _variant(circuit, fact, value)
        if own is not circuit:
            yield {fact: value}, own


@remembered
def _variant(circuit: Circuit, fact: str, value: FactValue) -> Circuit:
    return circuit_of_unit(circuit, settings_of({fact: value}, circuit))


def _of_each_connector(circuit: Circuit, step: ProbeStep, state: "State") -> Iterator[SingleStep]:
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


def _probed(circuit: Circuit, step: ProbeStep, probe: "Probe") -> SingleStep:
    return SingleStep(
        id=probe.id,
        say=probe.say,
        terminals=(probe.a, probe.b),
        function=Function(step.function or Function.resistance),
        accept=FROM_WIRING,
        circuit=circuit,
        probe=probe,
        band=probe.band,
        off=probe.kind is ProbeKind.lead,
    )


def _connectors(circuit: Circuit, name: str) -> tuple[str, ...]:
    if name == OUTPUTS:
        return tuple(plug.name for plug in circuit.output_connectors)
    if name in circuit.connectors:
        return (name,)
    known = ", ".join(circuit.connectors)
    raise TerminalProblem(f"{circuit.equipment} has no connector “{name}”; it has {known}, or say outputs")


def _voltages(circuit: Circuit, connector: str, function: str) -> Iterator[SingleStep]:
    for a, b, usual in voltage_pairs(circuit, connector):
        yield SingleStep(
            id=f"{a}-{b.rpartition('.')[2]}",
            say=say_probes(circuit, a, b, alternating=Function(function or usual) is Function.ac_voltage),
            terminals=(a, b),
            function=Function(function or usual),
            accept=FROM_WIRING,
            circuit=circuit,
        )


def voltage_pairs(circuit: Circuit, connector: str) -> tuple[tuple[str, str, Function], ...]:
    """(black probe, red probe, meter function) for every voltage that the connector offers; red on the positive pin."""
    pins = circuit.connectors[connector].terminals
    stated = (one for one in circuit.outputs if {one.a, one.b} <= set(pins))
    ac, dc = Function.ac_voltage, Function.dc_voltage
    pairs = {frozenset((o.a, o.b)): (*red_on_positive(circuit, o.a, o.b), ac if o.alternating else dc) for o in stated}
    for a, b, _ in winding_ends(circuit, pins):
        pairs.setdefault(frozenset((a, b)), (a, b, ac))
    return tuple(pairs.values())
