"""Does each step of a sequence make sense: functions, limits, dimensions, roles, names of facts and earlier steps?

Everything that can be known without a unit at hand is asked here, when the file is read, never when a technician holds
the probes.
"""

from collections.abc import Iterator

from benchapp.errors import BenchError
from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form
from benchapp.judgement.limits.bands import limit_names
from benchapp.judgement.meters.functions import OF_THE_MAINS, Function, kind_of
from benchapp.judgement.statements.problems import AcceptProblem
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.quantities.formula import parse_formula
from benchapp.quantities.problems import FormulaProblem
from benchapp.quantities.units import unit_named
from benchapp.sequences.answering.bands import FROM_FUSE_RULES
from benchapp.sequences.answering.formula_variables import EQUIPMENT_KINDS
from benchapp.sequences.checks.facts import check_wanted
from benchapp.sequences.checks.live import check_header, check_live
from benchapp.sequences.checks.sequence_context import CheckContext, Walk
from benchapp.sequences.checks.set_up import check_set_up
from benchapp.sequences.language.models import (
    AskStep,
    ComputeStep,
    InspectStep,
    MeasureStep,
    NamedFault,
    ProbeStep,
    SequenceFile,
    Step,
    WaitStep,
    id_of,
)
from benchapp.sequences.language.models import kind_of as kind_of_step
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.role_eligibility import why_not

JUDGED_ON_LIMITED = frozenset({Kind.current, Kind.power})


def check_steps(sequence: SequenceFile, document: Document, known: CheckContext) -> Iterator[Complaint]:
    """Every complaint about the steps of one sequence."""
    walk = Walk(sequence=sequence, document=document, known=known)
    yield from check_header(walk)
    yield from check_wanted(walk, ("fits",), sequence.fits)
    for number, step in enumerate(sequence.steps):
        key: Key = ("steps", number)
        if id_of(step) in walk.seen:
            where = (*key, kind_of_step(step).value)
            yield walk.complain(where, f"there is a step “{id_of(step)}” already", "an id of its own")
        yield from _check_step(walk, key, step)
        walk.seen[id_of(step)] = reading_kind(step)
        walk.done[id_of(step)] = step


def reading_kind(step: Step) -> Kind | None:
    """The kind of the reading that a step leaves behind; None when it leaves none or its function is unknown."""
    try:
        if isinstance(step, MeasureStep):
            return kind_of(Function(step.function))
        if isinstance(step, ComputeStep):
            return unit_named(step.unit).kind
        if isinstance(step, AskStep) and step.value:
            return unit_named(step.value).kind
    except (BenchError, ValueError):
        return None
    return None


def readings_named(sequence: SequenceFile) -> Iterator[tuple[Key, str]]:
    """Every value that a formula of the sequence names, with the key of the formula; none of a formula in error."""
    for number, step in enumerate(sequence.steps):
        for field in ("accept", "value"):
            text = getattr(step, field, "")
            if not text or (field == "value" and not isinstance(step, ComputeStep)) or text == FROM_FUSE_RULES:
                continue
            try:
                names = parse_formula(text).names if field == "value" else parse_accept(text).names
            except (AcceptProblem, FormulaProblem):
                continue
            yield from ((("steps", number, field), name) for name in sorted(names))


def _check_step(walk: Walk, key: Key, step: Step) -> Iterator[Complaint]:
    yield from check_wanted(walk, (*key, "when"), step.when)
    yield from check_set_up(walk, (*key, "set up"), step)
    yield from check_live(walk, key, step)
    yield from _check_fault(walk, key, getattr(step, "fault", None))
    for number, role in enumerate(step.shows):
        reason = why_not(walk.sequence, step, role)
        if reason:
            yield walk.complain((*key, "shows", number), f"this step cannot show “{role}”: {reason}")
    if isinstance(step, MeasureStep):
        yield from _check_measure(walk, key, step)
    elif isinstance(step, ProbeStep):
        yield from _check_function(walk, (*key, "function"), step.function)
    elif isinstance(step, AskStep):
        yield from _check_ask(walk, key, step)
    elif isinstance(step, ComputeStep):
        yield from _check_compute(walk, key, step)
    elif isinstance(step, WaitStep):
        yield from _check_quantity(walk, (*key, "time"), step.time, Kind.time)
    elif isinstance(step, InspectStep):
        yield from _check_points(walk, key, step)


def _check_fault(walk: Walk, key: Key, fault: NamedFault | None) -> Iterator[Complaint]:
    """A fault names a part that a repair can be done on, and that the record counts."""
    if fault is not None and fault.part not in walk.known.parts:
        what = f"no circuit has a part “{fault.part}”, and it is none that every item may have"
        yield walk.unknown((*key, "fault", "part"), what, fault.part, walk.known.parts)


def _check_function(walk: Walk, key: Key, function: str) -> Iterator[Complaint]:
    names = [one.value for one in Function]
    if function and function not in names:
        what = f"no meter has a function “{function}”"
        near = nearest(function, names)
        yield walk.complain(key, what, "" if near else "one of " + ", ".join(names), near)


