"""What several kinds of step write: faults, meter functions, accepted bands, names in formulas, quantities."""

from collections.abc import Iterator

from benchapp.errors import BenchError
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form
from benchapp.judgement.limits.bands import limit_names
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.statements.problems import AcceptProblem
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.quantities.problems import FormulaProblem
from benchapp.sequences.answering.bands import OF_OUR_OWN
from benchapp.sequences.answering.formula_variables import EQUIPMENT_KINDS
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.language.steps import NamedFault
from benchapp.sequences.planning.paths import FROM_WIRING


def check_fault(walk: Walk, key: Key, fault: NamedFault | None, *, planned: bool = False) -> Iterator[Complaint]:
    """A fault names a part that a repair can be done on, and that the record counts; the wiring may name it."""
    if fault is None or (planned and fault.part == FROM_WIRING):
        return
    if fault.part not in walk.known.parts:
        what = f"no circuit has a part “{fault.part}”, and it is none that every item may have"
        yield walk.unknown((*key, "fault", "part"), what, fault.part, walk.known.parts)


def check_function(walk: Walk, key: Key, function: str) -> Iterator[Complaint]:
    """The meter function is one that a meter can have."""
    names = [one.value for one in Function]
    if function and function not in names:
        what = f"no meter has a function “{function}”"
        near = nearest(function, names)
        yield walk.complain(key, what, "" if near else "one of " + ", ".join(names), near)


def dead_meter(walk: Walk, key: Key, function: str) -> Complaint:
    """The complaint about a meter that feeds the circuit, in a sequence with mains on."""
    what = f"“{function}” is measured without power, and this sequence has “supply: {walk.sequence.supply}”"
    return walk.complain(key, what, "a sequence of its own with supply: none")


def check_accept(walk: Walk, key: Key, text: str, kind: Kind, unit: str = "") -> Iterator[Complaint]:
    """What is accepted can be read, names what is known, and comes to the kind of value that is read."""
    if not text or text in OF_OUR_OWN:
        return
    try:
        accept = parse_accept(text)
        if accept.form is Form.limit and accept.limit_name not in limit_names():
            yield walk.unknown(key, f"there is no limit “{accept.limit_name}”", accept.limit_name, limit_names())
        elif accept.form is not Form.wiring:
            missing = list(check_formula_names(walk, key, accept.names))
            yield from missing
            if not missing:
                accept.check(kinds_known(walk), kind, unit)
    except (AcceptProblem, FormulaProblem) as problem:
        yield walk.complain(key, problem.sentence, at=problem.position)


def kinds_known(walk: Walk) -> dict[str, Kind]:
    """The kind of every value that a formula may name at this step."""
    seen = {name: kind for name, kind in walk.seen.items() if kind is not None}
    own = f"{walk.sequence.sequence}."
    elsewhere = {name: kind for name, kind in walk.known.readings.items() if not name.startswith(own)}
    return {**EQUIPMENT_KINDS, **elsewhere, **seen, **{f"{own}{name}": kind for name, kind in seen.items()}}


def check_formula_names(walk: Walk, key: Key, names: frozenset[str]) -> Iterator[Complaint]:
    """Every name of a formula is known at this step."""
    known = kinds_known(walk)
    for name in sorted(names - known.keys()):
        later = walk.later(name)
        what = later or f"no earlier step and no equipment data is called “{name}”"
        yield walk.complain(key, what, "a step above" if later else "", None if later else nearest(name, known))


def check_quantity(walk: Walk, key: Key, text: str, kind: Kind) -> Iterator[Complaint]:
    """The text is a quantity of that kind."""
    try:
        read_quantity(text, kind=kind)
    except BenchError as problem:
        yield walk.complain(key, problem.sentence)


def names_accepted(text: str) -> frozenset[str]:
    """The values that an accepted band names; none of one in error."""
    try:
        return frozenset() if not text or text in OF_OUR_OWN else frozenset(parse_accept(text).names)
    except (AcceptProblem, FormulaProblem):
        return frozenset()
