"""Turns what pydantic found into complaints in plain words, each at its place in the file.

pydantic's location of an error mixes keys of the file with labels of union members; only what leads somewhere in the
data is kept. When a value fits no member of a union, the member that came nearest is the one complained about.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, get_args

from pydantic_core.core_schema import ErrorType

from benchapp.files.commas import cut_complaint, cut_value
from benchapp.files.document import Document
from benchapp.files.kinds import KINDS
from benchapp.files.locations import MOST_COMPLAINTS, Complaint, Key, Location, Mistake
from benchapp.files.schema_names import Schema, entries_needed, known_names
from benchapp.files.spelling import nearest
from benchapp.files.wording import entries, expected_of, shown

PYDANTIC_KINDS = frozenset(get_args(ErrorType))
"""Kinds of error whose words are pydantic's; any other kind was raised by one of our models, in words for people."""
LISTS = ("list_type", "tuple_type")
_MOST_NAMES = 14
"""Names listed as expected before the list would hide the line (own choice)."""
_MANY_NAMES = "a key that benchapp check --schema prints for this kind of file"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Problem:
    kind: str
    key: Key
    turns: tuple[tuple[Key, str], ...]
    """Labels of union members on the way, each with the key at which it was chosen."""
    value: Any
    context: dict[str, Any]
    message: str


def explain(errors: Sequence[Any], *, schema: Schema, document: Document, key: Key) -> list[Complaint]:
    """Complaints for the errors of one validation of the part of the document under `key`."""
    found = [_problem(error, document.data, key) for error in errors]
    every = _nearest_members([problem for problem in found if not _counts_only_the_good(problem)])
    problems = every[:MOST_COMPLAINTS]
    complaints: dict[Complaint, None] = {}
    corrected: set[Key] = set()
    for problem in problems:
        if problem.kind != "extra_forbidden":
            continue
        cut = cut_value(document, problem.key)
        if cut is None:
            complaint = _unknown_key(problem, schema, document, key)
            corrected.add((*problem.key[:-1], complaint.nearest))
            complaints[complaint] = None
        elif cut not in corrected:
            complaints[cut_complaint(document, problem.key, cut)] = None
            corrected.add(cut)
    for problem in problems:
        if problem.kind == "missing" and problem.key not in corrected:
            complaints[_missing_key(problem, document, _entries(problem, schema, len(key)))] = None
        elif problem.kind not in ("missing", "extra_forbidden") and problem.key not in corrected:
            complaints[_wrong_value(problem, document, _entries(problem, schema, len(key)))] = None
    if len(every) > len(problems):
        complaints[_too_many(every[len(problems) :], document)] = None
    return list(complaints)


def _too_many(more: Sequence[_Problem], document: Document) -> Complaint:
    what = f"{len(more)} more things are wrong from here on; mend the others first"
    return document.complaint(more[0].key, what)


def _counts_only_the_good(problem: _Problem) -> bool:
    """A list is told that it is too short when its entries are wrong: they have complaints of their own."""
    return problem.kind == "too_short" and len(problem.value) >= problem.context.get("min_length", 0)


def _problem(error: Any, data: Any, start: Key) -> _Problem:  # noqa: ANN401 - pydantic's error, a file's data
    for part in start:
        data = data[part]
    location, missing = tuple(error["loc"]), error["type"] == "missing"
    way = _plainest_way(location, data, missing=missing)
    if way[2] is not error["input"] and location[-1:] != OF_THE_KEY:
        others = _ways(location, data, missing=missing)
        way = next((other for other in others if other[2] is error["input"]), way)
    key, turns, _ = way
    return _Problem(
        kind=error["type"],
        key=(*start, *key),
        turns=tuple(((*start, *at), label) for at, label in turns),
        value=error["input"],
        context=error.get("ctx", {}),
        message=error["msg"],
    )


