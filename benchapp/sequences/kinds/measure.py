"""The kind `measure`: take one reading."""

from collections.abc import Iterator, Mapping
from typing import Literal

from benchapp.errors import BenchError
from benchapp.files.forms import Id
from benchapp.files.locations import Complaint, Key
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form
from benchapp.judgement.meters.functions import DEAD_METERS, OF_THE_MAINS, VOLTAGES, Function, kind_of
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.answering.readings import Manner, ReadingAnswer, reading_from, try_reading
from benchapp.sequences.checks.checked_kind import CheckedKind, reading_kind
from benchapp.sequences.checks.fit import Fit, no_terminal
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.checks.written_values import (
    check_accept,
    check_function,
    check_quantity,
    dead_meter,
    names_accepted,
)
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.field_types import FunctionName, Severity
from benchapp.sequences.language.steps import NamedFault, StepBase
from benchapp.sequences.language.vocabulary import Facts, Supply
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.live_voltage import PROVED_LOW, is_live_voltage
from benchapp.sequences.planning.paths import FROM_WIRING, Ends, Path, ends_of
from benchapp.sequences.planning.plan import SequenceProblem
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, SingleStep
from benchapp.sequences.planning.role_eligibility import BY_METER
from benchapp.sequences.planning.state import Evaluation
from benchapp.sequences.planning.terminals import TerminalProblem, terminal_of
from benchapp.wiring.expected.sound_current import sound_current
from benchapp.wiring.expected.stated import red_on_positive
from benchapp.wiring.model.circuit import Circuit, WiringProblem
from benchapp.words import say

JUDGED_ON_LIMITED = frozenset({Kind.current, Kind.power})
CURRENTS = frozenset({Function.ac_current, Function.dc_current})
PathWords = Literal[
    "",
    "earth to metal",
    "mains to metal",
    "mains to outputs",
    "outputs to metal",
    "live to what can be touched",
    "across outputs",
    "across reservoirs",
    "live to neutral past the switch",
]
AT_THE_SUPPLY = frozenset({"supply.L", "supply.N"})
ALONG = DEAD_METERS - {Function.capacitance}
LOW = 25.0
"""V: the extra-low limit of every region shipped; the plan asks the region itself"""


class MeasureStep(StepBase):
    """Take one reading."""

    measure: Id
    """the step's own id"""
    function: FunctionName
    """what the meter is set to"""
    accept: str = ""
    """9.8 V ± 5 %, at most 0.1 ohm, between 216 V and 253 V, limit insulation, from wiring; left out: not judged"""
    at: tuple[str, str] | None = None
    """terminals: "connector.pin", a point of the equipment, or supply.L, supply.N, supply.E, case, outputs"""
    path: PathWords = ""
    """instead of `at`: what is read to what; the design says between which terminals, and how often"""
    also: Literal["", "AC voltage", "DC voltage"] = ""
    """a second function of the same meter, read at the same place: the larger of the two counts"""
    fresh_for: str = ""
    """how long a mains reading serves the output readings after it: 10 min"""
    keep: Literal["steady", "highest", "lowest"] = "steady"
    """which of the readings taken is kept, where the cord is flexed or the supply moves"""
    waveform: Literal["", "sine", "square", "triangle"] = ""
    """the shape of what is measured, where its author knows it: an average-responding meter is put right by it"""
    stop_above: str = ""
    """off at once above this"""
    stop_words: str = ""
    """what to do then, in a sentence"""
    fault: NamedFault | None = None
    """what a reading outside the band says is broken"""
    grave: Severity = "mend"
    """what the fault asks for"""


