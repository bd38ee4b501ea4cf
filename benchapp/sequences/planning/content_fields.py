"""How contents become JSON and are read from it: by the fields of their class, in one rule for all.

A key is the field's name. A field without a default is always written; one with a default is written where it says
something else. A class on `Row` is written as a list of its fields, in which an infinite number is null; any other is
an object. A key or a type that the class does not have is a sentence, and nothing is passed over.
"""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, field, fields, is_dataclass
from enum import Enum
from functools import cache
from math import inf, isfinite
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from benchapp.errors import BenchError
from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.uncertainty.uncertainty import Contribution
from benchapp.words import say

ROWS = frozenset({DerivationStep, Contribution})
"""classes that are written as a list of their fields: an answer holds many"""
LARGEST = 2**53
"""whole numbers beyond it are not the same to every reader of JSON (RFC 8785, from memory)"""
_WORDS = {str: "a text", bool: "true or false", int: "a whole number", float: "a number", NoneType: "null"}

Read = Callable[[Any], Any]
Write = Callable[[Any], Any]
T = TypeVar("T")


class ContentProblem(BenchError):
    """What an entry carries is not what such an entry carries."""

    def __init__(self, sentence: str) -> None:
        self.short = sentence
        super().__init__(
            say(
                "{sentence} No entry of this program says so: `benchapp verify` shows where it stands.",
                sentence=sentence,
            )
        )


class _Unlike(Exception):
    """What a value should have been, in words."""


@dataclass(frozen=True, slots=True)
class _Form:
    """How values of one annotation look in JSON.

    `plain` are the types that stand as they are, `table` what a word stands for; anything else goes through `read`.
    `write` is None where a value is its own JSON.
    """

    words: str
    plain: frozenset[type]
    read: Read
    write: Write | None = None
    table: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _ClassForm:
    """The fields of one class: those read, by key; the keys that must be there; those written, with their default."""

    keys: Mapping[str, tuple[str, frozenset[type], Mapping[str, object], _Form]]
    needed: frozenset[str]
    written: tuple[tuple[str, object, Write | None], ...]


def read_fields(of: type[T], mapping: Mapping[str, Any], what: str) -> T:
    """An object of that class from JSON; `what` names it in the sentence. Raises ContentProblem."""
    form = _FORMS.get(of) or _learn(of)
    keys, values = form.keys, {}
    try:
        for key, value in mapping.items():
            name, plain, table, one = keys[key]  # the class's own text of its name: found by identity when it is made
            kind = type(value)
            if kind in plain and (kind is not float or isfinite(value)):
                values[name] = value
            elif kind is str and value in table:
                values[name] = table[value]
            else:
                values[name] = one.read(value)
    except _Unlike as unlike:
        raise ContentProblem(_wrong(what, key, value, str(unlike))) from None
    except ContentProblem as within:
        raise ContentProblem(f"{what}, under “{key}”: {within.short}") from None
    except KeyError:
        raise ContentProblem(
            say("{what} says “{key}”, a word that this program does not know there.", what=what, key=key)
        ) from None
    if not form.needed <= values.keys():
        raise ContentProblem(f"{what} does not say “{min(form.needed - values.keys())}”.")
    return of(**values)


def _wrong(what: str, key: str, value: object, words: str) -> str:
    said = repr(value)
    return say(
        "{what} says under “{key}”: {value}, where {words} belongs.",
        what=what,
        key=key,
        value=said if len(said) <= 60 else f"{said[:60]} ...",
        words=words,
    )


def fields_json(content: object) -> dict[str, Any]:
    """The object as JSON, keys in the order of the fields."""
    said = {}
    form = _FORMS.get(type(content)) or _learn(type(content))
    for name, default, write in form.written:
        value = getattr(content, name)
        if value != default:
            said[name] = value if write is None or value is None else write(value)
    return said


_FORMS: dict[type, _ClassForm] = {}
"""of every class that was read or written, once it was"""


def _learn(of: type) -> _ClassForm:
    assert is_dataclass(of)
    hints = get_type_hints(of)
    forms = {field.name: _form(hints[field.name]) for field in fields(of)}
    defaults = {
        field.name: field.default if field.default_factory is MISSING else field.default_factory()
        for field in fields(of)
    }
    _FORMS[of] = _ClassForm(
        keys={name: (name, form.plain, form.table, form) for name, form in forms.items()},
        needed=frozenset(name for name, default in defaults.items() if default is MISSING),
        written=tuple((name, defaults[name], form.write) for name, form in forms.items()),
    )
    return _FORMS[of]


@cache
def _form(hint: Any) -> _Form:  # noqa: ANN401 - any annotation
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        return _either([_form(one) for one in arguments])
    if origin is tuple:
        together = len(arguments) != 2 or arguments[1] is not Ellipsis
        return _together([_form(one) for one in arguments]) if together else _list(_form(arguments[0]))
    if origin is not None and issubclass(origin, Mapping):
        return _texts(_form(arguments[1]))
    if hint is Any:
        return _Form(words="anything", plain=frozenset(), read=lambda value: value)
    if hint in _WORDS:
        return _scalar(hint)
    if issubclass(hint, Enum):
        return _enum(hint)
    assert isinstance(hint, type)
    assert is_dataclass(hint)
    return _row(hint) if hint in ROWS else _object(hint)


def _scalar(kind: type) -> _Form:
    plain = frozenset({float, int} if kind is float else {kind})
    return _Form(words=_WORDS[kind], plain=plain - {int}, read=_not_plain(_WORDS[kind], kind))