OF_THE_KEY = ("[key]",)
"""how pydantic says that a key itself is wrong: what stands there is then another thing than its input"""
_Way = tuple[Key, tuple[tuple[Key, str], ...], Any]


def _plainest_way(location: tuple[str | int, ...], data: Any, *, missing: bool) -> _Way:  # noqa: ANN401 - a file's data
    """The first of `_ways`, without looking at the others: each part is a key where it can be."""
    key: list[str | int] = []
    turns: list[tuple[Key, str]] = []
    for number, part in enumerate(location, start=1):
        if missing and number == len(location):
            key.append(part)
        elif _leads_on(data, part):
            data = data[part]
            key.append(part)
        else:
            turns.append((tuple(key), str(part)))
    return tuple(key), tuple(turns), data


def _leads_on(data: Any, part: str | int) -> bool:  # noqa: ANN401 - a file's data
    if isinstance(data, dict):
        return part in data
    return isinstance(data, list) and isinstance(part, int) and part < len(data)


def _ways(location: tuple[str | int, ...], data: Any, *, missing: bool) -> Iterator[_Way]:  # noqa: ANN401 - a file's data
    """How a location of pydantic's can be read: the key it leads to, the labels on the way, and what stands there.

    A label may be spelt like a key beside it, so one location can be read in several ways; that in which most parts are
    keys comes first. Where a key is missing, what stands there is the group that lacks it.
    """
    if not location:
        yield (), (), data
        return
    part, rest = location[0], location[1:]
    if missing and not rest:
        yield (part,), (), data
        return
    if _leads_on(data, part):
        for key, turns, value in _ways(rest, data[part], missing=missing):
            yield (part, *key), tuple(((part, *at), label) for at, label in turns), value
    for key, turns, value in _ways(rest, data, missing=missing):
        yield key, (((), str(part)), *turns), value


def _nearest_members(problems: list[_Problem], depth: int = 0) -> list[_Problem]:
    """Where several members of a union were tried, only the problems of the member that has fewest."""
    if all(len(problem.turns) <= depth for problem in problems):
        return problems
    kept = [problem for problem in problems if len(problem.turns) <= depth]
    unions: dict[Key, dict[str, list[_Problem]]] = defaultdict(lambda: defaultdict(list))
    for problem in problems:
        if len(problem.turns) > depth:
            key, label = problem.turns[depth]
            unions[key][label].append(problem)
    for members in unions.values():
        kept += _nearest_members(min(members.values(), key=_distance), depth + 1)
    return kept


def _distance(problems: list[_Problem]) -> tuple[int, int]:
    unknown = sum(problem.kind in ("extra_forbidden", "missing") for problem in problems)
    return unknown, len(problems)


def _unknown_key(problem: _Problem, schema: Schema, document: Document, start: Key) -> Complaint:
    name = str(problem.key[-1])
    labels = tuple(label for _, label in problem.turns)
    known = sorted(set(known_names(schema, problem.key[len(start) : -1], labels)))
    near = nearest(name, known)
    expected = ""
    if known and not near:
        expected = "one of " + ", ".join(known) if len(known) <= _MOST_NAMES else _MANY_NAMES
    return Complaint(
        location=document.key_location(problem.key),
        what=f'the key "{name[:60]}" is not known here',
        expected=expected,
        nearest=near or "",
    )


def _entries(problem: _Problem, schema: Schema, start: int) -> int:
    """How many entries the list needs that the problem is about, or that lacks one; 0 for what is no such list."""
    key = problem.key[:-1] if problem.kind == "missing" else problem.key
    return entries_needed(schema, key[start:], tuple(label for _, label in problem.turns))


def _missing_key(problem: _Problem, document: Document, needed: int) -> Complaint:
    name = problem.key[-1]
    if isinstance(name, str):
        return Complaint(location=document.key_location(problem.key[:-1]), what=f'the key "{name}" is missing')
    what = f"{shown(problem.value)} is too short"
    return document.complaint(problem.key[:-1], what, entries(max(needed, name + 1)))


