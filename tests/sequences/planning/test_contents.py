"""Contents of entries: what is written is read back the same, and what no entry says is a sentence."""

import json
from collections.abc import Mapping
from dataclasses import MISSING, fields
from enum import Enum
from math import inf, nan
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.sequences.kinds.ask import ToldContent
from benchapp.sequences.language.step_kind import known_kinds
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.chain_contents import BEGINNINGS
from benchapp.sequences.planning.contents import CONTENTS, content_json, read_content
from benchapp.sequences.planning.entries import EntryKind
from tests.sequences.bench import Unit, plan_of

ANSWERS = {(name, kind.content) for name, kind in known_kinds().items()} | {("ask", ToldContent)}
NUMBERS = st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(2**53), 2**53)
SCALARS = {str: st.text(), bool: st.booleans(), int: st.integers(-(2**53), 2**53), float: NUMBERS}
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=6,
)
SAYABLE = JSON.filter(lambda value: "NaN" not in json.dumps(value) and "Infinity" not in json.dumps(value))
"""what JSON can say"""
READING = {
    "step": "measure",
    "judgement": "pass",
    "typed": "1.30 ohm",
    "value": 1.3,
    "bound": "exact",
    "kind": "resistance",
    "rules_version": "1",
}


def values(hint):
    """Any value of that annotation."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        return st.one_of([values(one) for one in inner])
    if hint is Any:
        return SAYABLE
    if origin is tuple and inner[-1] is not Ellipsis:
        return st.tuples(*map(values, inner))
    if origin is tuple:
        return st.lists(values(inner[0]), max_size=3).map(tuple)
    if origin is Mapping:
        return st.dictionaries(st.text(max_size=5), values(inner[1]), max_size=3)
    if hint is type(None):
        return st.none()
    if hint in SCALARS:
        return SCALARS[hint]
    if issubclass(hint, Enum):
        return st.sampled_from(list(hint))
    return objects(hint)


@st.composite
def objects(draw, of, **fixed):
    """Any object of that class; some fields are left at what they are when nothing is said."""
    hints, said = get_type_hints(of), dict(fixed)
    for one in fields(of):
        optional = one.default is not MISSING or one.default_factory is not MISSING
        if one.name in said or (optional and draw(st.booleans())):
            continue
        endless = one.name == "degrees_of_freedom"
        said[one.name] = draw(values(hints[one.name]) | st.just(inf) if endless else values(hints[one.name]))
    return of(**said)


def any_content():
    """A kind of entry, and any content of it."""
    plain = [st.tuples(st.just(kind), objects(of)) for kind, of in CONTENTS.items()]
    answers = [st.tuples(st.just(EntryKind.answer), objects(of, step=step)) for step, of in ANSWERS]
    beginnings = [st.tuples(st.just(EntryKind.beginning), objects(of)) for of in BEGINNINGS.values()]
    return st.one_of([*plain, *beginnings, *answers])


def read_or_sentence(kind, said):
    try:
        return read_content(kind, said)
    except BenchError as problem:
        return problem.sentence


@given(any_content())
def test_what_is_written_is_read_back_the_same(made):
    kind, content = made
    said = json.loads(json.dumps(content_json(content), allow_nan=False))
    assert read_content(kind, said) == content
    assert content_json(read_content(kind, said)) == said


def test_every_kind_of_entry_has_its_content():
    assert {*CONTENTS, EntryKind.answer, EntryKind.beginning} == set(EntryKind)


def test_every_entry_of_a_whole_check_is_read_back_the_same_from_its_json():
    unit = Unit(plan_of())
    unit.finish()
    for entry in unit.entries:
        said = json.loads(json.dumps(content_json(entry.content)))
        assert read_content(entry.kind, said) == entry.content
        assert content_json(read_content(entry.kind, said)) == said


@given(st.sampled_from([*EntryKind, "answers", ""]), st.dictionaries(st.sampled_from([*READING, "part", "x"]), JSON))
def test_whatever_an_entry_says_is_a_content_or_a_sentence(kind, said):
    content = read_or_sentence(kind, said)
    if isinstance(content, str):
        assert content.endswith(".")
    else:
        assert content_json(content) == {key: value for key, value in said.items() if key in content_json(content)}
        assert set(said) <= {one.name for one in fields(content)}


@given(st.sampled_from(sorted({one.name for one in fields(ReadingContent)} - {"step"})), JSON)
def test_a_reading_with_anything_under_one_key_is_a_reading_or_a_sentence(key, value):
    content = read_or_sentence("answer", {**READING, key: value})
    if isinstance(content, str):
        assert f"“{key}”" in content
    else:
        written = content_json(content).get(key)
        assert written == value or (written is None and not value) or getattr(content, key) == value


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("value", "1.3"),
        ("value", True),
        ("value", nan),
        ("value", inf),
        ("value", 2**53 + 2),
        ("lower", [1.0]),
        ("safety", 1),
        ("safety", "no"),
        ("bound", "about"),
        ("bound", ["exact"]),
        ("kind", "resistivity"),
        ("judgement", "good enough"),
        ("supply", "mains"),
        ("supply", None),
        ("repeats", "1.3"),
        ("repeats", [1.3]),
        ("derivation", [["what", "value"]]),
        ("derivation", [["what", "value", 3]]),
        ("derivation", "xyz"),
        ("budget", [["of the meter", 0.1, "round", 1.0, 0.1, 1.0, None]]),
        ("budget", [["of the meter", nan, "normal", 1.0, 0.1, 1.0, None]]),
        ("faults", [{"part": 3}]),
        ("faults", [{"piece": "low"}]),
        ("facts", {"plug": ["moulded"]}),
        ("facts", ["plug"]),
        ("note", 3),
    ],
)
def test_a_wrong_type_in_a_reading_is_a_sentence_that_names_its_key(key, value):
    with pytest.raises(BenchError, match=f"“{key}”"):
        read_content("answer", {**READING, key: value})


@pytest.mark.parametrize(
    ("kind", "said", "words"),
    [
        ("answer", {**READING, "valve": 1.3}, "An answer says “valve”"),
        ("answer", {key: value for key, value in READING.items() if key != "bound"}, "does not say “bound”"),
        ("answer", {"step": "hark", "judgement": "pass"}, "no kind of step “hark”"),
        ("answer", {"step": ["measure"]}, "no kind of step"),
        ("answer", {}, "no kind of step"),
        ("withdrawal", {"number": True}, "“number”: True, where a whole number belongs"),
        ("withdrawal", {"number": 3.0}, "“number”: 3.0, where a whole number belongs"),
        ("withdrawal", {}, "does not say “number”"),
        ("repair", {"fault": None, "part": "low", "done": "x", "opened": "plug"}, "“opened”: 'plug'"),
        ("note", {"words": "x", "probed": {"a": "outlet.1"}}, "does not say “b”"),
        ("beginning", {"name": "Bench 1", "route": "x"}, "A chain's beginning says “route”"),
        ("beginning", {}, "A chain's beginning does not say"),
        ("anchor", {"heads": {"3f2a": [1]}, "reason": "x"}, "under “heads”: {'3f2a': [1]}"),
        ("hearsay", {"words": "x"}, "no entry of the kind “hearsay”"),
    ],
)
def test_what_no_entry_says_is_a_sentence(kind, said, words):
    with pytest.raises(BenchError) as problem:
        read_content(kind, said)
    assert words in problem.value.sentence


def test_whole_numbers_stand_where_numbers_belong_and_stay_as_they_were_written():
    assert json.dumps(content_json(read_content("answer", {**READING, "value": 1}))["value"]) == "1"


def test_what_is_not_said_is_not_written():
    assert content_json(read_content("answer", READING)) == READING
    assert content_json(read_content("meter", {"meter": "tb-m1", "proved": "", "nulled": False})) == {"meter": "tb-m1"}