def _not_plain(words: str, kind: type) -> Read:
    """Whole numbers up to the largest, and texts of a class of their own; nothing else is taken for what it is not."""

    def read(value: object) -> object:
        if kind in (int, float) and type(value) is int and abs(value) <= LARGEST:
            return value  # a float comes here where it is not finite
        if kind is str and isinstance(value, str):
            return str(value)
        raise _Unlike(words)

    return read


def _either(forms: list[_Form]) -> _Form:
    words = " or ".join(form.words for form in forms)

    def read(value: object) -> object:
        for form in forms:
            try:
                return form.read(value)
            except _Unlike:
                continue
        raise _Unlike(words)

    return _Form(
        words=words,
        plain=frozenset().union(*(form.plain for form in forms)),
        read=read,
        write=next((form.write for form in forms if form.write), None),
        table=next((form.table for form in forms if form.table), {}),
    )


def _enum(kind: type[Enum]) -> _Form:
    members = {member.value: member for member in kind}
    words = f"one of {', '.join(str(value) for value in members)}"

    def read(value: object) -> object:
        if not isinstance(value, str) or value not in members:
            raise _Unlike(words)
        return members[value]

    return _Form(words=words, plain=frozenset(), read=read, write=lambda member: member.value, table=members)


def _element(form: _Form, value: Any) -> Any:  # noqa: ANN401 - any JSON
    if type(value) in form.plain:
        if type(value) is float and not isfinite(value):
            raise _Unlike(form.words)
        return value
    return form.read(value)


def _list(form: _Form) -> _Form:
    words = f"a list, each {form.words},"
    write, plain, read_one = form.write, form.plain, form.read

    def read(value: object) -> object:
        if not isinstance(value, list | tuple):
            raise _Unlike(words)
        if plain:
            return tuple([_element(form, one) for one in value])
        return tuple([read_one(one) for one in value])

    return _Form(
        words=words,
        plain=frozenset(),
        read=read,
        write=list if write is None else lambda values: [write(one) for one in values],
    )


def _together(forms: list[_Form]) -> _Form:
    words = f"a list of {' and '.join(form.words for form in forms)}"

    def read(value: object) -> object:
        if not isinstance(value, list | tuple) or len(value) != len(forms):
            raise _Unlike(words)
        return tuple([_element(form, one) for form, one in zip(forms, value, strict=True)])

    return _Form(words=words, plain=frozenset(), read=read, write=list)


def _texts(form: _Form) -> _Form:
    words = f"an object, under each name {form.words},"

    def read(value: object) -> object:
        if not isinstance(value, Mapping) or not all(isinstance(name, str) for name in value):
            raise _Unlike(words)
        return {name: _element(form, one) for name, one in value.items()}

    write = form.write
    return _Form(
        words=words,
        plain=frozenset(),
        read=read,
        write=dict if write is None else lambda said: {name: write(one) for name, one in said.items()},
    )


def _object(kind: type) -> _Form:
    words = f"an object of {', '.join(field.name for field in fields(kind))}"

    def read(value: object) -> object:
        if not isinstance(value, Mapping):
            raise _Unlike(words)
        return read_fields(kind, value, "one of these")

    return _Form(words=words, plain=frozenset(), read=read, write=fields_json)


def _row(kind: type) -> _Form:
    names = [field.name for field in fields(kind)]
    hints = get_type_hints(kind)
    forms = [_form(hints[name]) for name in names]
    words = f"a list of {', '.join(names)}"
    plans: dict[tuple[type, ...], _RowPlan] = {}

    def read(value: Any) -> object:  # noqa: ANN401 - any JSON
        if type(value) is not list and not isinstance(value, tuple):
            raise _Unlike(words)
        types = tuple(map(type, value))
        plan = plans.get(types)
        if plan is None:
            if len(value) != len(names):
                raise _Unlike(words)
            plan = _row_plan(names, forms, types)
        found = dict(zip(names, value, strict=False))  # the plan is for rows of this length
        if plan.needs_more:
            _put_right(found, plan, words)
        plans[types] = plan
        return kind(**found)

    def write(row: object) -> list[Any]:
        values = [getattr(row, name) for name in names]
        return [None if value == inf else value for value in values]

    return _Form(words=words, plain=frozenset(), read=read, write=write)


@dataclass(frozen=True, slots=True)
class _RowPlan:
    """How a row of these types is read: the fields that must be finite, and those that are converted."""

    finite: tuple[str, ...]
    converted: tuple[tuple[str, Read], ...]
    needs_more: bool


def _row_plan(names: list[str], forms: list[_Form], types: tuple[type, ...]) -> _RowPlan:
    converted: list[tuple[str, Read]] = []
    for name, form, kind in zip(names, forms, types, strict=True):
        if kind is NoneType and float in form.plain:
            converted.append((name, lambda _null: inf))
        elif form.table:
            converted.append((name, _lookup(form)))
        elif kind not in form.plain:
            converted.append((name, form.read))
    finite = tuple(name for name, kind in zip(names, types, strict=True) if kind is float)
    return _RowPlan(finite=finite, converted=tuple(converted), needs_more=bool(finite or converted))


def _lookup(form: _Form) -> Read:
    table, read = form.table, form.read
    return lambda word: table[word] if type(word) is str and word in table else read(word)


def _put_right(found: dict[str, Any], plan: _RowPlan, words: str) -> None:
    for name in plan.finite:
        if not isfinite(found[name]):
            raise _Unlike(words)
    for name, read in plan.converted:
        found[name] = read(found[name])