def _check_measure(walk: Walk, key: Key, step: MeasureStep) -> Iterator[Complaint]:
    yield from _check_function(walk, (*key, "function"), step.function)
    kind = reading_kind(step)
    if kind is None:
        return
    yield from _check_accept(walk, (*key, "accept"), step.accept, kind)
    if step.accept == "from wiring" and step.at is None and kind is not Kind.current:
        yield walk.complain(key, "a band from the wiring needs its two terminals", "at: [terminal, terminal]")
    if step.fresh_for:
        yield from _check_quantity(walk, (*key, "fresh for"), step.fresh_for, Kind.time)
    if step.stop_above:
        yield from _check_quantity(walk, (*key, "stop above"), step.stop_above, kind)
    if step.waveform and not step.function.startswith(("AC ", "mains ")):
        what = f"“{step.function}” has no waveform"
        yield walk.complain((*key, "waveform"), what, "an AC voltage, a mains voltage or an AC current")
    if walk.sequence.supply is Supply.none and step.function in OF_THE_MAINS:
        what = f"“{step.function}” shows nothing without power, and this sequence has “supply: none”"
        yield walk.complain((*key, "function"), what, "supply: limited or full")
    if walk.sequence.supply is Supply.limited and step.accept and kind not in JUDGED_ON_LIMITED:
        what = f"{kind.with_article} is not judged on limited supply: the limiter takes its share of it"
        yield walk.complain((*key, "accept"), what, "a reading of current or power, or no accept")


def _check_accept(walk: Walk, key: Key, text: str, kind: Kind, unit: str = "") -> Iterator[Complaint]:
    if not text or text == FROM_FUSE_RULES:
        return
    try:
        accept = parse_accept(text)
        if accept.form is Form.limit and accept.limit_name not in limit_names():
            yield walk.unknown(key, f"there is no limit “{accept.limit_name}”", accept.limit_name, limit_names())
        elif accept.form is not Form.wiring:
            missing = list(_check_formula_names(walk, key, accept.names))
            yield from missing
            if not missing:
                accept.check(_kinds(walk), kind, unit)
    except (AcceptProblem, FormulaProblem) as problem:
        yield walk.complain(key, problem.sentence, at=problem.position)


def _kinds(walk: Walk) -> dict[str, Kind]:
    seen = {name: kind for name, kind in walk.seen.items() if kind is not None}
    own = f"{walk.sequence.sequence}."
    elsewhere = {name: kind for name, kind in walk.known.readings.items() if not name.startswith(own)}
    return {**EQUIPMENT_KINDS, **elsewhere, **seen, **{f"{own}{name}": kind for name, kind in seen.items()}}


def _check_formula_names(walk: Walk, key: Key, names: frozenset[str]) -> Iterator[Complaint]:
    known = _kinds(walk)
    for name in sorted(names - known.keys()):
        later = walk.later(name)
        what = later or f"no earlier step and no equipment data is called “{name}”"
        yield walk.complain(key, what, "a step above" if later else "", None if later else nearest(name, known))


def _check_ask(walk: Walk, key: Key, step: AskStep) -> Iterator[Complaint]:
    if bool(step.answers) is bool(step.value):
        yield walk.complain(key, "an ask step has either answers or the unit of a value to type", "answers or value")
    for number, answer in enumerate(step.answers):
        yield from _check_fault(walk, (*key, "answers", number), answer.fault)
    if not step.value:
        return
    try:
        kind = unit_named(step.value).kind
    except BenchError as problem:
        yield walk.complain((*key, "value"), problem.sentence)
        return
    yield from _check_accept(walk, (*key, "accept"), step.accept, kind, step.value)


def _check_compute(walk: Walk, key: Key, step: ComputeStep) -> Iterator[Complaint]:
    try:
        kind = unit_named(step.unit).kind
        formula = parse_formula(step.value)
    except FormulaProblem as problem:
        yield walk.complain((*key, "value"), problem.sentence, at=problem.position)
        return
    except BenchError as problem:
        yield walk.complain((*key, "unit"), problem.sentence)
        return
    missing = list(_check_formula_names(walk, (*key, "value"), formula.names))
    yield from missing
    if missing:
        return
    if formula.is_comparison:
        what = "this comes to true or false, not to a value"
        yield walk.complain((*key, "value"), what, "the value alone, and what it is compared with under accept")
        return
    try:
        dimension = formula.check(_kinds(walk))
    except FormulaProblem as problem:
        yield walk.complain((*key, "value"), problem.sentence, at=problem.position)
        return
    if dimension != kind.dimension:
        what = f"this comes to {dimension}, not to {kind.with_article} as its unit {step.unit} says"
        yield walk.complain((*key, "value"), what)
    elif step.unit == "%" and formula.factor_of_100 is not None:
        what = "the unit % counts hundredths already: × 100 would make 3 % into 300 %"
        yield walk.complain((*key, "value"), what, "the share without × 100", at=formula.factor_of_100)
    yield from _check_accept(walk, (*key, "accept"), step.accept, kind, step.unit)


def _check_quantity(walk: Walk, key: Key, text: str, kind: Kind) -> Iterator[Complaint]:
    try:
        read_quantity(text, kind=kind)
    except BenchError as problem:
        yield walk.complain(key, problem.sentence)


def _check_points(walk: Walk, key: Key, step: InspectStep) -> Iterator[Complaint]:
    seen: set[str] = set()
    for number, point in enumerate(step.checkpoints):
        here = (*key, "checkpoints", number)
        if point.check in seen:
            yield walk.complain((*here, "check"), f"there is a checkpoint “{point.check}” already", "an id of its own")
        seen.add(point.check)
        yield from check_wanted(walk, (*here, "when"), point.when)
        yield from _check_fault(walk, here, point.fault)