class Measure(CheckedKind):
    """A reading with a meter, held against what its author accepts."""

    name = "measure"
    place = 4
    model = MeasureStep
    answer = ReadingAnswer
    content = ReadingContent
    by_hand = True
    on_tag = OnTag.test
    digest_keys = ("keep", "stop_above", "waveform", "fresh_for", "grave", "path", "also")
    shows = BY_METER

    def plan(self, circuit: Circuit, step: MeasureStep) -> Iterator[SingleStep]:
        if step.function not in set(Function):
            raise SequenceProblem(
                say("“{measure}”: no meter has a function “{function}”.", measure=step.measure, function=step.function)
            )
        if step.path:
            yield from _along(circuit, step)
            return
        terminals = tuple(terminal_of(circuit, word) for word in step.at or ())
        if step.function == Function.dc_voltage and len(terminals) == 2:
            terminals = red_on_positive(circuit, *terminals)
        yield SingleStep(
            circuit=circuit,
            say=_both(step),
            function=Function(step.function),
            terminals=terminals,
            accept=step.accept,
            fresh_for=step.fresh_for,
        )

    def evaluate(
        self, plan: Plan, state: AnsweringState, step: PlannedStep, given: ReadingAnswer, at: str
    ) -> Evaluation:
        assert isinstance(step.model, MeasureStep)
        how = Manner(keep=step.model.keep, stop_above=step.model.stop_above, stop_words=step.model.stop_words)
        return try_reading(plan, state, step, given, at, manner=how)

    def answer_from(self, content: ReadingContent) -> ReadingAnswer:
        return reading_from(content)

    def check(self, walk: Walk, key: Key, step: MeasureStep) -> Iterator[Complaint]:
        yield from check_function(walk, (*key, "function"), step.function)
        yield from _check_live(walk, key, step)
        kind = reading_kind(step)
        if kind is not None:
            yield from _check_values(walk, key, step, kind)

    def check_fit(self, fit: Fit, step: MeasureStep) -> Iterator[Complaint]:
        circuit = fit.design.circuit
        found = []
        for end, word in enumerate(step.at or ()):
            try:
                found.append(terminal_of(circuit, word))
            except TerminalProblem:
                yield no_terminal(fit, ("at", end), word)
        if len(found) == 2:
            yield from _check_pair(fit, step, found[0], found[1])
        if circuit.supply is None:
            yield from _check_dead_volts(fit, step)
        if step.accept == FROM_WIRING and step.function in CURRENTS:
            yield from _check_current(fit, step)

    def places(self, step: MeasureStep) -> Iterator[tuple[str, Key, str]]:
        yield from (("terminal", ("at", end), word) for end, word in enumerate(step.at or ()))

    def case_answer(self, step: MeasureStep, line: CaseLine, facts: Facts) -> ReadingAnswer:
        return ReadingAnswer(typed=line.reads, meter=line.meter)

    def reading_kind(self, step: MeasureStep) -> Kind:
        return kind_of(Function(step.function))

    def names_used(self, step: MeasureStep) -> Mapping[str, frozenset[str]]:
        return {"accept": names_accepted(step.accept)}


def _along(circuit: Circuit, step: MeasureStep) -> Iterator[SingleStep]:
    """A reading at every pair of terminals of the path; where there are several each has its own id."""
    pairs = ends_of(circuit, step.path)
    for ends in pairs:
        said = circuit.say(ends.a), circuit.say(ends.b)
        yield SingleStep(
            circuit=circuit,
            id=_own_id(ends, pairs) if len(pairs) > 1 else "",
            say=" ".join(filter(None, (ends.say or f"Here from {said[0]} to {said[1]}.", _both(step)))),
            function=Function(step.function),
            terminals=(ends.a, ends.b),
            accept=step.accept,
            at_fault=ends.part,
            inside=Path(step.path).is_inside,
        )


def _own_id(ends: Ends, pairs: tuple[Ends, ...]) -> str:
    """The far end, both where the near ones differ, and what it is read across where that has no terminals."""
    if ends.say:
        return ends.part
    return ends.b if len({one.a for one in pairs}) == 1 else f"{ends.a}-{ends.b.rpartition('.')[2]}"


def _both(step: MeasureStep) -> str:
    """What to say where two functions are read at one place."""
    return (
        say(
            "Read {function}, then {also} at the same place, and type the larger.",
            function=step.function,
            also=step.also,
        )
        if step.also
        else ""
    )


def _check_values(walk: Walk, key: Key, step: MeasureStep, kind: Kind) -> Iterator[Complaint]:
    yield from check_accept(walk, (*key, "accept"), step.accept, kind)
    if step.accept == FROM_WIRING and step.at is None and not step.path and kind is not Kind.current:
        yield walk.complain(key, "a band from the wiring needs its two terminals", "at: [terminal, terminal]")
    if step.fresh_for:
        yield from check_quantity(walk, (*key, "fresh for"), step.fresh_for, Kind.time)
    if step.stop_above:
        yield from check_quantity(walk, (*key, "stop above"), step.stop_above, kind)
    if step.waveform and not step.function.startswith(("AC ", "mains ")):
        what = f"“{step.function}” has no waveform"
        yield walk.complain((*key, "waveform"), what, "an AC voltage, a mains voltage or an AC current")
    if walk.sequence.supply is Supply.none and step.function in OF_THE_MAINS:
        what = f"“{step.function}” shows nothing without power, and this sequence has “supply: none”"
        yield walk.complain((*key, "function"), what, "supply: limited or full")
    if walk.sequence.supply is Supply.limited and step.accept and kind not in JUDGED_ON_LIMITED:
        what = f"{kind.with_article} is not judged on limited supply: the limiter takes its share of it"
        yield walk.complain((*key, "accept"), what, "a reading of current or power, or no accept")


