"""Complaints about facts and answers that can never have the values that a file gives them.

`when` and `fits` compare with a fact of the unit or with the answer of an earlier `ask` step; a worked case states
facts of its unit. A value that nothing can ever have would skip a step for good, so it is a mistake.
"""

from collections.abc import Iterator, Mapping

from benchapp.errors import BenchError
from benchapp.files.locations import Complaint, Key
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.checks.sequence_context import SequenceContext
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.language.worked_cases import WorkedCase
from benchapp.sequences.planning.catalogue import Catalogue
from benchapp.sequences.planning.fact_rules import CLASSES, PLUGS
from benchapp.sequences.planning.facts import MEASURED, TEMPERATURES, WHOLE, YES_NO, fact_value
from benchapp.wiring.assembly.unit import SELECTOR
from benchapp.wiring.kinds.switch import SwitchPart
from benchapp.wiring.model.kind_of_load import KindOfLoad

NUMBER: frozenset[str] = frozenset()
"""The values of a fact that is a number."""
TRUTH = frozenset({"true", "false"})
_TRUTHS = {"yes": "true", "no": "false"}


def facts_known(catalogue: Catalogue) -> dict[str, frozenset[str] | None]:
    """Facts that the program knows, and those that any ask step settles, with the values that they can have."""
    known: dict[str, frozenset[str] | None] = {
        "class": frozenset({*CLASSES, "none"}),
        "plug": frozenset(PLUGS),
        "kind of load": frozenset(KindOfLoad),
        "design": frozenset(catalogue.equipment),
        SELECTOR: _selector_positions(catalogue) or None,
        **dict.fromkeys((*MEASURED, *TEMPERATURES, *WHOLE), NUMBER),
        **dict.fromkeys(YES_NO, TRUTH),
    }
    for equipment in catalogue.equipment.values():
        for name in equipment.facts().keys() - known.keys():
            known[name] = None
    for sequence in catalogue.sequences.values():
        for step in sequence.steps:
            kind = CheckedKind.of(step)
            if fact := kind.settles(step):
                values = _plain_values(kind.fact_values(step))
                if values is not None or known.get(fact) != NUMBER:  # a value that is asked for stays a number
                    known[fact] = _joined(known.get(fact, frozenset()), values)
    return known


def _selector_positions(catalogue: Catalogue) -> frozenset[str]:
    parts = (part for equipment in catalogue.equipment.values() for part in equipment.circuit)
    return frozenset(at for part in parts if isinstance(part, SwitchPart) and part.selector for at in part.positions)


def _plain_values(values: frozenset[FactValue] | None) -> frozenset[str] | None:
    return None if values is None else frozenset(map(_plain, values))


def _joined(one: frozenset[str] | None, other: frozenset[str] | None) -> frozenset[str] | None:
    return None if one is None or other is None else one | other


def check_wanted(context: SequenceContext, key: Key, when: Mapping[str, tuple[FactValue, ...]]) -> Iterator[Complaint]:
    """Complaints about the names and values of a `when` or `fits`, which stands under `key`."""
    for name, wanted in when.items():
        if name not in context.known.facts and name not in context.seen:
            yield _unknown_name(context, (*key, name), name)
            continue
        kind = CheckedKind.of(context.done[name]) if name in context.seen else None
        if kind is not None and name not in context.known.facts and not kind.gives_answer:
            what = f"“{name}” is a step to {kind.name}: it gives no answer to compare with"
            yield context.complain((*key, name), what, "an ask step, or a fact of the unit")
            continue
        yield from _check_values(context, (*key, name), name, wanted)


def _unknown_name(context: SequenceContext, key: Key, name: str) -> Complaint:
    later = context.later(name)
    if later:
        return context.complain(key, later, "a step above, or a fact of the unit")
    return context.unknown(
        key, f"there is no fact and no earlier step “{name}”", name, {*context.known.facts, *context.seen}
    )


def _check_values(context: SequenceContext, key: Key, name: str, wanted: tuple[FactValue, ...]) -> Iterator[Complaint]:
    can_be = _can_be(context, name)
    for number, value in enumerate(wanted):
        at: Key = (*key, number) if (*key, number) in context.document.locations else key
        if can_be == NUMBER:
            if isinstance(value, bool) or not _is_number(value):
                yield context.complain(at, f"“{_plain(value)}” is no {name}", "a number in SI units, without a unit")
        elif can_be is not None and _plain(value).casefold() not in {one.casefold() for one in can_be}:
            yield _never(context, at, name, value, can_be)


def _never(context: SequenceContext, key: Key, name: str, value: FactValue, can_be: frozenset[str]) -> Complaint:
    shown = value if isinstance(value, str) else _plain(value)
    if can_be == TRUTH:
        return context.complain(key, f"“{name}” is never “{shown}”", "true or false")
    return context.unknown(key, f"“{name}” is never “{shown}”", shown, can_be)


def _can_be(context: SequenceContext, name: str) -> frozenset[str] | None:
    """The values that a name can have at this step: as a fact, as an answer, or as both."""
    values: frozenset[str] | None = NUMBER
    step = context.done.get(name)
    if name in context.known.facts:
        values = context.known.facts[name]
    if step is not None and CheckedKind.of(step).gives_answer:
        answers = CheckedKind.of(step).answers(step)
        values = _joined(values, answers) if name in context.known.facts else answers
    return values


def check_case_facts(context: SequenceContext, key: Key, case: WorkedCase) -> Iterator[Complaint]:
    """Complaints about the facts of a worked case, which stands under `key`."""
    for name, value in case.facts.items():
        at: Key = (*key, "facts", name)
        if name not in context.known.facts:
            yield context.unknown(at, f"there is no fact “{name}”", name, context.known.facts)
            continue
        can_be = context.known.facts[name]
        if can_be and _plain(value).casefold() not in {one.casefold() for one in can_be}:
            yield _never(context, at, name, value, can_be)
            continue
        try:
            fact_value(name, value)
        except BenchError as problem:
            yield context.complain(at, problem.sentence.rstrip("."))


def _plain(value: FactValue) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:g}"
    return _TRUTHS.get(str(value), str(value))


def _is_number(value: FactValue) -> bool:
    try:
        float(value)
    except ValueError:
        return False
    return True