def _wrong_value(problem: _Problem, document: Document, needed: int) -> Complaint:
    location = document.location(problem.key)
    if problem.kind.endswith("_error") and "error" in problem.context:
        return _of_a_validator(location, problem, document)
    if problem.kind in ("literal_error", "enum"):
        words = _words_of(problem.context.get("expected", ""))
        return _unknown_word(location, f"{shown(problem.value)} is not known here", str(problem.value), words)
    if problem.kind == "union_tag_invalid":
        return _unknown_member(problem, document)
    if problem.kind == "union_tag_not_found":
        key = problem.context["discriminator"].strip("'").replace("_", " ")
        return Complaint(location=location, what=f'the key "{key}" is missing')
    if problem.kind not in PYDANTIC_KINDS:
        return _unsaid_kind(location, problem, document)
    what = f"{shown(problem.value)} does not fit here"
    if problem.kind == "too_long" and needed == problem.context.get("max_length"):
        return Complaint(location=location, what=what, expected=entries(needed))
    if problem.kind in LISTS and isinstance(problem.value, str | int | float):
        listed = ", ".join([str(problem.value), *["…"] * (needed - 1 - str(problem.value).count(", "))])
        return Complaint(location=location, what=what, expected=f"a list in brackets: [{listed}]")
    if expected := expected_of(problem.kind, problem.context):
        return Complaint(location=location, what=what, expected=expected)
    return Complaint(location=location, what=f"{what}: {problem.message}")


def _unknown_member(problem: _Problem, document: Document) -> Complaint:
    name = problem.context["discriminator"].strip("'").replace("_", " ")
    tag, words = str(problem.context["tag"]), _words_of(problem.context["expected_tags"])
    return _unknown_word(document.location((*problem.key, name)), f'{name} "{tag[:60]}" is not known', tag, words)


def _unknown_word(location: Location, what: str, word: str, known: Sequence[str]) -> Complaint:
    near = nearest(word, known)
    return Complaint(
        location=location, what=what, expected="" if near else "one of " + ", ".join(known), nearest=near or ""
    )


def _unsaid_kind(location: Location, problem: _Problem, document: Document) -> Complaint:
    """A member of a union whose kind is said by which key it has: none of them, a misspelt one, or two."""
    kinds = str(problem.context.get(KINDS, "")).split()
    written = [name for name in problem.value if isinstance(name, str)] if isinstance(problem.value, dict) else []
    said = [name for name in written if name in kinds]
    if len(said) > 1:
        second = document.key_location((*problem.key, said[1]))
        what = f'"{said[0]}" and "{said[1]}" both say a kind here'
        return Complaint(location=second, what=what, expected="each of them in an entry of its own")
    for name in () if said else written[:1]:
        near = nearest(name, kinds)
        if near:
            at = document.key_location((*problem.key, name))
            return Complaint(location=at, what=f'the key "{name[:60]}" is no kind here', nearest=near)
    return Complaint(location=location, what=problem.message.rstrip("."))


def _of_a_validator(location: Location, problem: _Problem, document: Document) -> Complaint:
    error = problem.context["error"]
    if below := getattr(error, "key", ()):
        location = document.location((*problem.key, *below))
    if isinstance(error, Mistake):
        return Complaint(location=location, what=error.what, expected=error.expected, nearest=error.nearest)
    return Complaint(location=_inside(location, problem.key, error, document), what=_sentence(error))


def _inside(location: Location, key: Key, error: Exception, document: Document) -> Location:
    """Moved along to the spot inside the value that the error speaks of, where it stands on one plain line."""
    position = getattr(error, "position", None)
    if isinstance(position, int) and key in document.words:
        return location.moved(position)
    return location


def _sentence(error: Exception) -> str:
    return str(error).rstrip(".")


def _words_of(expected: str) -> list[str]:
    return [word.strip().strip("'\"") for word in expected.replace(" or ", ", ").split(",") if word.strip()]