def _check_live(walk: Walk, key: Key, step: MeasureStep) -> Iterator[Complaint]:
    """No file may bring mains, an ohmmeter and bare probes together; the interlock refuses all of it as well."""
    live = walk.sequence.supply is not Supply.none
    if live and step.function in DEAD_METERS:
        yield dead_meter(walk, (*key, "function"), step.function)
    if step.at is not None and step.function in VOLTAGES and AT_THE_SUPPLY & set(step.at):
        yield from _check_bare_probes(walk, key, step, live=live)
    if step.at is not None and step.at[0] == step.at[1]:
        what = f"both probes are on “{step.at[0]}”"
        yield walk.complain((*key, "at"), what, "two terminals that differ")
    yield from _check_path(walk, key, step)
    yield from _check_stop(walk, key, step)


def _check_path(walk: Walk, key: Key, step: MeasureStep) -> Iterator[Complaint]:
    if not step.path:
        return
    if step.at is not None:
        yield walk.complain((*key, "path"), "this step has “at” as well, and they may differ", "path or at")
    if step.function not in ALONG and step.accept != PROVED_LOW:
        expected = f"function: earth continuity, insulation or resistance, or accept: {PROVED_LOW}"
        yield walk.complain((*key, "path"), f"no “{step.function}” is read along a path", expected)


def _check_bare_probes(walk: Walk, key: Key, step: MeasureStep, *, live: bool) -> Iterator[Complaint]:
    if not live and step.accept == PROVED_LOW:
        return
    what = "this takes bare probes to the mains"
    expected = "function: mains voltage at a plug-in meter, without “at”"
    if not live:
        expected += f", or accept: {PROVED_LOW} on the way back"
    yield walk.complain((*key, "at"), what, expected)


def _check_stop(walk: Walk, key: Key, step: MeasureStep) -> Iterator[Complaint]:
    """A stop inside the band would fail readings that the band accepts."""
    if not step.stop_above or not step.accept:
        return
    try:
        accept = parse_accept(step.accept)
        stop = read_quantity(step.stop_above)
        kind = stop.unit.kind
        if accept.names or accept.form in (Form.limit, Form.wiring):
            return
        accept.check({}, kind)
        lower, upper, _ = accept.limits({}, kind)
    except BenchError:
        return  # said elsewhere, at its own place
    edge = lower if upper is None else upper
    if edge is not None and stop.si_exact < edge:
        yield walk.complain(
            (*key, "stop above"),
            f"“stop above: {step.stop_above}” lies inside what is accepted ({step.accept})",
            f"{show(float(edge), kind)} or more",
        )


def _check_pair(fit: Fit, step: MeasureStep, a: str, b: str) -> Iterator[Complaint]:
    circuit, written = fit.design.circuit, step.at or ("", "")
    if a == b and written[0] != written[1]:
        what = f"“{written[0]}” and “{written[1]}” are one terminal of {circuit.equipment}"
        yield fit.complain(("at",), what, "two terminals that differ")
    supply = circuit.supply
    bare = supply is not None and {supply.live, supply.neutral} & {a, b} and step.function in VOLTAGES
    if bare and not any(word.startswith("supply.") for word in written) and step.accept != PROVED_LOW:
        what = f"this takes bare probes to the mains of {circuit.equipment}"
        yield fit.complain(("at",), what, "function: mains voltage at a plug-in meter, without “at”")


def _check_dead_volts(fit: Fit, step: MeasureStep) -> Iterator[Complaint]:
    """Volts are read on a live unit, and what takes no mains never is one."""
    function = Function(step.function)
    if is_live_voltage(function, step.accept, mains_fed=False, extra_low=LOW):
        what = f"{fit.design.circuit.equipment} takes no mains, and {function} is read on a live unit"
        yield fit.complain(("function",), what, f"a design with its supply, or DC of at most {LOW:g} V")


def _check_current(fit: Fit, step: MeasureStep) -> Iterator[Complaint]:
    circuit = fit.design.circuit
    if circuit.supply is None:
        return  # said elsewhere: it takes no mains
    try:
        most = sound_current(circuit, circuit.supply.ends[0]).high
    except WiringProblem as problem:
        found = problem.problems[0]
        yield fit.lacking(found.key, ("accept",), found.what, found.expected)
        return
    try:
        stop = read_quantity(step.stop_above).si if step.stop_above else None
    except BenchError:
        return  # said elsewhere, at its own place
    if stop is not None and stop < most:
        what = f"“stop above: {step.stop_above}” lies inside what {circuit.equipment} may draw"
        yield fit.complain(("stop above",), what, f"{show(most, Kind.current)} or more")
