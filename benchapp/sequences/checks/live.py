"""Would a sequence bring mains, an ohmmeter and bare probes together? What no file may ask for.

The interlock refuses all of it at the bench as well; an author hears of it at the context.
"""

from collections.abc import Iterator

from benchapp.errors import BenchError
from benchapp.files.locations import Complaint, Key
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form
from benchapp.judgement.meters.functions import VOLTAGES, Function
from benchapp.quantities.display import show
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.language.models import MeasureStep, ProbeStep, SequenceFile, Step
from benchapp.sequences.language.vocabulary import Supply

DEAD_METERS = frozenset(
    {
        Function.resistance,
        Function.continuity,
        Function.earth_continuity,
        Function.insulation,
        Function.capacitance,
    }
)
"""Functions by which the meter itself feeds the circuit: mains would destroy it and hurt who holds it."""
AT_THE_SUPPLY = frozenset({"supply.L", "supply.N"})
PROVED_LOW = "limit voltage-low"


def check_header(walk: Walk) -> Iterator[Complaint]:
    """A sequence that can hurt has a caution, which is read and acknowledged before its first step."""
    sequence = walk.sequence
    if sequence.cautions:
        return
    if sequence.supply is not Supply.none:
        what = f"this sequence works on {sequence.supply} supply and names no caution"
        yield walk.complain(("supply",), what, "cautions: [mains-live]")
    elif _tests_insulation(sequence):
        what = "this sequence tests insulation with some hundred volts and names no caution"
        yield walk.complain(("steps",), what, "cautions: [insulation-test]")


def _tests_insulation(sequence: SequenceFile) -> bool:
    return any(isinstance(step, MeasureStep) and step.function == Function.insulation for step in sequence.steps)


def check_live(walk: Walk, key: Key, step: Step) -> Iterator[Complaint]:
    """Complaints about one step of a sequence, which stands under `key`."""
    if isinstance(step, ProbeStep):
        yield from _check_probe(walk, key, step)
    if not isinstance(step, MeasureStep):
        return
    live = walk.sequence.supply is not Supply.none
    if live and step.function in DEAD_METERS:
        yield _dead_meter(walk, (*key, "function"), step.function)
    if step.at is not None and step.function in VOLTAGES and AT_THE_SUPPLY & set(step.at):
        yield from _check_bare_probes(walk, key, step, live=live)
    if step.at is not None and step.at[0] == step.at[1]:
        what = f"both probes are on “{step.at[0]}”"
        yield walk.complain((*key, "at"), what, "two terminals that differ")
    yield from _check_stop(walk, key, step)


def _check_probe(walk: Walk, key: Key, step: ProbeStep) -> Iterator[Complaint]:
    if walk.sequence.supply is Supply.none:
        return
    for number, word in enumerate(step.what):
        if word != "voltage":
            what = f"“{word}” is probed with an ohmmeter, and this sequence has mains on"
            yield walk.complain((*key, "what", number), what, "supply: none, or what: [voltage]")
    if step.function in DEAD_METERS:
        yield _dead_meter(walk, (*key, "function"), step.function)


def _dead_meter(walk: Walk, key: Key, function: str) -> Complaint:
    what = f"“{function}” is measured without power, and this sequence has “supply: {walk.sequence.supply}”"
    return walk.complain(key, what, "a sequence of its own with supply: none")


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
