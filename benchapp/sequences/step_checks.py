"""Does each step of a sequence make sense: functions, limits, dimensions, roles, names of facts and earlier steps?

Everything that can be known without a unit at hand is asked here, when the file is read, never when a technician holds
the probes.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from benchapp.errors import BenchError
from benchapp.files import Complaint, Document, Key, nearest
from benchapp.judgement import AcceptProblem, Function, kind_of, limit_names, parse_accept
from benchapp.judgement.acceptance import Form
from benchapp.quantities import FormulaProblem, Kind, parse_formula, read_quantity, unit_named
from benchapp.sequences.bands import FROM_FUSE_RULES
from benchapp.sequences.knowns import EQUIPMENT_KINDS
from benchapp.sequences.language import (
    AskStep,
    ComputeStep,
    InspectStep,
    MeasureStep,
    ProbeStep,
    SequenceFile,
    Step,
    WaitStep,
    id_of,
)
from benchapp.sequences.language import kind_of as kind_of_step
from benchapp.sequences.plan import OF_THE_MAINS
from benchapp.sequences.planned import Supply
from benchapp.sequences.qualifying import why_not

JUDGED_ON_LIMITED = frozenset({Kind.current, Kind.power})


@dataclass(slots=True, kw_only=True)
class Known:
    """What a step may name: facts of units, readings of all sequences by "sequence.step"."""

    facts: frozenset[str]
    readings: Mapping[str, Kind]


@dataclass(slots=True, kw_only=True)
class Walk:
    """One sequence on its way from the first step to the last."""

    sequence: SequenceFile
    document: Document
    known: Known
    seen: dict[str, Kind | None] = field(default_factory=dict)
    """steps so far, with the kind of their reading"""

    def complain(self, key: Key, what: str, expected: str = "", near: str | None = None, at: int = 0) -> Complaint:
        """A complaint at that place of the file; `at` counts characters inside the value."""
        place = self.document.place(key)
        if at and key in self.document.words:
            place = place.moved(at)
        return Complaint(place=place, what=what, expected=expected, nearest=near or "")


def check_steps(sequence: SequenceFile, document: Document, known: Known) -> Iterator[Complaint]:
    """Every complaint about the steps of one sequence."""
    walk = Walk(sequence=sequence, document=document, known=known)
    for name in sequence.fits:
        yield from _check_name(walk, ("fits", name), name)
    for number, step in enumerate(sequence.steps):
        key: Key = ("steps", number)
        if id_of(step) in walk.seen:
            where = (*key, kind_of_step(step).value)
            yield walk.complain(where, f"there is a step “{id_of(step)}” already", "an id of its own")
        yield from _check_step(walk, key, step)
        walk.seen[id_of(step)] = reading_kind(step)


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


def _check_step(walk: Walk, key: Key, step: Step) -> Iterator[Complaint]:
    for name in step.when:
        yield from _check_name(walk, (*key, "when", name), name)
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


def _check_name(walk: Walk, key: Key, name: str) -> Iterator[Complaint]:
    if name not in walk.known.facts and name not in walk.seen:
        names = sorted({*walk.known.facts, *walk.seen})
        yield walk.complain(key, f"there is no fact and no earlier step “{name}”", near=nearest(name, names))


def _check_function(walk: Walk, key: Key, function: str) -> Iterator[Complaint]:
    names = [one.value for one in Function]
    if function and function not in names:
        yield walk.complain(key, f"no meter has a function “{function}”", ", ".join(names), nearest(function, names))


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


def _check_accept(walk: Walk, key: Key, text: str, kind: Kind) -> Iterator[Complaint]:
    if not text or text == FROM_FUSE_RULES:
        return
    try:
        accept = parse_accept(text)
        if accept.form is Form.limit and accept.limit_name not in limit_names():
            names = limit_names()
            yield walk.complain(key, f"there is no limit “{accept.limit_name}”", ", ".join(names), nearest(text, names))
        elif accept.form is not Form.wiring:
            missing = list(_check_formula_names(walk, key, accept.names))
            yield from missing
            if not missing:
                accept.check(_kinds(walk), kind)
    except (AcceptProblem, FormulaProblem) as problem:
        yield walk.complain(key, problem.sentence, at=problem.position)


def _kinds(walk: Walk) -> dict[str, Kind]:
    seen = {name: kind for name, kind in walk.seen.items() if kind is not None}
    return {**EQUIPMENT_KINDS, **walk.known.readings, **seen}


def _check_formula_names(walk: Walk, key: Key, names: frozenset[str]) -> Iterator[Complaint]:
    known = _kinds(walk)
    for name in sorted(names - known.keys()):
        what = f"no earlier step and no equipment data is called “{name}”"
        yield walk.complain(key, what, near=nearest(name, known))


def _check_ask(walk: Walk, key: Key, step: AskStep) -> Iterator[Complaint]:
    if bool(step.answers) is bool(step.value):
        yield walk.complain(key, "an ask step has either answers or the unit of a value to type", "answers or value")
    if not step.value:
        return
    try:
        kind = unit_named(step.value).kind
    except BenchError as problem:
        yield walk.complain((*key, "value"), problem.sentence)
        return
    yield from _check_accept(walk, (*key, "accept"), step.accept, kind)


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
    try:
        dimension = formula.check(_kinds(walk))
    except FormulaProblem as problem:
        yield walk.complain((*key, "value"), problem.sentence, at=problem.position)
        return
    if dimension != kind.dimension:
        yield walk.complain((*key, "value"), f"this is {dimension}; its unit is one of {kind.with_article}")
    yield from _check_accept(walk, (*key, "accept"), step.accept, kind)


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
        for name in point.when:
            yield from _check_name(walk, (*here, "when", name), name)
